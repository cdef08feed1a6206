/**
 * The same plan with its decreases (or increases) timed anew: what `compare` and the advice use.
 *
 * Input: a Plan and how many rounds lie between shaping rounds on average (1 every round, 4/3 three
 * rounds of every four, 2 every other). Output: plan text with the same cast-on, ground, corners and
 * panels. It works on the stitches, whatever wording they came from: each shaping round keeps its
 * stitches and its order; plain rounds are put in or left out between them in the pattern as set,
 * and crossings keep their interval.
 */
import { edgesOf } from '../../plan/edge-ways.ts';
import type { Plan } from '../../plan/plan.ts';
import { headerOf } from '../../plan/write/header.ts';
import type { PlanOutline } from '../../plan/write/plan-text.ts';
import { outlinePlan } from '../motif/outline-plan.ts';
import { planTextLike } from './own-terms.ts';
import { PlanRebuilder, type ShapingGap } from './rebuild-plan.ts';
import { recoloured, recolouredWords } from './recolour.ts';
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

/** A plan of such rounds as text, worded as drafts are. `like`: the plan that it was made from, where it has no text. */
export function retimedText(plan: Plan, like = plan): string {
  const { castOn, kinds } = plan;
  const rounds = plan.rounds.map(({ works, wrongSide, after, colour }) => ({
    names: Array.from(works, (id) => kinds[id].name),
    wrongSide,
    after,
    colour,
  }));
  return rewritten(plan, castOn, rounds, like);
}

/** A plan told with other rounds, all else as it has it. */
function rewritten(plan: Plan, castOn: number, rounds: PlanOutline['rounds'], like: Plan): string {
  const { worked, ending, colours } = plan;
  const header = headerOf(plan);
  return planTextLike(like, {
    header,
    edges: edgesOf(like),
    castOn,
    worked,
    rounds,
    ending,
    colours,
  });
}

/** One plan at any timing of its shaping, as plans: taken apart once, written down only when one is chosen. */
export class PlanTimer {
  private readonly rebuilder: PlanRebuilder;
  private readonly castOn: number;

  constructor(private readonly plan: Plan) {
    const shaping = shapingOf(plan);
    this.rebuilder = new PlanRebuilder(shaping);
    this.castOn = shaping.start.length;
  }

  /** `ahead`: rounds by which the first shaping round comes sooner. */
  work(gap: ShapingGap, ahead = 0): Plan {
    const { worked, ending, title, needles } = this.plan;
    const rounds = recoloured(this.plan, this.rebuilder.rebuild(gap, ahead).rounds);
    const outline = { castOn: this.castOn, worked, rounds, ending, colours: this.plan.colours };
    return { ...outlinePlan(outline, this.plan), title, needles };
  }
}

/**
 * Re-times the shaping with a gap of its own after each shaping round: how many rounds, not necessarily
 * whole, so many stitches lost or gained ask for.
 */
export function rescheduleShaping(plan: Plan, gap: ShapingGap): Redraft {
  const shaping = shapingOf(plan);
  const rebuilt = new PlanRebuilder(shaping).rebuild(gap);
  const rounds = recoloured(plan, rebuilt.rounds);
  const coloured = recolouredWords(plan, rounds.length);
  return {
    text: rewritten(plan, shaping.start.length, rounds, plan),
    notes: [...rebuilt.notes, ...(coloured ? [coloured] : [])],
  };
}
