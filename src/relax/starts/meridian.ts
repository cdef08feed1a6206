/**
 * The ring profile as a surface: rings of given perimeter at given depths, laid as circles where they
 * can be (surface of revolution, dr/dq = P′/2π clipped to ±1) and as two-fold waves where a ring is
 * too long for the circle that its depth allows. In: RingProfile. Out: radius, height and wave of
 * every ring, ordered from the narrow end outwards.
 */

import type { RingProfile } from '../../gauge/metric.ts';

export interface Meridian {
  /** [rings] distance from the narrow end along the surface, mm, ascending from 0. */
  readonly outMm: Float64Array;
  /** [rings] radius of the circle, mm. */
  readonly radiusMm: Float64Array;
  /** [rings] height, mm; 0 at the narrow end and falling outwards. */
  readonly heightMm: Float64Array;
  /** [rings] elevation of the wave's crests seen from the middle of the ring, rad. */
  readonly waveRad: Float64Array;
  /** [rings] perimeter as knitted, mm. */
  readonly perimeterMm: Float64Array;
  /** [rings] local cone angle, rad: 2π flat, 0 a tube. */
  readonly angleRad: Float64Array;
  /** True when the cast-on is the narrow end. */
  readonly castOnInside: boolean;
}

export function meridianOf(ring: RingProfile): Meridian {
  const { sampleDepthMm: depth, samplePerimeterMm: perimeter, corners } = ring;
  const n = depth.length;
  const castOnInside = n > 1 && perimeter[0] < perimeter[n - 1];
  const at = (k: number) => (castOnInside ? k : n - 1 - k);
  const outMm = new Float64Array(n);
  const perimeterMm = new Float64Array(n);
  for (let k = 0; k < n; k++) {
    outMm[k] = Math.abs(depth[at(k)] - depth[at(0)]);
    perimeterMm[k] = perimeter[at(k)];
  }
  const angleRad = new Float64Array(n);
  for (let k = 0; k < n; k++) {
    const a = Math.max(0, k - 1);
    const b = Math.min(n - 1, k + 1);
    const rate =
      b > a ? (perimeterMm[b] - perimeterMm[a]) / Math.max(outMm[b] - outMm[a], 1e-9) : 0;
    angleRad[k] = corners >= 3 ? 2 * corners * Math.atan(rate / (2 * corners)) : rate;
  }
  const radiusMm = new Float64Array(n);
  const heightMm = new Float64Array(n);
  const waveRad = new Float64Array(n);
  // Perimeter of the disc that has the same cone angles: corners stick out beyond it.
  let round = n > 0 ? perimeterMm[0] * roundness(corners, angleRad[0]) : 0;
  for (let k = 0; k < n; k++) {
    if (k === 0) {
      radiusMm[0] = round / (2 * Math.PI);
      continue;
    }
    const step = outMm[k] - outMm[k - 1];
    round = Math.max(0, round + ((angleRad[k] + angleRad[k - 1]) / 2) * step);
    const wanted = round / (2 * Math.PI);
    const previous = radiusMm[k - 1];
    const radius = Math.min(previous + step, Math.max(previous - step, wanted));
    radiusMm[k] = radius;
    const run = radius - previous;
    heightMm[k] = heightMm[k - 1] - Math.sqrt(Math.max(0, step * step - run * run));
    const surplus = radius > 0 ? wanted / radius - 1 : 0;
    waveRad[k] = surplus > 1e-9 ? crestElevation(surplus) : 0;
  }
  return { outMm, radiusMm, heightMm, waveRad, perimeterMm, angleRad, castOnInside };
}

/** Perimeter of the circle over that of the polygon with the same cone angle around the same apothem. */
function roundness(corners: number, angleRad: number): number {
  if (corners < 3) return 1;
  const half = angleRad / (2 * corners);
  return Math.abs(half) < 1e-6 ? 1 : half / Math.tan(half);
}

/**
 * Elevation α of the curve "latitude α sin 2φ" on the unit sphere whose length is 2π (1 + surplus).
 * For small surplus α = √(4·surplus/3); never more than a right angle.
 */
export function crestElevation(surplus: number): number {
  const wanted = 2 * Math.PI * (1 + surplus);
  let low = 0;
  let high = Math.PI / 2;
  if (waveLength(high) <= wanted) return high;
  for (let k = 0; k < 40; k++) {
    const mid = (low + high) / 2;
    if (waveLength(mid) < wanted) low = mid;
    else high = mid;
  }
  return (low + high) / 2;
}

function waveLength(elevation: number): number {
  const parts = 64;
  let sum = 0;
  for (let k = 0; k < parts; k++) {
    const azimuth = ((k + 0.5) / parts) * 2 * Math.PI;
    const rise = 2 * elevation * Math.cos(2 * azimuth);
    const across = Math.cos(elevation * Math.sin(2 * azimuth));
    sum += Math.sqrt(rise * rise + across * across);
  }
  return (sum * 2 * Math.PI) / parts;
}

/** Linear interpolation in a table over `outMm`; beyond the ends it goes on straight. */
export function interpolate(outMm: Float64Array, table: Float64Array, out: number): number {
  const n = outMm.length;
  if (n === 1) return table[0];
  let low = 0;
  let high = n - 1;
  while (high - low > 1) {
    const mid = (low + high) >> 1;
    if (outMm[mid] <= out) low = mid;
    else high = mid;
  }
  const width = outMm[high] - outMm[low];
  if (!(width > 0)) return table[low];
  const f = (out - outMm[low]) / width;
  return table[low] + f * (table[high] - table[low]);
}
