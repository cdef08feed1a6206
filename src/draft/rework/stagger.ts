/**
 * Single decreases (or increases) that stand over one another, set apart: every other shaping round is
 * turned by half the distance between two of them, so that they no longer make corners.
 * In: Plan worked in the round. Out: Plan, or null where nothing stands so: pairs, panels, uneven rounds.
 */
import type { Plan, PlanRound } from '../../plan/plan.ts';

export function staggerSingles(plan: Plan): Plan | null {
  if (plan.worked !== 'round' || plan.seam) return null;
  let shaping = 0;
  let turned = 0;
  const rounds = plan.rounds.map((round): PlanRound => {
    const gap = singlesGap(plan, round);
    const bare = { ...round, steps: undefined };
    if (gap === null) return bare;
    shaping++;
    const by = gap >> 1;
    if (shaping % 2 === 1 || by < 1) return bare;
    turned++;
    const works = new Int16Array(round.works.length);
    works.set(round.works.subarray(by));
    works.set(round.works.subarray(0, by), works.length - by);
    return { ...bare, works };
  });
  return turned > 0 ? { ...plan, rounds } : null;
}

/** Stitches from one single shaping stitch to the next if all is plain between them; else null. */
function singlesGap(plan: Plan, round: PlanRound): number | null {
  const at: number[] = [];
  let plain = -1;
  for (let i = 0; i < round.works.length; i++) {
    const kind = plan.kinds[round.works[i]];
    const change = Math.abs(kind.loops.length - kind.consumes);
    if (change === 1) at.push(i);
    else if (change > 1 || kind.crossing || (plain >= 0 && plain !== round.works[i])) return null;
    else plain = round.works[i];
  }
  if (at.length < 3) return null;
  const gaps = at.map((place, k) => (at[k + 1] ?? at[0] + round.works.length) - place);
  const [least, most] = [Math.min(...gaps), Math.max(...gaps)];
  return most - least <= 1 ? most : null;
}
