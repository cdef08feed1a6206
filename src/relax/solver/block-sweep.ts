/**
 * Gauss–Seidel over the 3 × 3 blocks of the Hessian A = D + L + Lᵀ, forwards before a correction by another
 * space and backwards after it: together symmetric and positive definite, and good at short waves.
 * In: the Hessian, a right side. Out: an approximate solution, and what is left after the first half.
 * Source: W. Hackbusch, "Iterative Solution of Large Sparse Systems of Equations" (1994), on V-cycles.
 */

import type { SparsePattern } from '../../math/sparse-symmetric.ts';
import type { SymmetricBlocks } from '../../math/symmetric-blocks.ts';
import { type LowerEntries, lowerEntriesOf } from './entry-parts.ts';

/** Added to each diagonal block, as a share of its trace: keeps blocks of flat sheets invertible. */
const SHIFT = 1e-3;
/** Stiffness (K = 1) that counts as none. Chosen: far below the softest vertex's, far above rounding. */
const NO_STIFFNESS = 1e-9;

export class BlockSweep {
  private readonly matrix: SymmetricBlocks;
  /** Inverses of the shifted diagonal blocks: xx, xy, xz, yy, yz, zz. */
  private readonly inverse: Float64Array;
  /** [vertices] what was added to each diagonal. */
  private readonly shift: Float64Array;
  private readonly pending: Float64Array;
  /** Entries that are whole blocks, row by row: all, or a copy of those that change. */
  private readonly near: SparsePattern;
  private readonly nearBlock: Float64Array;
  private readonly nearSlot: Int32Array | null;
  /** Entries that are a number times the unit block, and the numbers. */
  private readonly far: LowerEntries;
  private readonly farValue: Float64Array;

  /** `changing`, [entries of the matrix], is 1 where they are more than a number times the unit block. */
  constructor(matrix: SymmetricBlocks, changing: Uint8Array | null = null) {
    const { pattern } = matrix;
    const { vertices } = pattern;
    this.matrix = matrix;
    const near = changing && lowerEntriesOf(pattern, changing, 1);
    this.near = near ?? pattern;
    this.nearSlot = near?.slot ?? null;
    this.nearBlock = near ? new Float64Array(6 * near.column.length) : matrix.lower;
    this.far = lowerEntriesOf(
      pattern,
      changing ?? new Uint8Array(pattern.column.length).fill(1),
      0,
    );
    this.farValue = new Float64Array(this.far.column.length);
    this.inverse = new Float64Array(6 * vertices);
    this.shift = new Float64Array(vertices);
    this.pending = new Float64Array(3 * vertices);
  }

  /** Reads the diagonal anew, with `ground`, [3·vertices], added to it. */
  takeDiagonal(ground: Float64Array): void {
    const { inverse, matrix, shift } = this;
    const d = matrix.diagonal;
    for (let v = 0; v < matrix.pattern.vertices; v++) {
      const e = 6 * v;
      const ax = d[e] + ground[3 * v];
      const ay = d[e + 3] + ground[3 * v + 1];
      const az = d[e + 5] + ground[3 * v + 2];
      // A vertex with no springs at all, or what rounding leaves of them, still needs an invertible block.
      const trace = ax + ay + az;
      shift[v] = trace > NO_STIFFNESS ? SHIFT * trace : 1;
      const xx = ax + shift[v];
      const xy = d[e + 1];
      const xz = d[e + 2];
      const yy = ay + shift[v];
      const yz = d[e + 4];
      const zz = az + shift[v];
      const cxx = yy * zz - yz * yz;
      const cxy = xz * yz - xy * zz;
      const cxz = xy * yz - xz * yy;
      const scale = 1 / (xx * cxx + xy * cxy + xz * cxz);
      inverse[e] = cxx * scale;
      inverse[e + 1] = cxy * scale;
      inverse[e + 2] = cxz * scale;
      inverse[e + 3] = (xx * zz - xz * xz) * scale;
      inverse[e + 4] = (xy * xz - xx * yz) * scale;
      inverse[e + 5] = (xx * yy - xy * xy) * scale;
    }
  }

  /** Reads the entries beside the diagonal anew; `takeDiagonal` must follow. */
  refresh(): void {
    const { nearSlot, nearBlock, far, farValue } = this;
    const { lower } = this.matrix;
    if (nearSlot !== null) {
      for (let k = 0; k < nearSlot.length; k++) {
        for (let r = 0; r < 6; r++) nearBlock[6 * k + r] = lower[6 * nearSlot[k] + r];
      }
    }
    for (let k = 0; k < farValue.length; k++) farValue[k] = lower[6 * far.slot[k]];
  }

  /** z = (D + shift + L)⁻¹ r, and `left` = r − A z. */
  forward(r: Float64Array, z: Float64Array, left: Float64Array): void {
    const { shift, pending } = this;
    z.fill(0);
    this.pass(r, z, 1);
    // What is left is shift z − Lᵀ z: the pass has seen to D + shift + L.
    for (let v = 0, k = 0; v < shift.length; v++) {
      for (let d = 0; d < 3; d++, k++) left[k] = shift[v] * z[k] - pending[k];
    }
  }

  /** z ← z + (D + shift + Lᵀ)⁻¹ (r − A z), in place. */
  backward(r: Float64Array, z: Float64Array): void {
    this.pass(r, z, -1);
  }

  /** Solves vertex after vertex for z, upwards (`step` 1) or down (−1); Lᵀ z gathers in `pending`. */
  private pass(r: Float64Array, z: Float64Array, step: 1 | -1): void {
    const { inverse: w, pending, shift, nearBlock: l, farValue } = this;
    const { vertices, start, column } = this.near;
    const { start: farStart, column: farColumn } = this.far;
    pending.fill(0);
    for (let n = 0, v = step > 0 ? 0 : vertices - 1; n < vertices; n++, v += step) {
      const s = shift[v];
      let r0 = r[3 * v] + s * z[3 * v] - pending[3 * v];
      let r1 = r[3 * v + 1] + s * z[3 * v + 1] - pending[3 * v + 1];
      let r2 = r[3 * v + 2] + s * z[3 * v + 2] - pending[3 * v + 2];
      const farTo = farStart[v + 1];
      for (let k = farStart[v]; k < farTo; k++) {
        const u = 3 * farColumn[k];
        const f = farValue[k];
        r0 -= f * z[u];
        r1 -= f * z[u + 1];
        r2 -= f * z[u + 2];
      }
      const to = start[v + 1];
      for (let k = start[v]; k < to; k++) {
        const u = 3 * column[k];
        const b = 6 * k;
        const u0 = z[u];
        const u1 = z[u + 1];
        const u2 = z[u + 2];
        r0 -= l[b] * u0 + l[b + 1] * u1 + l[b + 2] * u2;
        r1 -= l[b + 1] * u0 + l[b + 3] * u1 + l[b + 4] * u2;
        r2 -= l[b + 2] * u0 + l[b + 4] * u1 + l[b + 5] * u2;
      }
      const e = 6 * v;
      const z0 = w[e] * r0 + w[e + 1] * r1 + w[e + 2] * r2;
      const z1 = w[e + 1] * r0 + w[e + 3] * r1 + w[e + 4] * r2;
      const z2 = w[e + 2] * r0 + w[e + 4] * r1 + w[e + 5] * r2;
      z[3 * v] = z0;
      z[3 * v + 1] = z1;
      z[3 * v + 2] = z2;
      for (let k = farStart[v]; k < farTo; k++) {
        const u = 3 * farColumn[k];
        const f = farValue[k];
        pending[u] += f * z0;
        pending[u + 1] += f * z1;
        pending[u + 2] += f * z2;
      }
      for (let k = start[v]; k < to; k++) {
        const u = 3 * column[k];
        const b = 6 * k;
        pending[u] += l[b] * z0 + l[b + 1] * z1 + l[b + 2] * z2;
        pending[u + 1] += l[b + 1] * z0 + l[b + 3] * z1 + l[b + 4] * z2;
        pending[u + 2] += l[b + 2] * z0 + l[b + 4] * z1 + l[b + 5] * z2;
      }
    }
  }
}
