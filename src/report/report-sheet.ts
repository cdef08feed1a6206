/**
 * RelaxedSheet → SheetReport: the verdict (`verdict.ts`) with its reasons and figures.
 * In: plan report, metric, sheet; milliseconds spent. Out: lengths mm, angles degrees.
 */
import type { MeasuredMetric } from '../gauge/build-metric.ts';
import { misfitOf, pressSheet } from '../relax/flatness/press-sheet.ts';
import type { RelaxedSheet } from '../relax/relaxed-sheet.ts';
import { measurePosture } from './posture.ts';
import { explain } from './reasons.ts';
import type { PlanReport, SheetReport } from './report.ts';
import { measureRimAngle } from './rim-angle.ts';
import { judge } from './verdict.ts';
import { DEFAULT_BANDS, type VerdictBands } from './verdict-bands.ts';

/** The report but for its advice, which takes other plans to be measured (`advice.ts`). */
export type SheetFindings = Omit<SheetReport, 'advice'>;

export function reportSheet(
  plan: PlanReport,
  measured: MeasuredMetric,
  sheet: RelaxedSheet,
  ms: number,
  bands: VerdictBands = DEFAULT_BANDS,
): SheetFindings {
  const { metric } = measured;
  const angle = measureRimAngle(measured);
  const posture = measurePosture(measured, sheet, plan.corners, angle.rimMm);
  const pressed = () => misfitOf(pressSheet(metric).energy - sheet.relaxation.energy, metric);
  const judged = judge({ shape: plan.shape, angle, posture, pressed }, bands);
  const { converged, reason, iterations, residual, energy } = sheet.relaxation;
  return {
    verdict: judged.verdict,
    reasons: [...explain(judged, angle, posture, plan.rounds), ...cableWords(plan)],
    coneAngleDeg: (angle.coneAngleRad * 180) / Math.PI,
    misfit: judged.misfit,
    surplusRimMm: angle.rimMm * angle.surplus,
    sideMm: posture.sideMm,
    riseMm: posture.riseMm,
    relaxation: { converged, reason, iterations, residual, energy, ms },
  };
}

/** What the cables take, where it is a stitch or more: the size told has it in it already. */
function cableWords({ pullIn, corners }: PlanReport): string[] {
  if (!pullIn || pullIn.stitches === 0) return [];
  const many = pullIn.stitches === 1 ? '1 stitch' : `${pullIn.stitches} stitches`;
  return [
    `The cables pull ${corners >= 3 ? 'every side' : 'the piece'} in by ${pullIn.percent.toFixed(0)} %, the width of ${many}: the size has that in it.`,
  ];
}
