/**
 * Brackets that hold no stitches: `(120 sts)`, `(RS)`, `(corner stitch)`, `k2tog (knit two together)`.
 * Input: a cursor at the opening bracket and the step before it. Output: true and the cursor behind the
 * bracket, a count in it kept; false where the bracket is to be worked.
 */
import { tokensOf } from '../leftovers.ts';
import { leavesOut, limitsWork } from '../limits.ts';
import { moodOf } from '../mood.ts';
import { onlyTells } from '../narration/only-tells.ts';
import { statesRounds } from '../word-law.ts';
import { readStatedCount } from './stated-counts.ts';
import type { StepCursor } from './step-cursor.ts';
import type { Step } from './steps.ts';
import { readStitch } from './stitch-words.ts';

/** Reads some text by itself, saying nothing: its steps, and how many words could not be read. */
export type ReadAside = (
  text: string,
  base: number,
) => { readonly steps: readonly Step[]; readonly unread: number };

/** Longest explanation in brackets. Chosen. */
const LONGEST_ASIDE = 160;

/** Rounds to work: "(then 2 rounds purl)". */
const ROUNDS =
  /^\s*(?:(?:and|then|now)\s+)+(?:[a-z]+\s+)?\d+\s+(?:[a-z]+\s+)?(?:rounds?|rnds?|rows?)\b/;
/** A count of stitches, whatever else is said. */
const COUNTS = /\d\s*(?:sts?|stitch(?:es)?)\b(?=\s*(?:[,;)=]|$|left|remain|on\b))/;

export function readBracketedRemark(
  cursor: StepCursor,
  last: Step | undefined,
  readAside: ReadAside,
): boolean {
  const { text, i: at } = cursor;
  const end = matchingBracket(text, at);
  if (end < 0) return false;
  const inside = text.slice(at + 1, end);
  const count = inside.trim() === '' ? null : readStatedCount(inside);
  const told = inside.replace(THAT_IS, '');
  const short = inside.length <= LONGEST_ASIDE && !/[([{]/.test(inside);
  const defines =
    definesStitch(inside) || (short && saysLast(told, cursor.base + at, last, readAside));
  const remark =
    inside.trim() === '' ||
    count !== null ||
    defines ||
    /^\s*(?:rs|ws|right side|wrong side|dec(?:rease)?|inc(?:rease)?)\b(?:[\s.]*(?:is|now|side|facing|faces?|you|towards?|row|round|rnd|rounds|rows|again|s|d|made|complete|completed|each|corners?|at|the|first|last|of|only|begins?|starts?)\b)*[\s.]*$/.test(
      inside,
    ) ||
    onlyExplains(inside, text.slice(end + 1, end + 20), cursor.base + at + 1, last, readAside);
  if (!remark) return false;
  cursor.i = end + 1;
  const said = count === null && !defines && /\d/.test(inside) ? tokensOf(inside) : [];
  if (
    said.length > 0 &&
    (COUNTS.test(inside) ||
      ((moodOf(said) === 'asks' || ROUNDS.test(inside)) && !statesRounds(said))) &&
    !onlyTells(said)
  ) {
    cursor.unread++;
    cursor.say(
      'error',
      'words-not-followed',
      at,
      `this was not followed: "${text.slice(at, end + 1)}"`,
      'Say it as for example: (96 sts), or (96 sts, 24 on each needle).',
    );
  }
  if (count) cursor.stated ??= count;
  else if (!defines && /\d/.test(inside)) cursor.tells.push(cursor.span(at));
  return true;
}

/** `s2kp = slip 2 together, knit 1, pass the slipped sts over`: what a known stitch is. */
export function definesStitch(text: string): boolean {
  const start = /^[\s*(]*/.exec(text)?.[0].length ?? 0;
  const known = readStitch(text, start);
  if (known === null || known.amount !== null) return false;
  const sign = /^\s*(?:=|:|means\s|is\s|stands\s+for\s)\s*/.exec(text.slice(known.end));
  if (!sign) return false;
  const told = readStitch(text, known.end + sign[0].length);
  return told === null || told.amount !== null || told.name === known.name;
}

/** ", i.e. slip 1, k2tog, psso": the stitch before it told again. */
export function readToldAgain(cursor: StepCursor, last: Step): boolean {
  const at = cursor.i;
  if (last.kind !== 'stitch' || !cursor.match(THAT_IS_NEXT)) return false;
  const again = readStitch(cursor.text, cursor.i);
  const same = again !== null && again.name === last.name && again.name.length > 1;
  cursor.i = same ? again.end : at;
  return same;
}

/** "CDD: slip 2 together, …" behind a round's stitches: passes the sentence. */
export function readDefinition(cursor: StepCursor): boolean {
  const { text, i } = cursor;
  if (!/[.;!]\s*$/.test(text.slice(Math.max(0, i - 4), i))) return false;
  const stop = text.slice(i).search(/\.(?:\s|$)|\n/);
  const end = stop < 0 ? text.length : i + stop;
  if (!definesStitch(text.slice(i, end))) return false;
  cursor.i = end;
  return true;
}

/** Words that are no stitches, or only say again what stands before them. `behind`: what follows them. */
function onlyExplains(
  inside: string,
  behind: string,
  base: number,
  last: Step | undefined,
  readAside: ReadAside,
): boolean {
  // Only short brackets without inner ones can be remarks; this also keeps nested reading linear.
  if (inside.length > LONGEST_ASIDE || /[([{]/.test(inside)) return false;
  // A bracket that is worked several times is no remark, whatever is in it.
  if (/^\s*(?:x\s*\d|\d+\s*x|\d+\s+times|twice|once|to\s|around|in(?:to)?\s|rep)/.test(behind)) {
    return false;
  }
  // "C6F (next 3 sts on cn in front, k3, k3 from cn)" tells what the crossing before it is.
  if (last?.kind === 'stitch' && last.name.includes('/') && /\b(?:cn|cable needle)\b/.test(inside))
    return true;
  if (leavesOut(inside)) return false;
  const { steps, unread } = readAside(inside, base);
  if (unread > 0)
    return (
      (steps.length === 0 || looksLikeProse(inside)) && !limitsWork(inside) && !OFTEN.test(inside)
    );
  return saysLast(inside, base, last, readAside);
}

/** Some of it is worked more than once. */
const OFTEN = /\b(?:twice|thrice|times|repeat)\b/;

/** "i.e. slip 1, …", "= knit two together" */
const THAT_IS =
  /^\s*(?:(?:[a-z-]+\s){0,2}(?:de|in)crease\s*[:,=]|=|i\.?\s?e\b\.?|(?:that|this)\s+(?:is|means)|meaning|which\s+(?:is|means)|to\s+do\s+(?:this|so|it)|like\s+this|as\s+follows)\s*[:,]?\s*/;

const THAT_IS_NEXT = /(?:i\.?e\.?|that\s+is(?:\s+to\s+say)?|=|meaning)[\s,:]+/y;

/** The words are the step before them told again: "k2tog (knit two together)". */
function saysLast(
  inside: string,
  base: number,
  last: Step | undefined,
  readAside: ReadAside,
): boolean {
  const { steps, unread } = readAside(inside, base);
  const [only] = steps;
  return unread === 0 && steps.length === 1 && last !== undefined && saysAgain(only, last);
}

function saysAgain(only: Step, last: Step): boolean {
  if (only.kind === 'stitch' && last.kind === 'stitch') {
    return only.name === last.name && only.name.length > 1;
  }
  return only.kind === 'marker' && last.kind === 'marker' && only.action === last.action;
}

/** Place of the bracket that closes the one at `at`, any kind of bracket counting; −1 if none. */
function matchingBracket(text: string, at: number): number {
  let depth = 0;
  for (let i = at; i < text.length; i++) {
    const c = text[i];
    if (c === '(' || c === '[' || c === '{') depth++;
    else if (c === ')' || c === ']' || c === '}') {
      depth--;
      if (depth === 0) return i;
    }
  }
  return -1;
}

/** Plain words rather than stitches with a slip in them. */
function looksLikeProse(text: string): boolean {
  return !/\d/.test(text) && text.trim().split(/\s+/).length >= 2;
}
