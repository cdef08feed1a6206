/**
 * How a fabric wants to curl: the derivative of a resting cell's energy by a curvature that is put on it.
 *
 * Input: the cell's RodSystem at rest, its material, in yarn diameters. Output: (1/A) ∂E/∂κ for bending along
 * x (the course) and along y (the wale), B/d²; κ > 0 lifts the edges towards +z, the knit side. By the envelope
 * theorem the yarn may be taken as it lies. z = ½ κ x² shortens fibres at height z by κ z; what is left is a
 * rotation, which costs nothing. So each force f over a span Δ at height z adds −f·Δ·z.
 */
import { closestPoints } from '../rod/contact.ts';
import { contactSlope } from '../rod/contact-law.ts';
import { ARC_EXCLUSION } from '../rod/contact-pairs.ts';
import { emptyPairList, findPairs } from '../rod/pair-list.ts';
import type { RodMaterial } from '../rod/relax-rods.ts';
import type { RodSystem } from '../rod/rod-system.ts';

export interface CurlMoment {
  /** Along the course and along the wale, B/d². */
  readonly course: number;
  readonly wale: number;
}

export function curlMoment(
  system: RodSystem,
  material: Omit<RodMaterial, 'plane'>,
  smooth: number,
  positions: Float64Array,
  period: Float64Array,
): CurlMoment {
  const edges = edgeVectors(system, positions, period);
  const sum = [0, 0];
  addStretch(system, material.stretch, positions, edges, sum);
  addBending(system, material.bending, positions, edges, sum);
  addContact(system, material, smooth, positions, period, edges, sum);
  const area = period[0] * period[1];
  return { course: sum[0] / area, wale: sum[1] / area };
}

/** [3·segments] from tail to head. */
function edgeVectors(system: RodSystem, x: Float64Array, period: Float64Array): Float64Array {
  const { tail, head, imageX, imageY } = system;
  const edges = new Float64Array(3 * system.segments);
  for (let s = 0; s < system.segments; s++) {
    for (let c = 0; c < 3; c++) {
      const shift = c === 0 ? imageX[s] * period[0] : c === 1 ? imageY[s] * period[1] : 0;
      edges[3 * s + c] = x[3 * head[s] + c] - x[3 * tail[s] + c] + shift;
    }
  }
  return edges;
}

function addStretch(
  { tail, rest, segments }: RodSystem,
  stiffness: number,
  x: Float64Array,
  edges: Float64Array,
  sum: number[],
): void {
  for (let s = 0; s < segments; s++) {
    const length = Math.hypot(edges[3 * s], edges[3 * s + 1], edges[3 * s + 2]);
    const tension = (stiffness * (length - rest[s])) / rest[s] / length;
    const z = x[3 * tail[s] + 2] + edges[3 * s + 2] / 2;
    for (let c = 0; c < 2; c++) sum[c] -= tension * edges[3 * s + c] ** 2 * z;
  }
}

/** Two edges of a joint also turn against each other, as their middles lie apart. */
function addBending(
  { joints, rest, head }: RodSystem,
  stiffness: number,
  x: Float64Array,
  edges: Float64Array,
  sum: number[],
): void {
  for (let j = 0; j < joints.length; j += 2) {
    const s = joints[j];
    const q = joints[j + 1];
    const p = edges.subarray(3 * s, 3 * s + 3);
    const r = edges.subarray(3 * q, 3 * q + 3);
    const pl = Math.hypot(p[0], p[1], p[2]);
    const rl = Math.hypot(r[0], r[1], r[2]);
    const cos = (p[0] * r[0] + p[1] * r[1] + p[2] * r[2]) / (pl * rl);
    const k = (2 * stiffness) / (rest[s] + rest[q]);
    const z = x[3 * head[s] + 2];
    for (let c = 0; c < 2; c++) {
      // ∂E/∂p and ∂E/∂r, of which the components along c and z do work.
      const forceOn = (own: Float64Array, l: number, other: Float64Array, ol: number, d: number) =>
        (-k / l) * (other[d] / ol - (cos * own[d]) / l);
      const zp = z - p[2] / 2;
      const zr = z + r[2] / 2;
      sum[c] += forceOn(p, pl, r, rl, c) * (-zp * p[c] + (p[c] / 2) * p[2]);
      sum[c] += forceOn(p, pl, r, rl, 2) * (-(p[c] / 2) * p[c]);
      sum[c] += forceOn(r, rl, p, pl, c) * (-zr * r[c] - (r[c] / 2) * r[2]);
      sum[c] += forceOn(r, rl, p, pl, 2) * ((r[c] / 2) * r[c]);
    }
  }
}

function addContact(
  system: RodSystem,
  { contact, diameter, law = 'shell' }: Omit<RodMaterial, 'plane'>,
  smooth: number,
  x: Float64Array,
  period: Float64Array,
  edges: Float64Array,
  sum: number[],
): void {
  const { tail, rest } = system;
  const pairs = emptyPairList();
  const reach = { reach: diameter, exclusion: ARC_EXCLUSION * diameter };
  findPairs(system, x, period, reach, pairs);
  const near = { s: 0, t: 0 };
  for (let k = 0; k < pairs.count; k++) {
    const i = pairs.first[k];
    const j = pairs.second[k];
    const u = edges.subarray(3 * i, 3 * i + 3);
    const v = edges.subarray(3 * j, 3 * j + 3);
    const w = [0, 1, 2].map((c) => x[3 * tail[j] + c] - x[3 * tail[i] + c]);
    w[0] += pairs.imageX[k] * period[0];
    w[1] += pairs.imageY[k] * period[1];
    const pull = smooth * Math.min(rest[i] * rest[j], 2 * diameter * diameter);
    closestPoints(u[0], u[1], u[2], v[0], v[1], v[2], w[0], w[1], w[2], near, pull);
    const { s, t } = near;
    const gap = w.map((value, c) => value + t * v[c] - s * u[c]);
    const square = gap[0] ** 2 + gap[1] ** 2 + gap[2] ** 2;
    const r = Math.sqrt(square + pull * ((s - 0.5) ** 2 + (t - 0.5) ** 2));
    if (r >= diameter) continue;
    const push = contact * rest[i] * rest[j] * contactSlope(law, r, diameter);
    const z = x[3 * tail[i] + 2] + s * u[2] + gap[2] / 2;
    for (let c = 0; c < 2; c++) sum[c] -= push * gap[c] ** 2 * z;
  }
}
