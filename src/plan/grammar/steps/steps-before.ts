/**
 * What stands behind steps and speaks of them: that they are told again, how often the last is worked, which neighbours it takes in.
 * In: the cursor behind them, the steps so far. Out: what is read, or the steps as they are meant; nothing moved otherwise.
 */
import { stitchKind } from '../../stitches/table.ts';
import { readAmount, timesInAll } from './amounts.ts';
import { readToldAgain } from './bracketed-remarks.ts';
import { SEED_TOLD, UNSHAPED } from './pattern-steps.ts';
import { WITH_NEIGHBOURS } from './places.ts';
import type { StepCursor } from './step-cursor.ts';
import { isTarget, type Step } from './steps.ts';

/** "knit all sts without decreases", "moss stitch. Always purl the knit sts and knit the purl sts": what was just told. */
export function readSaysAgain(cursor: StepCursor, items: readonly Step[]): boolean {
  const last = items[items.length - 1];
  const plain = last.kind === 'stitch' ? /^[kp]$/.test(last.name) : last.kind === 'pattern';
  if (plain && 'amount' in last && !('times' in last.amount) && cursor.match(UNSHAPED)) return true;
  if (readToldAgain(cursor, last)) return true;
  const at = cursor.i;
  if (cursor.match(SEED_TOLD) === null) return false;
  const again = items.some(isSeed);
  if (!again) cursor.i = at;
  return again;
}

function isSeed(step: Step): boolean {
  if (step.kind === 'group') return step.steps.some(isSeed);
  return step.kind === 'pattern' && step.rule === 'seed';
}

/** "1 double decrease (slip 1, k2tog, psso), 4 times": how often stands behind the explanation. */
export function readTimesBehind(cursor: StepCursor, items: Step[]): void {
  const last = items[items.length - 1];
  const at = cursor.i;
  const read = last?.kind === 'stitch' && 'times' in last.amount ? readAmount(cursor) : null;
  if (read?.times && last.kind === 'stitch' && 'times' in last.amount)
    items[items.length - 1] = {
      ...last,
      amount: { times: last.amount.times * timesInAll(read.times) },
    };
  else cursor.i = at;
}

/** It goes right to the end of its stretch. */
export function fills(step: Step | undefined): boolean {
  if (step?.kind !== 'stitch' && step?.kind !== 'pattern') return false;
  return (
    isTarget(step.amount) && /^(?:end|rest)$/.test(step.amount.kind) && step.amount.count === 0
  );
}

/** "CDD over the corner st and its two neighbours" */
export function readNeighbours(cursor: StepCursor, last: Step): boolean {
  const three = last.kind === 'stitch' && stitchKind(last.name)?.consumes === 3;
  return three && cursor.match(WITH_NEIGHBOURS) !== null;
}

/** How many stitches the last step works, which stands alone; null where it is another. */
export function worksOf(items: readonly Step[]): number | null {
  const step = onlyOne(items);
  if (step?.kind !== 'stitch' || !('times' in step.amount)) return null;
  const kind = stitchKind(step.name);
  return kind && step.amount.times === 1 ? kind.consumes : null;
}

/** Asked at every word: not all of a long line is looked through. */
function onlyOne(items: readonly Step[]): Step | null {
  let one: Step | null = null;
  for (const step of items) {
    if (step.kind === 'group' && step.steps.length === 0) continue;
    if (one) return null;
    one = step;
  }
  return one;
}

/** "k13, k2tog, 6 times" without brackets; null where the steps are no such list. */
export function allTimes(cursor: StepCursor, items: readonly Step[]): Step | null {
  const last = items[items.length - 1];
  const alone = items.every((s) => s.kind === 'stitch' && 'times' in s.amount);
  if (items.length < 2 || !alone || last.kind !== 'stitch' || !last.afterComma) return null;
  const once: Step = { ...last, amount: { times: 1 } };
  const steps = [...items.slice(0, -1), once];
  const group = cursor.group(steps, items[0].from - cursor.base, last.amount);
  return { ...group, otherSteps: items };
}
