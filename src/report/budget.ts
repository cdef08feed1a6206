/**
 * How many stitches a round should lose to lie flat, and how many it does: the per-round budget.
 *
 * Flat rules (closed forms): n equal corners 2 n tan(π/n)·h/w a round (a square 8 h/w), spread
 * shaping 2π h/w. Stated for the local stitch width and round height.
 */
import type { MeasuredMetric } from '../gauge/build-metric.ts';
import { ringSize } from '../gauge/layout/rings.ts';
import type { RoundReport } from './report.ts';
import { measureRimAngle } from './rim-angle.ts';

/** A round is on pace when it is within this share of its budget. Chosen: the "flat after blocking"
 * band of 3 % of the full turn, doubled, since single rounds matter less than the whole. */
export const ON_PACE = 0.06;

export interface Budget {
  /** [courses] stitches a course should lose to lie flat. */
  readonly flat: Float64Array;
  /** [courses] stitches it loses, smoothed. Both are positive towards the centre. */
  readonly rate: Float64Array;
  readonly pace: readonly RoundReport['pace'][];
  /** True where the piece is a ring that closes towards a centre, so that a budget means something. */
  readonly shaped: boolean;
}

/** Stitches per round and h/w that n corners (0: spread) need to lie flat. */
export function flatStitchesPerRound(corners: number, roundMm: number, stitchMm: number): number {
  const perRatio = corners >= 3 ? 2 * corners * Math.tan(Math.PI / corners) : 2 * Math.PI;
  return (perRatio * roundMm) / stitchMm;
}

export function measureBudget(measured: MeasuredMetric, corners: number): Budget {
  const { layout, turning, size } = measured;
  const { rings } = layout;
  const courses = rings.courses;
  const flat = new Float64Array(courses);
  const rate = new Float64Array(courses);
  const pace: RoundReport['pace'][] = [];
  const shaped = measureRimAngle(measured).round;
  for (let c = 0; c < courses; c++) {
    const n = ringSize(rings, c);
    // The ground's width, not that of a narrow panel in it: shaping stands in the ground.
    const widths = size.stitchMm.slice(rings.start[c], rings.start[c] + n).sort();
    const stitchMm = widths[n >> 1] ?? size.stitchMm[0];
    flat[c] = flatStitchesPerRound(corners, size.courseMm[c] || size.courseMm[1], stitchMm);
    // The cone angle says how the rate compares with the flat one, whatever the widths do.
    rate[c] = flat[c] * rateShare(turning.coneAngleRad[c], corners);
    const miss = rate[c] / flat[c] - 1;
    pace.push(!shaped || Math.abs(miss) <= ON_PACE ? 'right' : miss < 0 ? 'slow' : 'fast');
  }
  return { flat, rate, pace, shaped };
}

/** Rate over flat rate from the cone angle: the closed form turned round. */
export function rateShare(coneAngleRad: number, corners: number): number {
  if (corners < 3) return coneAngleRad / (2 * Math.PI);
  const half = Math.min(Math.max(coneAngleRad / (2 * corners), -1.4), 1.4);
  return Math.tan(half) / Math.tan(Math.PI / corners);
}
