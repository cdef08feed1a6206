/**
 * Contact between yarns: energy and gradient over a PairList.
 *
 * Closest points of two segments at distance r < D repel with k·Lᵢ·Lⱼ·φ(r), φ one of contact-law.ts. By the
 * envelope theorem the gradient needs no derivative of the closest point itself.
 */
import { type ContactLaw, contactPotential, contactSlope } from './contact-law.ts';
import { addPair, type PairList } from './pair-list.ts';
import type { RodSystem } from './rod-system.ts';

/** Where two segments p₀p₁ and q₀q₁ come closest: fractions s and t in [0, 1]. */
export interface ClosestPoints {
  s: number;
  t: number;
}

/**
 * Closest points of the segments p + s·u and p + w + t·v (w from the first start to the second).
 * Ericson, Real-Time Collision Detection (2005), section 5.1.9. Parallel segments give one of their
 * closest pairs. `pull` > 0 finds the least of distance² + pull·((s − ½)² + (t − ½)²) instead, whose
 * place moves smoothly as segments turn past parallel.
 */
export function closestPoints(
  ux: number,
  uy: number,
  uz: number,
  vx: number,
  vy: number,
  vz: number,
  wx: number,
  wy: number,
  wz: number,
  out: ClosestPoints,
  pull = 0,
): void {
  const a = ux * ux + uy * uy + uz * uz + pull;
  const e = vx * vx + vy * vy + vz * vz + pull;
  const b = ux * vx + uy * vy + uz * vz;
  const c = -(ux * wx + uy * wy + uz * wz) - 0.5 * pull;
  const f = -(vx * wx + vy * wy + vz * wz) + 0.5 * pull;
  const det = a * e - b * b;
  let s = 0;
  if (det > 1e-12 * a * e) {
    s = (b * f - c * e) / det;
    s = s < 0 ? 0 : s > 1 ? 1 : s;
  }
  let t = e > 0 ? (b * s + f) / e : 0;
  if (t < 0) {
    t = 0;
    s = a > 0 ? -c / a : 0;
    s = s < 0 ? 0 : s > 1 ? 1 : s;
  } else if (t > 1) {
    t = 1;
    s = a > 0 ? (b - c) / a : 0;
    s = s < 0 ? 0 : s > 1 ? 1 : s;
  }
  out.s = s;
  out.t = t;
}

const near: ClosestPoints = { s: 0, t: 0 };

/** `way` ← from segment i to segment j of an unrepeated system, between their closest points. */
export function shortestWay(
  { tail, head }: RodSystem,
  positions: Float64Array,
  i: number,
  j: number,
  way: Float64Array,
): void {
  const a = 3 * tail[i];
  const b = 3 * head[i];
  const c = 3 * tail[j];
  const d = 3 * head[j];
  const ux = positions[b] - positions[a];
  const uy = positions[b + 1] - positions[a + 1];
  const uz = positions[b + 2] - positions[a + 2];
  const vx = positions[d] - positions[c];
  const vy = positions[d + 1] - positions[c + 1];
  const vz = positions[d + 2] - positions[c + 2];
  const wx = positions[c] - positions[a];
  const wy = positions[c + 1] - positions[a + 1];
  const wz = positions[c + 2] - positions[a + 2];
  closestPoints(ux, uy, uz, vx, vy, vz, wx, wy, wz, near);
  way[0] = wx + near.t * vx - near.s * ux;
  way[1] = wy + near.t * vy - near.s * uy;
  way[2] = wz + near.t * vz - near.s * uz;
}

/** Result of one evaluation besides the energy. */
export interface ContactState {
  /** Smallest distance met, at most `diameter`. */
  closest: number;
  /** Pairs nearer than the diameter: their number, indices in the list and distances. */
  touching: number;
  pair: Int32Array;
  distance: Float64Array;
  /** Of each such pair: unit normal from the first to the second [3], closest points' fractions [2]. */
  normal: Float64Array;
  fraction: Float64Array;
  /** [3·segments] midpoints, kept between calls. */
  middle: Float64Array;
}

export function emptyContactState(): ContactState {
  return {
    closest: 0,
    touching: 0,
    pair: new Int32Array(256),
    distance: new Float64Array(256),
    normal: new Float64Array(3 * 256),
    fraction: new Float64Array(2 * 256),
    middle: new Float64Array(0),
  };
}

/** Pairs nearer than `reach`, gathered while a longer list is gone through. */
export interface Gathering {
  readonly list: PairList;
  readonly reach: number;
}

export function contactEnergy(
  system: RodSystem,
  pairs: PairList,
  stiffness: number,
  diameter: number,
  positions: Float64Array,
  period: Float64Array,
  gradient: Float64Array,
  periodGradient: Float64Array,
  tangents: Float64Array,
  state: ContactState,
  law: ContactLaw = 'shell',
  smooth = 0,
  gather: Gathering | null = null,
): number {
  const { tail, rest } = system;
  const { first, second, imageX, imageY, count } = pairs;
  const d2 = diameter * diameter;
  const reach = gather ? gather.reach : diameter;
  const reach2 = reach * reach;
  if (gather) gather.list.count = 0;
  // Most pairs of a long list are too far apart: their midpoints say so. In a short one they do not.
  const middle =
    gather || count > MANY * system.segments ? middles(system, positions, tangents, state) : null;
  let energy = 0;
  let closest = diameter;
  let touching = 0;
  for (let k = 0; k < count; k++) {
    const i = first[k];
    const j = second[k];
    const shiftX = imageX[k] * period[0];
    const shiftY = imageY[k] * period[1];
    const lengthI = tangents[4 * i + 3];
    const lengthJ = tangents[4 * j + 3];
    if (middle) {
      const mx = middle[3 * j] - middle[3 * i] + shiftX;
      const my = middle[3 * j + 1] - middle[3 * i + 1] + shiftY;
      const mz = middle[3 * j + 2] - middle[3 * i + 2];
      const far = reach + 0.5 * (lengthI + lengthJ);
      if (mx * mx + my * my + mz * mz >= far * far) continue;
    }
    const a = 3 * tail[i];
    const b = 3 * tail[j];
    const ux = tangents[4 * i] * lengthI;
    const uy = tangents[4 * i + 1] * lengthI;
    const uz = tangents[4 * i + 2] * lengthI;
    const vx = tangents[4 * j] * lengthJ;
    const vy = tangents[4 * j + 1] * lengthJ;
    const vz = tangents[4 * j + 2] * lengthJ;
    const wx = positions[b] - positions[a] + shiftX;
    const wy = positions[b + 1] - positions[a + 1] + shiftY;
    const wz = positions[b + 2] - positions[a + 2];
    // Never so much that a long segment could be reached unnoticed.
    const pull = smooth > 0 ? smooth * Math.min(rest[i] * rest[j], 2 * d2) : 0;
    closestPoints(ux, uy, uz, vx, vy, vz, wx, wy, wz, near, pull);
    const s = near.s;
    const t = near.t;
    const dx = wx + t * vx - s * ux;
    const dy = wy + t * vy - s * uy;
    const dz = wz + t * vz - s * uz;
    let r2 = dx * dx + dy * dy + dz * dz + 1e-300;
    if (pull > 0) r2 += pull * ((s - 0.5) * (s - 0.5) + (t - 0.5) * (t - 0.5));
    let at = k;
    if (gather) {
      if (r2 >= reach2) continue;
      at = addPair(gather.list, i, j, imageX[k], imageY[k]);
    }
    if (r2 >= d2) continue;
    if (touching === state.pair.length) widen(state);
    state.pair[touching] = at;
    const r = Math.sqrt(r2);
    let apart = r;
    let nx = dx;
    let ny = dy;
    let nz = dz;
    if (pull > 0) {
      // Whether yarn passes yarn is a matter of the true distance.
      closestPoints(ux, uy, uz, vx, vy, vz, wx, wy, wz, near);
      nx = wx + near.t * vx - near.s * ux;
      ny = wy + near.t * vy - near.s * uy;
      nz = wz + near.t * vz - near.s * uz;
      apart = Math.sqrt(nx * nx + ny * ny + nz * nz + 1e-300);
    }
    state.distance[touching] = apart;
    state.normal[3 * touching] = nx / apart;
    state.normal[3 * touching + 1] = ny / apart;
    state.normal[3 * touching + 2] = nz / apart;
    state.fraction[2 * touching] = s;
    state.fraction[2 * touching + 1] = t;
    touching++;
    if (apart < closest) closest = apart;
    const weight = stiffness * rest[i] * rest[j];
    energy += weight * contactPotential(law, r, diameter);
    const g = weight * contactSlope(law, r, diameter);
    const gx = g * dx;
    const gy = g * dy;
    const gz = g * dz;
    const c = 3 * system.head[i];
    const d = 3 * system.head[j];
    gradient[a] -= (1 - s) * gx;
    gradient[a + 1] -= (1 - s) * gy;
    gradient[a + 2] -= (1 - s) * gz;
    gradient[c] -= s * gx;
    gradient[c + 1] -= s * gy;
    gradient[c + 2] -= s * gz;
    gradient[b] += (1 - t) * gx;
    gradient[b + 1] += (1 - t) * gy;
    gradient[b + 2] += (1 - t) * gz;
    gradient[d] += t * gx;
    gradient[d + 1] += t * gy;
    gradient[d + 2] += t * gz;
    // The difference holds image·period, plus the heads' own images where s or t reach past a wrap.
    const px = imageX[k] + t * system.imageX[j] - s * system.imageX[i];
    const py = imageY[k] + t * system.imageY[j] - s * system.imageY[i];
    periodGradient[0] += px * gx;
    periodGradient[1] += py * gy;
  }
  state.closest = closest;
  state.touching = touching;
  return energy;
}

/** Pairs a segment above which a list counts as long. Chosen. */
const MANY = 4;

/** [3·segments] midpoints. */
function middles(
  system: RodSystem,
  positions: Float64Array,
  tangents: Float64Array,
  state: ContactState,
): Float64Array {
  const { tail, segments } = system;
  if (state.middle.length < 3 * segments) state.middle = new Float64Array(3 * segments);
  const { middle } = state;
  for (let s = 0; s < segments; s++) {
    const half = 0.5 * tangents[4 * s + 3];
    const a = 3 * tail[s];
    middle[3 * s] = positions[a] + half * tangents[4 * s];
    middle[3 * s + 1] = positions[a + 1] + half * tangents[4 * s + 1];
    middle[3 * s + 2] = positions[a + 2] + half * tangents[4 * s + 2];
  }
  return middle;
}

function widen(state: ContactState): void {
  const double = (old: Float64Array) => {
    const next = new Float64Array(2 * old.length);
    next.set(old);
    return next;
  };
  const pair = new Int32Array(2 * state.pair.length);
  pair.set(state.pair);
  state.pair = pair;
  state.distance = double(state.distance);
  state.normal = double(state.normal);
  state.fraction = double(state.fraction);
}
