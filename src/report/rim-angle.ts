/**
 * How far the rounds turn about the centre, and what that makes of the rim.
 * In: MeasuredMetric. Out: mean cone angle (rad), rim length, and the surplus over a flat piece (mm and share).
 * A piece drawn up at its centre is a cone of angle Θ: its rim is Θ/2π of a flat one. A ring with a hole is
 * judged by its own depth D alone: its rim is D·(Θ − 2π) longer than a flat ring's round the same hole.
 */
import type { MeasuredMetric } from '../gauge/build-metric.ts';
import { ringSize } from '../gauge/layout/rings.ts';

export interface RimAngle {
  /** False for tubes, twisted bands and open pieces: there is no centre to turn about. */
  readonly round: boolean;
  /** Mean over the depth, rad; 0 for tubes and twisted bands, 2π for open pieces. */
  readonly coneAngleRad: number;
  /** The rim's stitches laid side by side, unstrained, mm. */
  readonly rimMm: number;
  /** Rim too long (+) or too short (−) for a flat piece: share of the rim; 0 where not round. */
  readonly surplus: number;
  /** What rounds that lose too slowly lack, and what rounds that lose too fast have over, as shares of
   * the rim: `fast − slow = surplus`. */
  readonly slow: number;
  readonly fast: number;
  /** Of a tube, by how much its longest round is longer than its shortest, share; else 0. */
  readonly girthSpread: number;
  /** Mean distance of each from the centre, share of the piece's depth: 0 inside, 1 at the rim. */
  readonly slowAt: number;
  readonly fastAt: number;
}

/** Smaller mean angles are tubes, rad. As in the ring profile. */
const TUBE_RAD = 0.3;
/** The same of what does not close: its wall leans by up to nine degrees from upright. Chosen. */
const OPEN_TUBE_RAD = 1;

export function measureRimAngle(measured: MeasuredMetric): RimAngle {
  const { layout, turning, metric } = measured;
  const rimMm = rimLengthMm(measured);
  const none = {
    rimMm,
    girthSpread: 0,
    surplus: 0,
    slow: 0,
    fast: 0,
    slowAt: 0,
    fastAt: 0,
    round: false,
  };
  if (!layout.closed) return { ...none, coneAngleRad: 2 * Math.PI };
  const steps = depthSteps(measured);
  let depth = 0;
  let turned = 0;
  for (const { step, angle } of steps) {
    depth += step;
    turned += step * angle;
  }
  const coneAngleRad = depth > 0 ? turned / depth : 0;
  // Stitches neither gained nor lost: a wider fabric makes one end of a tube wider, and no disc of it.
  const even = !drawnUp(measured) && workedEven(measured);
  const steepest = drawnUp(measured) ? TUBE_RAD : OPEN_TUBE_RAD;
  const isTube = even || !Number.isFinite(metric.ring.coneAngleRad) || coneAngleRad < steepest;
  if (metric.ring.halfTurns !== 0) return { ...none, coneAngleRad: 0 };
  if (isTube) return { ...none, girthSpread: girthSpread(measured), coneAngleRad: 0 };
  // Rim of the flat piece per mm of depth and rad of turning, as a share of this rim.
  const flatRim = drawnUp(measured) ? 2 * Math.PI * depth : rimMm;
  const sides = { slow: 0, fast: 0, slowAt: 0, fastAt: 0 };
  let out = 0;
  for (const { step, angle } of steps) {
    const part = (step * (angle - 2 * Math.PI)) / flatRim;
    const at = (out + step / 2) / depth;
    out += step;
    if (part < 0) {
      sides.slow -= part;
      sides.slowAt -= part * at;
    } else {
      sides.fast += part;
      sides.fastAt += part * at;
    }
  }
  if (sides.slow > 0) sides.slowAt /= sides.slow;
  if (sides.fast > 0) sides.fastAt /= sides.fast;
  return {
    round: true,
    coneAngleRad: drawnUp(measured) ? turning.meanConeAngleRad : coneAngleRad,
    rimMm,
    surplus: sides.fast - sides.slow,
    girthSpread: 0,
    ...sides,
  };
}

/** Whether the inmost round is drawn up to a point: the sheet has a vertex there. */
function drawnUp({ metric, layout }: MeasuredMetric): boolean {
  return metric.ring.sampleDepthMm.length > layout.depthMm.length;
}

function workedEven({ layout: { rings } }: MeasuredMetric): boolean {
  const first = ringSize(rings, 0);
  for (let c = 1; c < rings.courses; c++) if (ringSize(rings, c) !== first) return false;
  return true;
}

function girthSpread({ turning: { perimeterMm } }: MeasuredMetric): number {
  return Math.max(...perimeterMm) / Math.min(...perimeterMm) - 1;
}

/** From the centre outwards: mm of depth, and the angle that the rounds there make, rad. */
function depthSteps(measured: MeasuredMetric): { step: number; angle: number }[] {
  const { coneAngleRad, fromCentreMm, outsideIn } = measured.turning;
  const last = fromCentreMm.length - 1;
  const at = (k: number) => (outsideIn ? last - k : k);
  const steps = drawnUp(measured)
    ? [{ step: fromCentreMm[at(0)], angle: coneAngleRad[at(0)] }]
    : [];
  for (let k = 1; k <= last; k++) {
    const step = Math.abs(fromCentreMm[at(k)] - fromCentreMm[at(k - 1)]);
    steps.push({ step, angle: (coneAngleRad[at(k)] + coneAngleRad[at(k - 1)]) / 2 });
  }
  return steps;
}

/** The widest course: cast-on of outside-in work, last round of centre-out work. */
export function rimCourse(measured: MeasuredMetric): number {
  return measured.turning.outsideIn ? 0 : measured.layout.depthMm.length - 1;
}

function rimLengthMm(measured: MeasuredMetric): number {
  const { rings } = measured.layout;
  const c = rimCourse(measured);
  let sum = 0;
  for (let j = 0; j < ringSize(rings, c); j++) sum += measured.size.stitchMm[rings.start[c] + j];
  return sum;
}
