/**
 * Starting shapes for the relaxation. The start decides which minimum is found more than the solver
 * does, so each sheet gets the few shapes that its ring profile allows; `relaxSheet` tries them all.
 * In: Metric. Out: named positions, [3·vertices] mm, right side towards +z.
 */

import type { Metric } from '../../gauge/metric.ts';
import { interpolate, type Meridian, meridianOf } from './meridian.ts';

export interface Start {
  readonly name: 'flat' | 'cone' | 'saddle' | 'tube' | 'moebius';
  readonly positions: Float64Array;
}

/** Cone angles this near 2π everywhere are taken as flat: buckling needs more. Chosen. */
const FLAT_SHARE = 0.002;
/** Cone angles this near 2π might still lie flat by their stiffness: try both. Chosen. */
const MAYBE_FLAT_SHARE = 0.06;
/** Below this mean cone angle (share of 2π) a closed ring is called a tube. Chosen. */
const TUBE_SHARE = 0.1;
/** Surplus below this (share of 2π, at the ring where it is most) needs no wave. */
const WAVE_SHARE = 1e-3;

export function startShapes(metric: Metric): Start[] {
  const { ring } = metric;
  if (!ring.closed) return openStarts(metric);
  if (ring.halfTurns !== 0) return [{ name: 'moebius', positions: twistedBand(metric) }];
  const meridian = meridianOf(ring);
  const n = meridian.outMm.length;
  const depth = meridian.outMm[n - 1];
  let worst = 0;
  let mean = 0;
  for (let k = 0; k < n; k++) {
    worst = Math.max(worst, Math.abs(meridian.angleRad[k] / (2 * Math.PI) - 1));
    mean += meridian.angleRad[k] / (2 * Math.PI) / n;
  }
  if (n < 2 || !(depth > 0)) return [{ name: 'flat', positions: flatRings(metric, meridian) }];
  const starts: Start[] = [];
  if (worst < MAYBE_FLAT_SHARE) {
    starts.push({ name: 'flat', positions: flatRings(metric, meridian) });
    if (worst < FLAT_SHARE) return starts;
  }
  const wavy = meridian.waveRad.some((a) => a > Math.sqrt((4 * WAVE_SHARE) / 3));
  if (!wavy) {
    const name = Math.abs(mean) < TUBE_SHARE ? 'tube' : 'cone';
    starts.push({ name, positions: revolved(metric, meridian, 0) });
    return starts;
  }
  starts.push({ name: 'saddle', positions: revolved(metric, meridian, 0) });
  // With corners the wave may have its nodes or its crests there: of eight both, so that the one wave is the other, turned.
  if (ring.corners >= 3 && ring.corners % 8 !== 0) {
    starts.push({ name: 'saddle', positions: revolved(metric, meridian, Math.PI / 4) });
  }
  return starts;
}

/** Where a vertex lies within its ring profile. */
interface Place {
  /** Distance from the narrow end along the surface to the middle of the vertex's side, mm. */
  out: number;
  /** Extra distance towards a corner, mm. */
  beyond: number;
  /** Angle round the middle as a fraction of the whole, 0 at the first corner. */
  turn: number;
  /** Side of the polygon, and the place along it: −½ … ½. */
  side: number;
  along: number;
}

function placeVertex(metric: Metric, meridian: Meridian, v: number, place: Place): void {
  const { ring } = metric;
  const deepest = meridian.outMm[meridian.outMm.length - 1];
  const depth = ring.depthMm[v] - ring.sampleDepthMm[0];
  place.out = meridian.castOnInside ? depth : deepest - depth;
  place.turn = ring.turn[v];
  place.beyond = 0;
  place.side = 0;
  place.along = 0;
  const n = ring.corners;
  if (n < 3) return;
  let side = n - 1;
  for (let c = 0; c < n; c++) if (ring.cornerTurn[c] <= ring.turn[v] + 1e-12) side = c;
  if (ring.turn[v] + 1e-12 < ring.cornerTurn[0]) side = n - 1;
  const from = ring.cornerTurn[side];
  const width = (((ring.cornerTurn[(side + 1) % n] - from) % 1) + 1) % 1 || 1;
  const f = ((((ring.turn[v] - from) % 1) + 1) % 1) / width;
  place.side = side;
  place.along = f - 0.5;
  const perimeter = interpolate(meridian.outMm, meridian.perimeterMm, place.out);
  const angle = interpolate(meridian.outMm, meridian.angleRad, place.out);
  const half = angle / (2 * n);
  if (half < 1e-3) return;
  const sideMm = perimeter * width;
  const apothem = sideMm / (2 * Math.tan(half));
  const offset = place.along * sideMm;
  place.beyond = Math.hypot(apothem, offset) - apothem;
  place.turn = from + width * (0.5 + Math.atan2(offset, apothem) / (2 * half));
}

const emptyPlace = (): Place => ({ out: 0, beyond: 0, turn: 0, side: 0, along: 0 });

/** Surface of revolution, with the wave of surplus rings added; `phase` turns the wave, rad. */
function revolved(metric: Metric, meridian: Meridian, phase: number): Float64Array {
  const { vertices, ring } = metric;
  const x = new Float64Array(3 * vertices);
  const place = emptyPlace();
  const corner = ring.corners > 0 ? ring.cornerTurn[0] : 0;
  for (let v = 0; v < vertices; v++) {
    placeVertex(metric, meridian, v, place);
    const out = place.out + place.beyond;
    const radius = Math.max(0, interpolate(meridian.outMm, meridian.radiusMm, out));
    const height = interpolate(meridian.outMm, meridian.heightMm, out);
    const last = meridian.outMm[meridian.outMm.length - 1];
    const wave = interpolate(meridian.outMm, meridian.waveRad, Math.min(out, last));
    const azimuth = 2 * Math.PI * (place.turn - corner);
    const elevation = wave * Math.sin(2 * (azimuth + phase));
    x[3 * v] = radius * Math.cos(elevation) * Math.cos(azimuth);
    x[3 * v + 1] = -radius * Math.cos(elevation) * Math.sin(azimuth) * ring.clockwise;
    x[3 * v + 2] = height + radius * Math.sin(elevation);
  }
  return x;
}

/** The sheet laid out in the plane, ring within ring. */
export function planeShape(metric: Metric): Float64Array {
  if (metric.ring.bentPlane) return metric.ring.bentPlane.slice();
  return flatRings(metric, meridianOf(metric.ring));
}

/** Plane rings: circles, or regular polygons where there are corners. */
function flatRings(metric: Metric, meridian: Meridian): Float64Array {
  const { vertices, ring } = metric;
  const n = ring.corners;
  const x = new Float64Array(3 * vertices);
  const place = emptyPlace();
  for (let v = 0; v < vertices; v++) {
    placeVertex(metric, meridian, v, place);
    const perimeter = Math.max(0, interpolate(meridian.outMm, meridian.perimeterMm, place.out));
    let radius = perimeter / (2 * Math.PI);
    let azimuth = 2 * Math.PI * ring.turn[v];
    if (n >= 3) {
      const apothem = perimeter / (2 * n * Math.tan(Math.PI / n));
      const offset = (place.along * perimeter) / n;
      radius = Math.hypot(apothem, offset);
      azimuth = (2 * Math.PI * (place.side + 0.5)) / n + Math.atan2(offset, apothem);
    }
    x[3 * v] = radius * Math.cos(azimuth);
    x[3 * v + 1] = -radius * Math.sin(azimuth) * ring.clockwise;
  }
  return x;
}

/** A band round a circle that turns over `halfTurns` times on the way. */
function twistedBand(metric: Metric): Float64Array {
  const { vertices, ring } = metric;
  const { sampleDepthMm: depth, samplePerimeterMm: perimeter } = ring;
  const last = depth.length - 1;
  const middle = (depth[0] + depth[last]) / 2;
  const radius = perimeter.reduce((a, b) => a + b, 0) / perimeter.length / (2 * Math.PI);
  const x = new Float64Array(3 * vertices);
  for (let v = 0; v < vertices; v++) {
    const azimuth = 2 * Math.PI * ring.turn[v];
    const twist = (ring.halfTurns * azimuth) / 2;
    const across = ring.depthMm[v] - middle;
    const r = radius - across * Math.cos(twist);
    x[3 * v] = r * Math.cos(azimuth);
    x[3 * v + 1] = -r * Math.sin(azimuth) * ring.clockwise;
    x[3 * v + 2] = across * Math.sin(twist);
  }
  return x;
}

/** Open work: the plane strip and, where rows grow steadily, the plane fan. */
function openStarts(metric: Metric): Start[] {
  const { vertices, ring } = metric;
  const { sampleDepthMm: depth, samplePerimeterMm: width } = ring;
  if (ring.bentPlane) return [{ name: 'flat', positions: ring.bentPlane.slice() }];
  const last = depth.length - 1;
  const strip = new Float64Array(3 * vertices);
  for (let v = 0; v < vertices; v++) {
    strip[3 * v] = (ring.turn[v] - 0.5) * interpolate(depth, width, ring.depthMm[v]);
    strip[3 * v + 1] = ring.depthMm[v];
  }
  const starts: Start[] = [{ name: 'flat', positions: strip }];
  const rise = depth[last] - depth[0];
  const fanRad = rise > 0 ? (width[last] - width[0]) / rise : 0;
  if (Math.abs(fanRad) < 0.05 || Math.abs(fanRad) >= 2 * Math.PI) return starts;
  const fan = new Float64Array(3 * vertices);
  for (let v = 0; v < vertices; v++) {
    const radius = interpolate(depth, width, ring.depthMm[v]) / fanRad;
    const azimuth = (ring.turn[v] - 0.5) * fanRad;
    fan[3 * v] = radius * Math.sin(azimuth);
    fan[3 * v + 1] = radius * Math.cos(azimuth);
  }
  starts.push({ name: 'flat', positions: fan });
  return starts;
}
