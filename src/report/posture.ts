/**
 * How a shape of the sheet stands: heights along z, and the size of its rim.
 * In: MeasuredMetric, [3·vertices] places. Out: mm.
 */
import type { MeasuredMetric } from '../gauge/build-metric.ts';
import { ringSize } from '../gauge/layout/rings.ts';
import { rimCourse } from './rim-angle.ts';

export interface Posture {
  /** Highest less lowest point, the drawn-up centre among them. */
  readonly riseMm: number;
  /** Highest less lowest mean height of a round, the drawn-up centre taken for one: how far the piece cups. */
  readonly cupMm: number;
  /** Most height (peak to peak) that any one round has: how far it waves. */
  readonly waveMm: number;
  /** Hills of the rim: crossings of its mean height upwards. */
  readonly hills: number;
  readonly sideMm: number;
}

export function measurePosture(
  measured: MeasuredMetric,
  positions: Float64Array,
  corners: number,
  rimMm: number,
): Posture {
  const { rings } = measured.layout;
  const rim = rimCourse(measured);
  let [low, high, lowMean, highMean, waveMm] = [Infinity, -Infinity, Infinity, -Infinity, 0];
  for (let c = 0; c < rings.courses; c++) {
    const course = heights(measured, positions, c);
    low = Math.min(low, course.low);
    high = Math.max(high, course.high);
    lowMean = Math.min(lowMean, course.mean);
    highMean = Math.max(highMean, course.mean);
    waveMm = Math.max(waveMm, course.high - course.low);
  }
  const { vertices } = measured.metric;
  if (vertices > rings.slot.length) {
    const centre = positions[3 * (vertices - 1) + 2];
    low = Math.min(low, centre);
    high = Math.max(high, centre);
    lowMean = Math.min(lowMean, centre);
    highMean = Math.max(highMean, centre);
  }
  const perimeterMm = rimMm * rimStrain(measured, positions, rim);
  const sides = corners >= 3 ? corners : Math.PI;
  return {
    riseMm: high - low,
    cupMm: highMean - lowMean,
    waveMm,
    hills: hillsOf(measured, positions, rim),
    sideMm: measured.layout.closed ? perimeterMm / sides : perimeterMm,
  };
}

function heights(
  measured: MeasuredMetric,
  positions: Float64Array,
  course: number,
): { mean: number; low: number; high: number } {
  const { rings } = measured.layout;
  const n = ringSize(rings, course);
  let mean = 0;
  let low = Infinity;
  let high = -Infinity;
  for (let j = 0; j < n; j++) {
    const z = positions[3 * rings.ids[rings.start[course] + j] + 2];
    mean += z / n;
    low = Math.min(low, z);
    high = Math.max(high, z);
  }
  return { mean, low, high };
}

/** Share of the rim's height that a hill must stand over the mean to be counted. Chosen. */
const HILL = 0.15;

function hillsOf(measured: MeasuredMetric, positions: Float64Array, course: number): number {
  const { rings } = measured.layout;
  const n = ringSize(rings, course);
  const { mean, low, high } = heights(measured, positions, course);
  const over = HILL * (high - low);
  let hills = 0;
  let state = 0;
  // Twice round: the first lap only finds where it stands.
  for (let j = 0; j < 2 * n; j++) {
    const z = positions[3 * rings.ids[rings.start[course] + (j % n)] + 2] - mean;
    if (z > over && state !== 1) {
      if (j >= n) hills++;
      state = 1;
    } else if (z < -over) state = -1;
  }
  return hills;
}

/** Length of the rim's course springs, relaxed over rest. */
function rimStrain(measured: MeasuredMetric, positions: Float64Array, course: number): number {
  const { rings } = measured.layout;
  const { springs, restMm } = measured.metric;
  const onRim = new Uint8Array(measured.metric.vertices);
  for (let j = 0; j < ringSize(rings, course); j++) onRim[rings.ids[rings.start[course] + j]] = 1;
  let rest = 0;
  let length = 0;
  for (let s = 0; s < restMm.length; s++) {
    const i = springs[2 * s];
    const j = springs[2 * s + 1];
    if (!onRim[i] || !onRim[j]) continue;
    rest += restMm[s];
    length += Math.hypot(
      positions[3 * i] - positions[3 * j],
      positions[3 * i + 1] - positions[3 * j + 1],
      positions[3 * i + 2] - positions[3 * j + 2],
    );
  }
  return rest > 0 ? length / rest : 1;
}
