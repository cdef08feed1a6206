/**
 * Sentences of stitches that stand without a label, among words that no instruction holds. In: a passage, its stretch of tokens. Out: the
 * round they tell, or null where words of it are left.
 */
import type { RoundBody, Statement } from './ast.ts';
import { garbledCaption } from './garbled.ts';
import type { Passage } from './passage.ts';
import { sentenceInstructs } from './prose.ts';
import { readRoundsTold } from './rounds-told.ts';
import { definesStitch } from './steps/bracketed-remarks.ts';
import type { Step } from './steps/steps.ts';
import { tellsEachSide } from './word-law.ts';

/** Semicolons of one sentence behind which a round is looked for. Chosen: bounds the time. */
export const MOST_PARTS = 8;

/** More than a fabric's name: stitches, or widths of fabric side by side ("4 sts in garter st, 23 sts in moss st, …"). */
export function tellStitches(steps: readonly Step[]): boolean {
  return steps.length > 1
    ? steps.some((s) => s.kind !== 'pattern' || 'times' in s.amount)
    : steps.some((s) => s.kind !== 'pattern');
}

/** Some of its words were not followed. */
export function isLame(body: RoundBody): boolean {
  return (
    body.kind === 'steps' &&
    (body.unread > 0 || body.failed || body.remarks.some((r) => r.severity === 'error'))
  );
}

/** First token of the next sentence: behind a full stop, or behind a bracket with a capital after it. */
export function sentenceBehind(passage: Passage, from: number, end: number): number {
  const { tokens } = passage;
  for (let i = from; i + 1 < end; i++) {
    const { kind, text } = tokens[i];
    if (kind !== 'mark') continue;
    if ('.!?'.includes(text) || (')]'.includes(text) && tokens[i + 1].capital)) return i + 1;
  }
  return end;
}

/** Most steps that close a piece within the sentence of its last rounds. Chosen: "sl 1, k2tog, psso" has three. */
const MOST_CLOSING = 4;

/** "…until 3 sts remain, then k3tog": a last round of a few stitches behind a stop, with the words that lead to it; `led`: some must, else any stitches will do. */
export function closingStitches(
  passage: Passage,
  from: number,
  end: number,
  led = true,
): Statement | null {
  const { tokens } = passage;
  let first = from;
  while (first < end && /^(?:,|;|:|-|and|then|now|finally|turn|work)$/.test(tokens[first].text))
    first++;
  let stop = passage.sentenceEnd(first, end);
  // Behind its semicolon more would be left.
  if (!led && stop < end) return null;
  while (stop > first && /^(?:,|and|then)$/.test(tokens[stop - 1].text)) stop--;
  if ((led && first === from) || stop <= first) return null;
  const body = passage.body(null, first, stop);
  if (body.kind !== 'steps' || isLame(body) || !body.hasStitches) return null;
  const few = body.steps.length <= MOST_CLOSING;
  if (led && !(few && body.steps.every(closes))) return null;
  if (!tellStitches(body.steps)) return null;
  return { kind: 'round', label: null, body, ...passage.span(first, stop) };
}

/** A few stitches, or decreases all the way round: "k3tog", "k2tog around", "(k2tog) 4 times". */
function closes(step: Step): boolean {
  if (step.kind === 'group') return step.steps.every((s) => s.kind === 'stitch' && closes(s));
  if (step.kind !== 'stitch') return false;
  return 'times' in step.amount || !/^[kp]$/.test(step.name);
}

/** A sentence of stitches behind an instruction, which is a round by itself, and the place behind it. */
export function stitchSentence(
  passage: Passage,
  from: number,
  stop: number,
  end: number,
): { statement: Statement; next: number } | null {
  // "(s2kp: slip 2 together, …)" tells what a stitch is.
  if (
    from < stop &&
    definesStitch(passage.text.slice(passage.tokens[from].from, passage.tokens[stop - 1].to))
  )
    return null;
  if (readRoundsTold(passage.cursor(from, stop))) return null;
  const colon = passage.tokens
    .slice(from, Math.min(stop, from + 8))
    .findIndex((t) => t.text === ':');
  const lead = passage.tokens.slice(from, from + colon + 1);
  const led = colon > 0 && !sentenceInstructs(lead) && !garbledCaption(lead);
  // "Increase on each needle: …" is told of each.
  const at = led && !tellsEachSide(lead) ? from + colon + 1 : from;
  const body = passage.body(null, at, stop);
  if (body.kind !== 'steps' || body.unread > 0 || body.failed || !body.hasStitches) return null;
  if (!tellStitches(body.steps)) return null;
  const statement: Statement = { kind: 'round', label: null, body, ...passage.span(at, stop) };
  return { statement, next: Math.min(end, stop + 1) };
}
