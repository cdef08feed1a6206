/**
 * What a pattern marks: equal sides, or sides shaped alike that are not as long.
 * In: a Plan. Out: number of sides, rounds that have their markers.
 */
import type { Plan } from '../../plan/plan.ts';
import { type MarkedSides, markedSides } from './marked-sides.ts';
import { unlikeSides } from './unlike-sides.ts';

export interface SidesToMark extends MarkedSides {
  /** The stitches of every side in every round, where sides are not as long; null where all are equal. */
  readonly unlike: readonly (readonly (readonly string[])[])[] | null;
}

export function sidesToMark(plan: Plan): SidesToMark {
  const equal = markedSides(plan);
  const open = plan.worked === 'flat' || plan.rounds.some((round) => round.shortRow);
  const unlike = equal.sides < 3 && !open ? unlikeSides(plan) : null;
  return unlike
    ? { sides: unlike[0].length, rounds: plan.rounds.length, unlike }
    : { ...equal, unlike: null };
}
