/**
 * The stiff part of a RodSystem's Hessian, assembled: Gauss–Newton terms only (stretch along the yarn, bending,
 * contact along its normal, plane), so that it is positive definite.
 * In: a state with its tangents and pairs. Out: 3 × 3 blocks per node, a border column for each unknown period, and
 * the corner where those meet.
 */
import { type Adjacency, buildAdjacency } from '../math/adjacency.ts';
import {
  emptyMatrix,
  lowerPattern,
  type SparseSymmetric,
  slotOf,
} from '../math/sparse-symmetric.ts';
import { type ClosestPoints, closestPoints } from './contact.ts';
import { bearingReach, contactCurvature } from './contact-law.ts';
import { JOINT_NUMBERS, jointBending } from './joint-bending.ts';
import type { PairList } from './pair-list.ts';
import type { RodMaterial } from './relax-rods.ts';
import type { RodSystem } from './rod-system.ts';

/** Stiffness that stands for a held coordinate. */
const HELD = 1e6;
/** Numbers of one touching pair, see `touchingPairs`. */
const RECORD = 14;

const near: ClosestPoints = { s: 0.5, t: 0.5 };

/** One assembly: the matrix, and the graph of nodes that it couples. */
export interface AssembledStiffness {
  readonly matrix: SparseSymmetric;
  readonly graph: Adjacency;
}

export class RodStiffness {
  /** Derivatives of the forces by each unknown period, [3·nodes] each, and of the periods' own. */
  readonly border: readonly Float64Array[];
  readonly corner: Float64Array;
  private readonly system: RodSystem;
  private readonly material: RodMaterial;
  private readonly held: Uint8Array | null;
  /** Axes (0, 1) whose periods are unknowns, and the scale of those unknowns. */
  private readonly axes: readonly number[];
  private readonly scale: readonly number[];
  private matrix: SparseSymmetric | null = null;

  constructor(
    system: RodSystem,
    material: RodMaterial,
    held: Uint8Array | null,
    axes: readonly number[],
    scale: readonly number[],
  ) {
    this.system = system;
    this.material = material;
    this.held = held;
    this.axes = axes;
    this.scale = scale;
    this.border = axes.map(() => new Float64Array(3 * system.nodes));
    this.corner = new Float64Array(axes.length * axes.length);
  }

  assemble(
    positions: Float64Array,
    period: Float64Array,
    pairs: PairList | null,
    tangents: Float64Array,
  ): AssembledStiffness {
    const touching = pairs ? this.touchingPairs(pairs, positions, period, tangents) : [];
    const graph = this.coupledNodes(touching);
    const matrix = emptyMatrix(lowerPattern(graph), 3);
    this.matrix = matrix;
    for (const b of this.border) b.fill(0);
    this.corner.fill(0);
    this.addStretch(tangents);
    this.addBending(tangents);
    this.addContact(touching);
    this.addDiagonal();
    return { matrix, graph };
  }

  private touchingPairs(
    pairs: PairList,
    positions: Float64Array,
    period: Float64Array,
    tangents: Float64Array,
  ): number[] {
    const { tail, rest } = this.system;
    const { contact, diameter, law = 'shell' } = this.material;
    const d2 = bearingReach(law, diameter) ** 2;
    // Flat list: node×4, weight×4, normal×3, second derivative, difference×2 (x and y).
    const found: number[] = [];
    for (let k = 0; k < pairs.count; k++) {
      const i = pairs.first[k];
      const j = pairs.second[k];
      const a = 3 * tail[i];
      const b = 3 * tail[j];
      const li = tangents[4 * i + 3];
      const lj = tangents[4 * j + 3];
      const ux = tangents[4 * i] * li;
      const uy = tangents[4 * i + 1] * li;
      const uz = tangents[4 * i + 2] * li;
      const vx = tangents[4 * j] * lj;
      const vy = tangents[4 * j + 1] * lj;
      const vz = tangents[4 * j + 2] * lj;
      const wx = positions[b] - positions[a] + pairs.imageX[k] * period[0];
      const wy = positions[b + 1] - positions[a + 1] + pairs.imageY[k] * period[1];
      const wz = positions[b + 2] - positions[a + 2];
      closestPoints(ux, uy, uz, vx, vy, vz, wx, wy, wz, near);
      const { s, t } = near;
      const dx = wx + t * vx - s * ux;
      const dy = wy + t * vy - s * uy;
      const dz = wz + t * vz - s * uz;
      const r2 = dx * dx + dy * dy + dz * dz;
      if (r2 >= d2 || r2 < 1e-12 * d2) continue;
      const r = Math.sqrt(r2);
      const weight = contact * rest[i] * rest[j];
      const second = weight * contactCurvature(law, r, diameter);
      found.push(tail[i], this.system.head[i], tail[j], this.system.head[j]);
      found.push(-(1 - s), -s, 1 - t, t, dx / r, dy / r, dz / r, second, dx, dy);
    }
    return found;
  }

  private coupledNodes(touching: readonly number[]): Adjacency {
    const { system } = this;
    const pairsOfNodes = new Int32Array(2 * system.segments);
    for (let s = 0; s < system.segments; s++) {
      pairsOfNodes[2 * s] = system.tail[s];
      pairsOfNodes[2 * s + 1] = system.head[s];
    }
    const triples = new Int32Array((3 * system.joints.length) / 2);
    for (let j = 0; j < system.joints.length; j += 2) {
      const at = (3 * j) / 2;
      triples[at] = system.tail[system.joints[j]];
      triples[at + 1] = system.head[system.joints[j]];
      triples[at + 2] = system.head[system.joints[j + 1]];
    }
    const fours = new Int32Array((touching.length / RECORD) * 4);
    for (let k = 0; k < touching.length / RECORD; k++) {
      for (let c = 0; c < 4; c++) fours[4 * k + c] = touching[k * RECORD + c];
    }
    return buildAdjacency(system.nodes, [
      { members: pairsOfNodes, size: 2 },
      { members: triples, size: 3 },
      { members: fours, size: 4 },
    ]);
  }

  /** Adds k·(p ⊗ q) to the blocks of nodes a and b, and its transpose to (b, a); a = b counts twice. */
  private addOuter(
    a: number,
    b: number,
    k: number,
    p0: number,
    p1: number,
    p2: number,
    q0: number,
    q1: number,
    q2: number,
  ): void {
    const matrix = this.matrix as SparseSymmetric;
    if (a === b) {
      const d = matrix.diagonal;
      const at = 9 * a;
      d[at] += 2 * k * p0 * q0;
      d[at + 1] += k * (p0 * q1 + p1 * q0);
      d[at + 2] += k * (p0 * q2 + p2 * q0);
      d[at + 3] += k * (p1 * q0 + p0 * q1);
      d[at + 4] += 2 * k * p1 * q1;
      d[at + 5] += k * (p1 * q2 + p2 * q1);
      d[at + 6] += k * (p2 * q0 + p0 * q2);
      d[at + 7] += k * (p2 * q1 + p1 * q2);
      d[at + 8] += 2 * k * p2 * q2;
      return;
    }
    if (a > b) addLower(matrix.lower, 9 * slotOf(matrix.pattern, a, b), k, p0, p1, p2, q0, q1, q2);
    else addLower(matrix.lower, 9 * slotOf(matrix.pattern, a, b), k, q0, q1, q2, p0, p1, p2);
  }

  /** Adds k·g gᵀ for a scalar measure with node gradients w·n and period derivatives. */
  private addScalar(
    nodes: readonly number[],
    weights: readonly number[],
    k: number,
    nx: number,
    ny: number,
    nz: number,
    dx: number,
    dy: number,
  ): void {
    const m = nodes.length;
    for (let p = 0; p < m; p++) {
      const wp = weights[p];
      this.addOuter(nodes[p], nodes[p], 0.5 * k * wp * wp, nx, ny, nz, nx, ny, nz);
      for (let q = p + 1; q < m; q++) {
        this.addOuter(nodes[p], nodes[q], k * wp * weights[q], nx, ny, nz, nx, ny, nz);
      }
    }
    const n3 = [nx, ny, nz];
    const d2 = [dx, dy];
    const axes = this.axes;
    for (let a = 0; a < axes.length; a++) {
      const e = (n3[axes[a]] * d2[axes[a]]) / this.scale[a];
      const b = this.border[a];
      for (let p = 0; p < m; p++) {
        const i = 3 * nodes[p];
        b[i] += k * e * weights[p] * nx;
        b[i + 1] += k * e * weights[p] * ny;
        b[i + 2] += k * e * weights[p] * nz;
      }
      for (let c = 0; c < axes.length; c++) {
        this.corner[a * axes.length + c] += k * e * ((n3[axes[c]] * d2[axes[c]]) / this.scale[c]);
      }
    }
  }

  private addStretch(tangents: Float64Array): void {
    const { tail, head, rest, segments } = this.system;
    const nodes = [0, 0];
    const weights = [-1, 1];
    for (let s = 0; s < segments; s++) {
      const length = tangents[4 * s + 3];
      const tx = tangents[4 * s];
      const ty = tangents[4 * s + 1];
      const tz = tangents[4 * s + 2];
      nodes[0] = tail[s];
      nodes[1] = head[s];
      const k = this.material.stretch / rest[s];
      this.addScalar(nodes, weights, k, tx, ty, tz, length * tx, length * ty);
    }
  }

  private addBending(tangents: Float64Array): void {
    const { tail, head, joints } = this.system;
    const nodes = [0, 0, 0];
    const weights = [0, 0, 0];
    const bending = new Float64Array(JOINT_NUMBERS);
    for (let j = 0; j < joints.length; j += 2) {
      const s = joints[j];
      const q = joints[j + 1];
      jointBending(this.system, this.material.bending, tangents, j, bending);
      const k = bending[0];
      const mx = bending[1];
      const my = bending[2];
      const mz = bending[3];
      nodes[0] = tail[s];
      nodes[1] = head[s];
      nodes[2] = head[q];
      // Across the mean tangent: two directions n that are normal to it. Any vector not along it gives the first.
      let ax = 0;
      let ay = 0;
      let az = 0;
      if (Math.abs(mx) < 0.6) ax = 1;
      else if (Math.abs(my) < 0.6) ay = 1;
      else az = 1;
      let bx = my * az - mz * ay;
      let by = mz * ax - mx * az;
      let bz = mx * ay - my * ax;
      const bs = 1 / Math.sqrt(bx * bx + by * by + bz * bz);
      bx *= bs;
      by *= bs;
      bz *= bs;
      const cx = my * bz - mz * by;
      const cy = mz * bx - mx * bz;
      const cz = mx * by - my * bx;
      for (let c = 0; c < 3; c++) weights[c] = bending[4 + c];
      // n·(t₂ − t₁) changes with a period by the ends' own differences.
      const dx = tangents[4 * q] - tangents[4 * s];
      const dy = tangents[4 * q + 1] - tangents[4 * s + 1];
      this.addScalar(nodes, weights, k, bx, by, bz, dx, dy);
      this.addScalar(nodes, weights, k, cx, cy, cz, dx, dy);
    }
  }

  private addContact(touching: readonly number[]): void {
    const nodes = [0, 0, 0, 0];
    const weights = [0, 0, 0, 0];
    for (let at = 0; at < touching.length; at += RECORD) {
      for (let c = 0; c < 4; c++) {
        nodes[c] = touching[at + c];
        weights[c] = touching[at + 4 + c];
      }
      this.addScalar(
        nodes,
        weights,
        touching[at + 11],
        touching[at + 8],
        touching[at + 9],
        touching[at + 10],
        touching[at + 12],
        touching[at + 13],
      );
    }
  }

  private addDiagonal(): void {
    const { system, held } = this;
    const d = (this.matrix as SparseSymmetric).diagonal;
    for (let i = 0; i < system.nodes; i++) {
      d[9 * i + 8] += this.material.plane * system.share[i];
      const bits = held ? held[i] : 0;
      if (bits & 1) d[9 * i] += HELD;
      if (bits & 2) d[9 * i + 4] += HELD;
      if (bits & 4) d[9 * i + 8] += HELD;
    }
  }
}

/** Adds k·(r ⊗ c) to the block at this place: stored as (row, column) with row > column. */
function addLower(
  lower: Float64Array,
  at: number,
  k: number,
  r0: number,
  r1: number,
  r2: number,
  c0: number,
  c1: number,
  c2: number,
): void {
  lower[at] += k * r0 * c0;
  lower[at + 1] += k * r0 * c1;
  lower[at + 2] += k * r0 * c2;
  lower[at + 3] += k * r1 * c0;
  lower[at + 4] += k * r1 * c1;
  lower[at + 5] += k * r1 * c2;
  lower[at + 6] += k * r2 * c0;
  lower[at + 7] += k * r2 * c1;
  lower[at + 8] += k * r2 * c2;
}
