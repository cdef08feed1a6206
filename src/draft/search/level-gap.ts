/**
 * Shaping timed so that a plan loses width, not just stitches, at the flat rate: a narrow panel that is
 * decreased away near the centre asks for faster decreasing there.
 *
 * In: how wide a course of so many stitches is. Out: the gap behind every shaping round.
 */
import type { ShapingGap } from '../rework/rebuild-plan.ts';

export interface CourseWidths {
  /** Width of a course by its number of stitches, mm, ascending by stitches. */
  readonly stitches: readonly number[];
  readonly widthMm: readonly number[];
  /** Mean round height, mm. */
  readonly roundMm: number;
  /** Corner lines; below 3 the shaping is spread. */
  readonly corners: number;
}

export function levelGap(widths: CourseWidths, outsideIn: boolean): ShapingGap {
  const { corners, roundMm } = widths;
  // A flat n-gon loses 2n·tan(π/n) of its depth, a disc 2π.
  const perDepth = corners >= 3 ? 2 * corners * Math.tan(Math.PI / corners) : 2 * Math.PI;
  return (change, before) => {
    const after = before + (outsideIn ? -change : change);
    const mm = Math.abs(widthOf(widths, before) - widthOf(widths, after));
    return Math.max(1, mm / (perDepth * roundMm));
  };
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
