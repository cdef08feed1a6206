/**
 * RelaxedSheet → SheetReport: the verdict (`verdict.ts`) with its reasons and figures, and advice.
 * In: plan report, metric, budget, sheet; milliseconds spent. Out: lengths mm, angles degrees.
 */
import type { MeasuredMetric } from '../gauge/build-metric.ts';
import { misfitOf, pressSheet } from '../relax/flatness/press-sheet.ts';
import type { RelaxedSheet } from '../relax/relaxed-sheet.ts';
import { adviseSheet } from './advice.ts';
import type { Budget } from './budget.ts';
import { measurePosture } from './posture.ts';
import { explain } from './reasons.ts';
import type { PlanReport, SheetReport } from './report.ts';
import { measureRimAngle } from './rim-angle.ts';
import { judge } from './verdict.ts';
import { DEFAULT_BANDS, type VerdictBands } from './verdict-bands.ts';

export function reportSheet(
  plan: PlanReport,
  measured: MeasuredMetric,
  budget: Budget,
  sheet: RelaxedSheet,
  ms: number,
  bands: VerdictBands = DEFAULT_BANDS,
): SheetReport {
  const { metric } = measured;
  const angle = measureRimAngle(measured);
  const posture = measurePosture(measured, sheet, plan.corners, angle.rimMm);
  const pressed = () => misfitOf(pressSheet(metric).energy - sheet.relaxation.energy, metric);
  const judged = judge({ shape: plan.shape, angle, posture, pressed }, bands);
  const { converged, reason, iterations, residual, energy } = sheet.relaxation;
  return {
    verdict: judged.verdict,
    reasons: explain(judged, angle, posture, plan.rounds),
    coneAngleDeg: (angle.coneAngleRad * 180) / Math.PI,
    misfit: judged.misfit,
    surplusRimMm: angle.rimMm * angle.surplus,
    sideMm: posture.sideMm,
    riseMm: posture.riseMm,
    relaxation: { converged, reason, iterations, residual, energy, ms },
    advice: adviseSheet(plan, measured, budget, judged.verdict),
  };
}
