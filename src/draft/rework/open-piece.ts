/**
 * Pieces worked flat and left open: triangles, mitres. In: a Plan. Out: how many sides its longest row has, between the
 * lines and edges where it is shaped: a grading's size is the length of one.
 */
import type { Plan } from '../../plan/plan.ts';
import { isShaping, type Shaping, shapingOf } from './shaping.ts';
import { findSides } from './side-structure.ts';

export function isOpen({ worked, seam }: Pick<Plan, 'worked' | 'seam'>): boolean {
  return worked === 'flat' && seam === null;
}

/** Null for pieces that close. RangeError, in a knitter's words, where no side can be told. */
export function openSides(plan: Plan): number | null {
  if (!isOpen(plan)) return null;
  const sides = findSides(shapingOf(plan), false, null)?.sides.length;
  if (!sides) throw new RangeError(NO_SIDES);
  return sides;
}

/** Rows from each shaping row to the next, as many more at the rim as are added (negative: left out). */
export function ownSpacing({ worked }: Shaping, inwards: boolean, added: number): number[] {
  const shaped = worked.rounds.flatMap((round, i) => (isShaping(round) ? [i] : []));
  const own = shaped.slice(1).map((row, i) => row - shaped[i]);
  const atRim = inwards ? own : own.toReversed();
  // Added rows go on by turns as the two nearest to the rim do: every row and a half stays so.
  const more = Array.from(
    { length: added > 0 ? added : 0 },
    (_, i) => atRim[i % 2] ?? atRim[0] ?? 1,
  );
  const gaps = added >= 0 ? [...more.toReversed(), ...atRim] : atRim.slice(-added);
  return inwards ? gaps : gaps.toReversed();
}

const NO_SIDES =
  'This plan cannot be graded: worked flat and left open, its shaping shows no sides to be sized by. Change its cast-on and read its width × length.';
