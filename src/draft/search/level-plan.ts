/**
 * The same plan timed so that it loses width, not just stitches, at the flat rate: a narrow panel that is
 * decreased away near the centre asks for faster decreasing there.
 *
 * In: the plan and how wide a course of so many stitches is. Out: the plan's text, re-timed.
 */
import type { Plan } from '../../plan/plan.ts';
import { type Redraft, rescheduleShaping } from '../rework/redraft.ts';

export interface CourseWidths {
  /** Width of a course by its number of stitches, mm, ascending by stitches. */
  readonly stitches: readonly number[];
  readonly widthMm: readonly number[];
  /** Mean round height, mm. */
  readonly roundMm: number;
  /** Corner lines; below 3 the shaping is spread. */
  readonly corners: number;
}

export function levelPlan(plan: Plan, widths: CourseWidths): Redraft {
  const { corners, roundMm } = widths;
  // A flat n-gon loses 2n·tan(π/n) of its depth, a disc 2π.
  const perDepth = corners >= 3 ? 2 * corners * Math.tan(Math.PI / corners) : 2 * Math.PI;
  const outsideIn = plan.castOn >= (plan.rounds[plan.rounds.length - 1]?.after ?? 0);
  return rescheduleShaping(plan, (change, before) => {
    const after = before + (outsideIn ? -change : change);
    const mm = Math.abs(widthOf(widths, before) - widthOf(widths, after));
    return Math.max(1, mm / (perDepth * roundMm));
  });
}

/** Width of a course, between the known counts in proportion; beyond them at the nearest one's rate. */
function widthOf({ stitches, widthMm }: CourseWidths, count: number): number {
  const last = stitches.length - 1;
  if (count <= stitches[0]) return (widthMm[0] * count) / stitches[0];
  if (count >= stitches[last]) return (widthMm[last] * count) / stitches[last];
  let k = 1;
  while (stitches[k] < count) k++;
  const f = (count - stitches[k - 1]) / (stitches[k] - stitches[k - 1]);
  return widthMm[k - 1] + f * (widthMm[k] - widthMm[k - 1]);
}
