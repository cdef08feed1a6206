/**
 * How often or how far a step is worked: "5 times", "x 3", "to last 2 sts" behind a stitch, bracket or
 * repeat. Input: a cursor behind the step. Output: the amount, the cursor behind it; null and the cursor
 * unmoved where there is none.
 */
import { readIdleWords } from './idle-words.ts';
import { GAP, type StepCursor } from './step-cursor.ts';
import type { Amount } from './steps.ts';
import { type ReadTimes, readTarget, readTimes } from './targets.ts';

export interface ReadAmount {
  readonly amount: Amount;
  /** How a number of times was worded; null for a target. */
  readonly times: ReadTimes | null;
}

const TO_THE_END =
  /[\s,]*(?:to|until)\s+(?:the\s+|you\s+(?:reach|come\s+to)\s+the\s+)?end(?![a-z])(?:\s+of\s+(?:the\s+)?(?:round|rnd|row))?/y;

/** Times or a target, with any gap before it. */
export function readAmount(cursor: StepCursor): ReadAmount | null {
  const start = cursor.i;
  cursor.match(/[\s,;]+/y);
  // "[…] - 4 times"
  cursor.match(/-\s+(?=\d{1,3}\s*(?:times|x)(?![a-z0-9]))/y);
  const times = closesStar(cursor) ? null : readTimes(cursor.text, cursor.i);
  if (times) {
    cursor.i = times.end;
    // "3 times to end", "3 times around": the target only repeats what the number says.
    cursor.match(TO_THE_END);
    return { amount: { times: times.times }, times };
  }
  const target = readTarget(cursor.text, cursor.i);
  if (target) {
    cursor.i = target.end;
    return { amount: target.target, times: null };
  }
  cursor.i = start;
  return null;
}

/** How often in all, for what has not been worked yet: "3 more times" means once and 3 times more. */
export function timesInAll(times: ReadTimes): number {
  return times.more ? times.times + 1 : times.times;
}

/** The asterisk here closes an open one; only right behind a bracket can it still mean "times". */
function closesStar(cursor: StepCursor): boolean {
  const { text, i } = cursor;
  if (text[i] !== '*' || !cursor.scopes.some((s) => s.length > 0)) return false;
  return !(/[)\]}]/.test(text[i - 1] ?? '') && /^\*\d+(?!\s*times)/.test(text.slice(i, i + 12)));
}

/** Only the end of the round, a turn or a stated count comes behind this place. */
export function nothingFollows(cursor: StepCursor): boolean {
  const { i, colour, stated, promised } = cursor;
  while (cursor.match(GAP) || readIdleWords(cursor));
  const only = cursor.i > i && endsHere(cursor);
  Object.assign(cursor, { i, colour, stated, promised });
  return only || endsHere(cursor);
}

function endsHere(cursor: StepCursor): boolean {
  return /^(?:\s|[.,;]|turn|(?:work|knit|treat)ing\s+(?:each|every|the|all)\s+(?:double|wrapped)\s+(?:sts?|stitch(?:es)?)\s+as\s+(?:1|one)(?:\s+(?:st|stitch))?(?![a-z])|\.\s*\([^()\d]*\)|\([^a-z]*(?:\d+\s*(?:sts?|stitches)[^)]*)?\)|[-=]\s*\d+\s*(?:sts?|stitches)?)*$/.test(
    cursor.text.slice(cursor.i, cursor.i + 200),
  );
}
