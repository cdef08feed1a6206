/**
 * Another timing of a plan's own shaping, with which it lies flat; see draft/search/flatter-plan.ts.
 * In: a plan whose sheet does not lie flat, and its verdict. Out: what is offered, or why nothing is.
 */

import { type FlatterPlan, flatterPlan } from '../draft/search/flatter-plan.ts';
import { hasShortRows, madeBy, type Plan } from '../plan/plan.ts';
import { misfitOf, pressSheet } from '../relax/flatness/press-sheet.ts';
import { flatStitchesPerRound } from '../report/budget.ts';
import { courseWidths } from '../report/levelling.ts';
import { measureRimAngle } from '../report/rim-angle.ts';
import type { Verdict } from '../report/verdict.ts';
import { DEFAULT_BANDS } from '../report/verdict-bands.ts';
import { liesFlat } from '../report/words/verdict-words.ts';
import { canRelax, type Prepared, prepare } from './prepare.ts';
import { MAX_MEASURED, MAX_RELAXED, measurePlan, restingFabric } from './resting-fabric.ts';

/** The plan timed anew so that it lies flat; of one that can be blocked, so that it need not be. */
export function offerFlat(
  { plan, measured, budget, report }: Prepared,
  verdict: Verdict,
): FlatterPlan | null | 'too large to try' {
  if (!budget.shaped || hasShortRows(plan)) return null;
  if (stitchesOf(plan) > MAX_MEASURED) return 'too large to try';
  const widths = courseWidths(measured, report.corners);
  const rateOf = (corners: number) =>
    flatStitchesPerRound(corners, widths.roundMm, report.metric.stitchMm);
  const { corners } = report;
  const numbers = { corners, flatRate: rateOf(corners), spreadRate: rateOf(0), widths };
  const measures = { measure: measurePlan, atRest: provenMisfit };
  const { flat, blocking } = DEFAULT_BANDS;
  return flatterPlan(plan, numbers, measures, liesFlat(verdict) ? flat : blocking);
}

/**
 * How far from flat a plan is at most, share of a turn; null where it is too large. All that it stores pressed
 * flat is an upper bound, and often enough; else it is relaxed.
 */
function provenMisfit(plan: Plan): number | null {
  if (!canRelax(plan)) return null;
  const prepared = prepare(plan);
  if (prepared.graph.loops > MAX_RELAXED) return null;
  const { metric } = prepared.measured;
  const off = Math.abs(measureRimAngle(prepared.measured).surplus);
  const pressed = pressSheet(metric);
  const most = Math.max(off, misfitOf(pressed.energy, metric));
  const { flat, blocking } = DEFAULT_BANDS;
  return most <= (flat + blocking) / 2 ? most : restingFabric(prepared, pressed).flatnessError;
}

function stitchesOf(plan: Plan): number {
  return plan.rounds.reduce((sum, round) => sum + madeBy(plan, round), plan.castOn);
}
