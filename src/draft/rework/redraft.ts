/**
 * The same plan with its decreases (or increases) timed anew: what `compare` and the advice use.
 *
 * Input: a Plan and how many rounds lie between shaping rounds on average (1 every round, 4/3 three
 * rounds of every four, 2 every other). Output: plan text with the same cast-on, ground, corners and
 * panels. It works on the stitches, whatever wording they came from: each shaping round keeps its
 * stitches and its order; plain rounds are put in or left out between them in the pattern as set,
 * and crossings keep their interval.
 */
import type { Plan } from '../../plan/plan.ts';
import { headerOf } from '../motif/plan-header.ts';
import { planText } from '../motif/plan-text.ts';
import { PlanRebuilder, type ShapingGap } from './rebuild-plan.ts';
import { shapingOf } from './shaping.ts';

export interface Redraft {
  readonly text: string;
  /** What could not be kept, in a knitter's words. */
  readonly notes: readonly string[];
}

/** Most rounds between two shaping rounds. Chosen: beyond it the piece is a tube. */
const MAX_ROUNDS_BETWEEN = 60;

/** Re-times the shaping to one shaping round in `every` rounds on average. */
export function redraft(plan: Plan, every: number): Redraft {
  if (!(every >= 1 && every <= MAX_ROUNDS_BETWEEN))
    throw new RangeError(
      `Decreases every ${every} rounds cannot be worked: give 1 (every round) to ${MAX_ROUNDS_BETWEEN}, e.g. 4/3 for three rounds of every four.`,
    );
  return rescheduleShaping(plan, () => every);
}

/**
 * Re-times the shaping with a gap of its own after each shaping round: how many rounds, not necessarily
 * whole, so many stitches lost or gained ask for.
 */
export function rescheduleShaping(plan: Plan, gap: ShapingGap): Redraft {
  const shaping = shapingOf(plan);
  const { rounds, notes } = new PlanRebuilder(shaping).rebuild(gap);
  const { worked, ending } = plan;
  const castOn = shaping.start.length;
  return { text: planText({ header: headerOf(plan), castOn, worked, rounds, ending }), notes };
}
