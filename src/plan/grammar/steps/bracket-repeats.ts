/**
 * How the steps of a bracket are worked: how often, into one stitch, on each side. In: the
 * steps, the cursor behind them. Out: one step.
 */
import { readAmount, timesInAll } from './amounts.ts';
import { INTO_EACH, INTO_ONE, intoOneName } from './multi-increase.ts';
import { TRAIL_EACH_SIDE } from './side-words.ts';
import type { StepCursor } from './step-cursor.ts';
import type { Step } from './steps.ts';
import { wording } from './wording.ts';

const REPEAT_BRACKET = wording(
  '~[\\s,;]* rep|rep.|repeat between|from|the? { ~\\(\\s*\\) | ~\\[\\s*\\] | bracket|brackets|parenthesis|parentheses|sequence | these|this|the #? { @sts | sequence } }?',
);

/** The bracket opened at `at` and closed before the cursor; `often` where nothing else is told of it. */
export function repeatedBracket(
  cursor: StepCursor,
  steps: readonly Step[],
  at: number,
  often: number,
): Step | null {
  // Into both loops of a double yarn over: one stitch in each.
  if (
    cursor.match(/[\s,]*in(?:to)?\s+(?:the\s+|each\s+)?double\s+(?:yo|yarn\s*over)s?(?![a-z])/y)
  ) {
    return cursor.group(steps, at, { times: 1 });
  }
  if (cursor.match(INTO_ONE)) {
    const name = intoOneName(steps);
    if (name === null) {
      cursor.say(
        'error',
        'into-one-stitch',
        at,
        'only k, p, k tbl, p tbl and yo can be worked together into one stitch',
      );
      return null;
    }
    const amount = readAmount(cursor)?.amount ?? { times: 1 };
    return cursor.stitch(name, at, amount);
  }
  const each = intoOneName(steps);
  if (each !== null && cursor.match(INTO_EACH))
    return cursor.stitch(each, at, { kind: 'rest', count: 0 });
  const start = cursor.i;
  cursor.match(REPEAT_BRACKET);
  const halves = (n: number): number =>
    cursor.match(/[\s,]*(?:on|for)\s+(?:each|both)\s+(?:half|halves)(?![a-z])/y) ? 2 * n : n;
  let read = readAmount(cursor);
  if (!read && cursor.i > start && cursor.match(TRAIL_EACH_SIDE)) return cursor.eachSide(steps, at);
  if (!read) {
    cursor.i = start;
    read = readAmount(cursor);
  }
  // "[ssk, k12, k2tog] 4 (56 sts)", "[p1, k1] rep"
  const times = read
    ? null
    : cursor.match(/\s*(\d{1,3})(?=\s*[([]\s*\d+\s*(?:sts?|stitches)?\s*[)\]])/y);
  if (times) return cursor.group(steps, at, { times: Number(times[1]) });
  if (!read && cursor.match(/[\s,]*rep(?:eat)?\.?(?=\s*(?:[.;(]|$))/y))
    return cursor.group(steps, at, { kind: 'rest', count: 0 });
  if (!read && cursor.match(TRAIL_EACH_SIDE)) return cursor.eachSide(steps, at);
  if (!read) return cursor.group(steps, at, { times: often });
  if (read.times?.more) {
    return cursor.group(steps, at, { times: timesInAll(read.times) }, read.times.times);
  }
  const { amount } = read;
  return cursor.group(steps, at, 'times' in amount ? { times: halves(amount.times) } : amount);
}
