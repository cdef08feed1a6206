/**
 * Contact between yarns: energy and gradient over a PairList.
 *
 * Closest points of two segments at distance r < D repel with k·Lᵢ·Lⱼ·φ(r), φ one of contact-law.ts. By the
 * envelope theorem the gradient needs no derivative of the closest point itself.
 */
import { type ContactLaw, contactPotential, contactSlope } from './contact-law.ts';
import type { PairList } from './pair-list.ts';
import type { RodPlace } from './rod-elasticity.ts';
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

/** Fractions from the first, so that the engine keeps them as such. */
const near: ClosestPoints = { s: 0.5, t: 0.5 };

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

/** How yarn pushes back, as in a RodMaterial and the options of its relaxation (relax-rods.ts). */
interface Contact {
  readonly contact: number;
  readonly diameter: number;
  readonly law?: ContactLaw;
  readonly smooth?: number;
}

/** Result of one evaluation besides the energy. */
export interface ContactState {
  /** No pair is nearer than this, at most `diameter`. */
  closest: number;
  /** Pairs nearer than the diameter: their number, indices in the list and least possible distances. */
  touching: number;
  pair: Int32Array;
  distance: Float64Array;
  /** Of each such pair: unit normal from the first to the second [3], closest points' fractions [2]. */
  normal: Float64Array;
  fraction: Float64Array;
}

export function emptyContactState(): ContactState {
  return {
    closest: 0,
    touching: 0,
    pair: new Int32Array(256),
    distance: new Float64Array(256),
    normal: new Float64Array(3 * 256),
    fraction: new Float64Array(2 * 256),
  };
}

/**
 * Adds the contact of all pairs nearer than the diameter to the gradients and returns its energy. The place has the
 * tangents that elasticEnergy leaves. `state` hears which pairs touch, and how near they are at least.
 */
export function contactEnergy(
  system: RodSystem,
  pairs: PairList,
  { contact: stiffness, diameter, law = 'shell', smooth = 0 }: Contact,
  { positions, period, gradient, periodGradient, tangents }: RodPlace,
  state: ContactState,
): number {
  const { tail, head, rest } = system;
  const { first, second, imageX, imageY, count } = pairs;
  const periodX = period[0];
  const periodY = period[1];
  const d2 = diameter * diameter;
  // Never so much that a long segment could be reached unnoticed.
  const longest = 2 * d2;
  let energy = 0;
  let closest = diameter;
  let touching = 0;
  for (let k = 0; k < count; k++) {
    const i = first[k];
    const j = second[k];
    const lengthI = tangents[4 * i + 3];
    const lengthJ = tangents[4 * j + 3];
    const a = 3 * tail[i];
    const b = 3 * tail[j];
    const ux = tangents[4 * i] * lengthI;
    const uy = tangents[4 * i + 1] * lengthI;
    const uz = tangents[4 * i + 2] * lengthI;
    const vx = tangents[4 * j] * lengthJ;
    const vy = tangents[4 * j + 1] * lengthJ;
    const vz = tangents[4 * j + 2] * lengthJ;
    const wx = positions[b] - positions[a] + imageX[k] * periodX;
    const wy = positions[b + 1] - positions[a + 1] + imageY[k] * periodY;
    const wz = positions[b + 2] - positions[a + 2];
    const product = rest[i] * rest[j];
    const pull = smooth * (product < longest ? product : longest);
    // `closestPoints`, written out: a call for every pair costs as much as the rest.
    const uu = lengthI * lengthI + pull;
    const vv = lengthJ * lengthJ + pull;
    const uv = ux * vx + uy * vy + uz * vz;
    const uw = -(ux * wx + uy * wy + uz * wz) - 0.5 * pull;
    const vw = -(vx * wx + vy * wy + vz * wz) + 0.5 * pull;
    const det = uu * vv - uv * uv;
    let s = 0;
    if (det > 1e-12 * uu * vv) {
      s = (uv * vw - uw * vv) / det;
      s = s < 0 ? 0 : s > 1 ? 1 : s;
    }
    let t = (uv * s + vw) / (vv + 1e-300);
    if (t < 0 || t > 1) {
      t = t < 0 ? 0 : 1;
      s = (t * uv - uw) / (uu + 1e-300);
      s = s < 0 ? 0 : s > 1 ? 1 : s;
    }
    const dx = wx + t * vx - s * ux;
    const dy = wy + t * vy - s * uy;
    const dz = wz + t * vz - s * uz;
    const straight = dx * dx + dy * dy + dz * dz + 1e-300;
    const r2 = straight + pull * ((s - 0.5) * (s - 0.5) + (t - 0.5) * (t - 0.5));
    if (!(r2 < d2)) continue;
    if (touching === state.pair.length) widen(state);
    state.pair[touching] = k;
    // Whether yarn passes yarn is a matter of the true distance, which the pull can hide by so much.
    let apart = r2 - 0.5 * pull;
    if (pull === 0 || apart > NEAR_ENOUGH * d2) {
      apart = Math.sqrt(apart);
      const across = 1 / Math.sqrt(straight);
      state.normal[3 * touching] = dx * across;
      state.normal[3 * touching + 1] = dy * across;
      state.normal[3 * touching + 2] = dz * across;
    } else {
      closestPoints(ux, uy, uz, vx, vy, vz, wx, wy, wz, near);
      const nx = wx + near.t * vx - near.s * ux;
      const ny = wy + near.t * vy - near.s * uy;
      const nz = wz + near.t * vz - near.s * uz;
      apart = Math.sqrt(nx * nx + ny * ny + nz * nz + 1e-300);
      state.normal[3 * touching] = nx / apart;
      state.normal[3 * touching + 1] = ny / apart;
      state.normal[3 * touching + 2] = nz / apart;
    }
    state.distance[touching] = apart;
    state.fraction[2 * touching] = s;
    state.fraction[2 * touching + 1] = t;
    touching++;
    if (apart < closest) closest = apart;
    const r = Math.sqrt(r2);
    const weight = stiffness * product;
    energy += weight * contactPotential(law, r, diameter);
    const g = weight * contactSlope(law, r, diameter);
    const gx = g * dx;
    const gy = g * dy;
    const gz = g * dz;
    const c = 3 * head[i];
    const d = 3 * head[j];
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

/**
 * Share of the diameter squared above which the true distance is taken as the least that it can be, some hundredths
 * under what it is. Chosen: nothing but the length of a step hangs on it, and nearer yarn is looked at exactly.
 */
const NEAR_ENOUGH = 0.5;

/** The true least distance of the pairs that touch, at most `diameter`. */
export function closestTouching(
  system: RodSystem,
  pairs: PairList,
  { touching, pair }: ContactState,
  positions: Float64Array,
  period: Float64Array,
  diameter: number,
): number {
  let square = diameter * diameter;
  const u = new Float64Array(3);
  const v = new Float64Array(3);
  const w = new Float64Array(3);
  const { tail, head } = system;
  for (let n = 0; n < touching; n++) {
    const k = pair[n];
    const i = pairs.first[k];
    const j = pairs.second[k];
    for (let c = 0; c < 3; c++) {
      const images = c === 0 ? system.imageX : system.imageY;
      const across = c === 0 ? pairs.imageX[k] : pairs.imageY[k];
      const turn = c < 2 ? period[c] : 0;
      u[c] = positions[3 * head[i] + c] - positions[3 * tail[i] + c] + images[i] * turn;
      v[c] = positions[3 * head[j] + c] - positions[3 * tail[j] + c] + images[j] * turn;
      w[c] = positions[3 * tail[j] + c] - positions[3 * tail[i] + c] + across * turn;
    }
    closestPoints(u[0], u[1], u[2], v[0], v[1], v[2], w[0], w[1], w[2], near);
    let sum = 0;
    for (let c = 0; c < 3; c++) sum += (w[c] + near.t * v[c] - near.s * u[c]) ** 2;
    if (sum < square) square = sum;
  }
  return Math.sqrt(square);
}

/** Doubles what a state can hold. */
export function widen(state: ContactState): void {
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
