/**
 * The columns of ribbing. In: a step that asks for ribbing, the needle, where on it, and the ribbing worked last. Out: how
 * each column looks from the right side (`needle.ts`), or that it cannot be told.
 */
import type { Rib } from '../grammar/steps/patterns.ts';
import { isTarget, type PatternStep } from '../grammar/steps/steps.ts';
import type { PlanRound } from '../plan.ts';
import type { StitchRegistry } from '../stitches/stitch-registry.ts';
import { KNIT, type Needle, PURL, TWISTED_BIT } from './needle.ts';
import { type RoundSetting, sayMisfit } from './round-context.ts';
import type { RoundProblems } from './round-problems.ts';

/** [columns] from the right side, in working order of a round on the right side. */
export type Columns = Uint8Array;

/** Share of the stitches that one face may take without a break in ribbing. Chosen: a wide rib with an edge is below it. */
const WIDEST = 0.5;

export function ribbed(
  step: PatternStep,
  from: number,
  end: number,
  needle: Needle,
  { wrongSide, inRound, lastRib }: RoundSetting,
): Columns | 'set' | 'misfit' {
  const there = Uint8Array.from(needle.faces.subarray(from, end), (h) => h & 3);
  const whole = isTarget(step.amount) && inRound && end - from === needle.count;
  if (step.rib) {
    const [k, p] = step.rib;
    const over = (end - from) % (k + p);
    // Worked flat, both edges may look alike.
    if (isTarget(step.amount) && over > 0 && (whole || over !== k)) return 'misfit';
    const [first, second] = wrongSide ? [PURL, KNIT] : [KNIT, PURL];
    const knits = step.rule === 'twisted rib' ? KNIT | TWISTED_BIT : KNIT;
    const rib = isRib(there, k, p)
      ? there
      : there.map((_, i) => (i % (k + p) < k ? first : second));
    return rib.map((f) => (f === KNIT ? knits : f));
  }
  if (longestRun(there) <= WIDEST * there.length) return 'set';
  const last = lastRib?.() ?? null;
  if (!last) return 'misfit';
  const turned = wrongSide && !inRound;
  const column = (i: number): number => (turned ? needle.count - 1 - i : i);
  if (last.length === needle.count) return there.map((_, i) => last[column(from + i)]);
  const wide = period(last);
  if (whole && needle.count % wide > 0) return 'misfit';
  return there.map((_, i) => last[column(from + i) % wide]);
}

/** Says that ribbing does not go over `room` stitches, or that nothing has told which it is. */
export function sayNoRibbing(step: PatternStep, room: number, problems: RoundProblems): void {
  if (step.rib) sayMisfit(step, step.rib[0] + step.rib[1], room, problems);
  else
    problems.error(
      step,
      'ribbing-not-told',
      'it is not told which ribbing this is over these stitches',
      'Say it with its stitches, for example: k2, p2 rib.',
    );
}

/** The ribbing worked last; null where there was none. */
export function lastRibbing(rounds: readonly PlanRound[], list: StitchRegistry): Columns | null {
  const faces = new Map([
    [list.idOf('k'), KNIT],
    [list.idOf('p'), PURL],
    [list.idOf('ktbl'), KNIT | TWISTED_BIT],
    [list.idOf('ptbl'), PURL | TWISTED_BIT],
  ]);
  for (let i = rounds.length - 1; i >= 0; i--) {
    const { works, wrongSide } = rounds[i];
    const columns = Uint8Array.from(works, (id) => faces.get(id) ?? 0);
    if (columns.includes(0) || longestRun(columns) > WIDEST * columns.length) continue;
    // On the wrong side a knit stitch makes a purl on the right.
    return wrongSide ? columns.map((f) => f ^ (KNIT | PURL)).reverse() : columns;
  }
  return null;
}

/** One repeat of a ribbing that is told. */
export function columnsOf(rib: Rib | null): Columns | null {
  return rib && Uint8Array.from({ length: rib[0] + rib[1] }, (_, i) => (i < rib[0] ? KNIT : PURL));
}

/** Runs of so many knit and purl stitches by turns, whichever side they began on. */
function isRib(faces: Uint8Array, k: number, p: number): boolean {
  const wide = k + p;
  if (faces.length < wide || faces.includes(0)) return false;
  const knits = faces.subarray(0, wide).filter((f) => f === KNIT).length;
  if (knits !== k && knits !== p) return false;
  if (longestRun(faces) > Math.max(k, p)) return false;
  return faces.every((f, i) => i < wide || f === faces[i - wide]);
}

function longestRun(faces: Uint8Array): number {
  let most = 0;
  for (let i = 0, run = 0; i < faces.length; i++) {
    run = i > 0 && (faces[i] & 3) === (faces[i - 1] & 3) ? run + 1 : 1;
    most = Math.max(most, run);
  }
  return most;
}

/** Columns after which the ribbing begins anew. */
function period(columns: Columns): number {
  for (let wide = 2; wide <= columns.length / 2; wide++) {
    if (columns.every((f, i) => i < wide || f === columns[i - wide])) return wide;
  }
  return columns.length;
}
