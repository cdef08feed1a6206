/**
 * A round whose text may still go on in the next line. In: its tokens so far. Out: whether it breaks off in the
 * middle of something, or says how it ends.
 */
import type { RoundLabel } from './ast.ts';
import { onlyTells } from './narration/only-tells.ts';
import type { Passage } from './passage.ts';

export interface OpenRound {
  label: RoundLabel | null;
  /** First token of the statement, first of its body, and the one behind the last. */
  at: number;
  body: number;
  end: number;
  item?: number;
  /** Brackets open and asterisks met up to token `seen`. */
  depth: number;
  stars: number;
  seen: number;
}

/** The round breaks off in the middle of something. */
function isUnfinished(passage: Passage, open: OpenRound): boolean {
  if (open.body >= open.end) return true;
  for (; open.seen < open.end; open.seen++) {
    const { text } = passage.tokens[open.seen];
    if (text === '(' || text === '[' || text === '{') open.depth++;
    else if (text === ')' || text === ']' || text === '}') open.depth--;
    else if (text === '*' && passage.tokens[open.seen - 1]?.text !== '*') open.stars++;
  }
  if (open.depth > 0) return true;
  const last = passage.tokens[open.end - 1];
  // "Next round: k" is whole.
  if (open.end - open.body === 1 && /^[kp]$/.test(last.text)) return false;
  if (/^(?:[,&]|and|then|to|from|next|last|rep|repeat|k|p|work)$/.test(last.text)) return true;
  // "*k2, p2" waits for its "rep from *".
  return open.stars % 2 === 1;
}

/** The round says how it ends: "to end", "around", "(88 sts)". */
function isComplete(passage: Passage, open: OpenRound): boolean {
  if (open.end - open.body > 150) return false;
  const body = passage.body(open.label, open.body, open.end);
  if (body.kind !== 'steps') return true;
  if (body.stated) return true;
  const end = body.steps[body.steps.length - 1];
  if (!end || !('amount' in end) || 'times' in end.amount) return false;
  return end.amount.kind === 'rest' || (end.amount.kind === 'end' && end.amount.count === 0);
}

/** A line that tells of one needle or of the others. */
const NEEDLE =
  /^\s*(?:(?:needles?|ndl|n|sides?)\s*\d|(?:the )?(?:(?:1st|2nd|3rd|4th|first|second|third|fourth)[^.:]{0,30}|other[ \d]+|remaining[ \d]+)\s*(?:needles?|sides?)\b)/;

/** Of one needle or of the others. */
function tellsNeedle(line: string): boolean {
  return NEEDLE.test(line);
}

/** Stitches enough that a line must be meant as an instruction. */
export function looksLikeStitches(text: string): boolean {
  const found = text.match(
    /(?<![a-z0-9])(?:[kp]\d{1,4}|k2tog|p2tog|k3tog|ssk|ssp|skp|sk2p|s2kp|cdd|yo|yfwd|kfb|pfb|m1[lrp]?|sl\s?\d|psso|\d\/\d\s*[lr]p?c|rep from)(?![a-z0-9])/g,
  );
  return (found?.length ?? 0) >= 2;
}

/** The words from token `from` on go on with the round: it breaks off, or stitches follow that are part of it. */
export function goesOnWith(
  passage: Passage,
  open: OpenRound,
  from: number,
  end: number,
  indented: boolean,
): boolean {
  const at = passage.span(from, end);
  if (onlyTells(passage.tokens.slice(from, end))) return false;
  const needle = tellsNeedle(passage.text.slice(at.from, at.to));
  const byNeedle =
    open.body >= open.end ||
    /needle|ndl|side|\bn ?\d/.test(passage.cursor(open.body, open.end).slice(open.body, open.end));
  if ((needle && byNeedle) || isUnfinished(passage, open)) return true;
  const small = !passage.tokens[from].capital;
  const body = passage.body(null, from, end);
  const clean = body.kind === 'steps' && body.unread === 0 && body.steps.length > 0;
  return (
    clean &&
    (indented || small) &&
    (open.label !== null || indented) &&
    (indented || !isComplete(passage, open))
  );
}
