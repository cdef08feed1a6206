/**
 * How fast each part of a motif is decreased: a narrow panel that is eaten near the centre asks for
 * faster decreasing there, a cable that begins to pull in at the rim for slower.
 *
 * Input: the turning of a measured draft, course by course. Output: the `RateProfile` of the next draft, by the
 * stitches that a segment has, as a share of the flat rate.
 */

import { rateShare } from '../../report/budget.ts';
import type { RateProfile } from '../motif/decrease-schedule.ts';
import type { MeasuredFabric } from './measured-columns.ts';

/** Least and most that any part is paced: beyond it the shaping cannot make up for its panels. Chosen. */
const SLOWEST = 0.1;
const FASTEST = 2.5;
/** Most that one measurement changes the pace. Chosen. */
const MAX_CHANGE = 0.5;

/**
 * What the turning is off is taken from the pace: turning is the decreases' share, which goes with the
 * pace one to one, plus what the panels add. `counts[c]` is a segment's stitches on course c; `gain` how
 * much of the error is answered.
 */
export function correctRate(
  rateProfile: RateProfile,
  counts: readonly number[],
  fabric: MeasuredFabric,
  corners: number,
  gain: number,
): RateProfile {
  const most = Math.max(...counts);
  const sum = new Float64Array(most + 1);
  const seen = new Float64Array(most + 1);
  const courses = Math.min(counts.length, fabric.turningRad.length);
  for (let c = 0; c < courses; c++) {
    sum[counts[c]] += 1 - rateShare(fabric.turningRad[c], corners);
    seen[counts[c]]++;
  }
  let lower = -1;
  return Float64Array.from({ length: most + 1 }, (_, n) => {
    // Counts that no course has go with the next one below.
    if (seen[n] > 0) lower = n;
    const off = lower < 0 ? 0 : sum[lower] / seen[lower];
    return changed(rateProfile[n] ?? 1, gain * off);
  });
}

/** The same pace, faster or slower throughout by what the piece is off as a whole. */
export function scaleRate(
  rateProfile: RateProfile,
  most: number,
  fabric: MeasuredFabric,
  corners: number,
): RateProfile {
  const off = 1 - rateShare(fabric.coneAngleRad, corners);
  return Float64Array.from({ length: most + 1 }, (_, n) =>
    changed(rateProfile[n] ?? 1, Number.isFinite(off) ? off : 0),
  );
}

/** The same pace with a wave on it: half a period per crest from the centre to the rim. */
export function perturbRate(
  rateProfile: RateProfile,
  most: number,
  crests: number,
  height: number,
): RateProfile {
  return Float64Array.from({ length: most + 1 }, (_, n) =>
    changed(rateProfile[n] ?? 1, height * Math.cos((Math.PI * crests * n) / most)),
  );
}

function changed(rateProfile: number, change: number): number {
  const kept = Math.min(MAX_CHANGE, Math.max(-MAX_CHANGE, change));
  return Math.min(FASTEST, Math.max(SLOWEST, rateProfile + kept));
}
