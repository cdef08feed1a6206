/**
 * Smooth widths of a panel and how far its shaping lines move in, from whole-stitch counts and the
 * stitches' own sizes. [courses] arrays; counts in stitches, lengths in mm.
 */
import {
  coarseness,
  smoothAlike,
  smoothSteps,
  straighten,
  straightenWithin,
} from '../shaping/smooth-steps.ts';
import { findZones } from './fabric-zones.ts';

/**
 * Replaces `widthMm` by the width that the fabric takes: the count's straight line times the mean
 * stitch, eased within half a step of it where the stitches' size changes. `perStitchMm` receives the width that goes with each
 * stitch lost: the plain stitch width, but less where a narrow panel is being decreased away.
 * `depthMm` [courses] of the courses; null takes the piece for one fabric. True where it is made of several.
 */
export function smoothWidth(
  count: Float64Array,
  widthMm: Float64Array,
  perStitchMm: Float64Array,
  depthMm: Float64Array | null,
): boolean {
  const courses = count.length;
  const zones = depthMm && findZones(count, widthMm);
  if (zones) {
    // Shaping of two fabrics is even where the width falls evenly with the depth, whatever their stitches.
    const shaped = smoothSteps(zones.shapedMm, depthMm);
    const jump = straighten(zones.jumpMm, LOCAL);
    for (let c = 0; c < courses; c++) {
      widthMm[c] = Math.max(shaped[c] + jump[c], 0.05 * zones.sizeMm[c]);
      perStitchMm[c] = zones.sizeMm[c];
    }
    return true;
  }
  const stitchMm = smoothAlike(
    widthMm.map((mm, c) => mm / Math.max(count[c], 1e-9)),
    count,
  );
  const smoothCount = smoothSteps(count);
  const steps = smoothCount.map((n, c) => n * stitchMm[c]);
  const meanMm = stitchMm.reduce((a, b) => a + b, 0) / courses;
  // Sizes change in one place, so the easing stays there: it must not tilt the rest of the panel.
  const smooth = straightenWithin(steps, coarseness(count) * meanMm, LOCAL);
  for (let c = 0; c < courses; c++) {
    // A panel may close to a point but not beyond.
    widthMm[c] = Math.max(smooth[c], 0.05 * stitchMm[c]);
    const low = Math.max(0, c - 1);
    const high = Math.min(courses - 1, c + 1);
    const lost = smoothCount[low] - smoothCount[high];
    const narrowed = smooth[low] - smooth[high];
    const ratio = Math.abs(lost) > MIN_LOSS ? narrowed / lost : stitchMm[c];
    perStitchMm[c] = Math.min(Math.max(ratio, 0), MAX_STITCHES * stitchMm[c]);
  }
  return false;
}

/** Stiffness of that easing, courses⁴: changes are rounded over about ± 4 courses. Chosen. */
const LOCAL = 30;
/** Stitches lost over two courses below which the width per lost stitch means nothing. Chosen. */
const MIN_LOSS = 0.05;
/** One lost stitch never narrows a panel by more than this many widths. Chosen. */
const MAX_STITCHES = 2;

/**
 * How far a line has moved into either neighbour since the cast-on. `total` [courses] stitches lost at
 * the line up to each; half of each goes to either side, at the width that a lost stitch takes there.
 * `depthMm` [courses] where the panels are of several fabrics, else null.
 */
export function lineOverhang(
  total: Float64Array,
  neighbours: readonly [number, number],
  perStitchMm: Float64Array,
  depthMm: Float64Array | null,
): Float64Array {
  const courses = total.length;
  const at = (c: number): number =>
    (perStitchMm[neighbours[0] * courses + c] + perStitchMm[neighbours[1] * courses + c]) / 2;
  const overhang = new Float64Array(courses);
  if (depthMm) {
    for (let c = 1; c < courses; c++) {
      overhang[c] = overhang[c - 1] + ((total[c] - total[c - 1]) * at(c)) / 2;
    }
    const smoothMm = smoothSteps(overhang, depthMm);
    return smoothMm.map((mm) => mm - smoothMm[0]);
  }
  const smooth = smoothSteps(total);
  for (let c = 1; c < courses; c++) {
    const mm = (at(c - 1) + at(c)) / 2;
    overhang[c] = overhang[c - 1] + ((smooth[c] - smooth[c - 1]) * mm) / 2;
  }
  return overhang;
}
