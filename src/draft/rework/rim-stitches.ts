/**
 * Stitches of a plan's rim and the gauge they are counted at.
 * In: a plan and what its fabric was read as, mm. Out: counts without the seam's, gauges of the plan at another one.
 */
import type { GaugeStatement, Plan } from '../../plan/plan.ts';
import type { GradeSpec } from './grade-spec.ts';

/** Stitches of the whole rim, the seam's left out. */
export function rimStitches(plan: Plan): number {
  return Math.max(plan.castOn, ...plan.rounds.map((round) => round.after)) - seamStitches(plan);
}

/** The gauge that a plan is graded from: as it states it for its ground, else as its fabric was read. */
export function groundGauge(
  plan: Plan,
  read: { readonly stitchMm: number; readonly roundMm: number },
): { stitchMm: number; roundMm: number } {
  const [stated] = plan.gauges;
  return stated?.roundMm
    ? { stitchMm: stated.stitchMm, roundMm: stated.roundMm }
    : { stitchMm: read.stitchMm, roundMm: read.roundMm };
}

/** Stitches by which a side is narrower than its count at the rim, from the relaxed piece. */
export function sideDeficitOf(
  plan: Plan,
  { corners, sideMm }: { readonly corners: number; readonly sideMm: number },
  stitchMm: number,
): number {
  return corners >= 3 ? rimStitches(plan) / corners - sideMm / stitchMm : 0;
}

/** Stitches of a row that are the seam's. */
export function seamStitches(plan: Plan): number {
  return plan.seam ? plan.seam.begin + plan.seam.end : 0;
}

/** The plan's gauges at another one of its ground: other fabrics of the yarn change in proportion. */
export function gaugesAt(plan: Plan, { stitchMm, roundMm }: GradeSpec): readonly GaugeStatement[] {
  const [ground, ...others] = plan.gauges;
  if (!ground) return [{ fabric: null, stitchMm, roundMm, at: { line: 1, column: 1 } }];
  const wide = stitchMm / ground.stitchMm;
  const tall = ground.roundMm === null ? wide : roundMm / ground.roundMm;
  return [
    { ...ground, stitchMm, roundMm },
    ...others.map((other) => ({
      ...other,
      stitchMm: other.stitchMm * wide,
      roundMm: other.roundMm === null ? null : other.roundMm * tall,
    })),
  ];
}
