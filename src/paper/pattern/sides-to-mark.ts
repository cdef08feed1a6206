/**
 * What a pattern marks: equal sides, or sides shaped alike that are not as long; and the markers that it takes.
 * In: a Plan. Out: number of sides, rounds that have their markers, markers in use at once.
 */
import type { Plan } from '../../plan/plan.ts';
import { type MarkedSides, markedSides } from './marked-sides.ts';
import { panelBounds } from './panel-bounds.ts';
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

/** Markers in use at once: between the sides, and at the edges of panels. */
export function markersUsed(plan: Plan): { readonly sides: number; readonly panels: number } {
  const { sides, unlike } = sidesToMark(plan);
  if (sides < 2) return { sides: 0, panels: 0 };
  if (plan.worked === 'flat') return { sides: sides - 1, panels: 0 };
  const bounds = unlike ? null : panelBounds(plan, sides);
  return { sides, panels: bounds?.some((place) => place?.markers === 'place') ? 2 * sides : 0 };
}
