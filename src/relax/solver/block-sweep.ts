/**
 * Symmetric Gauss–Seidel sweep over the 3 × 3 blocks of the Hessian: one pass forwards, one back.
 * As an approximate inverse it is symmetric and positive definite, and it takes short waves well.
 */

import type { SparseSymmetric } from '../../math/sparse-symmetric.ts';

/** Added to each diagonal block, as a share of its trace: keeps blocks of flat sheets invertible. */
const SHIFT = 1e-3;

export class BlockSweep {
  private readonly matrix: SparseSymmetric;
  /** Inverses of the shifted diagonal blocks: xx, xy, xz, yy, yz, zz. */
  private readonly inverse: Float64Array;
  private readonly pending: Float64Array;

  constructor(matrix: SparseSymmetric) {
    this.matrix = matrix;
    this.inverse = new Float64Array(6 * matrix.pattern.vertices);
    this.pending = new Float64Array(3 * matrix.pattern.vertices);
  }

  /** Reads the matrix anew. */
  refresh(): void {
    const { inverse, matrix } = this;
    const d = matrix.diagonal;
    for (let v = 0; v < matrix.pattern.vertices; v++) {
      const e = 9 * v;
      const at = 6 * v;
      // A vertex with no springs at all still needs an invertible block.
      const shift = SHIFT * (d[e] + d[e + 4] + d[e + 8]) || 1;
      const xx = d[e] + shift;
      const xy = d[e + 1];
      const xz = d[e + 2];
      const yy = d[e + 4] + shift;
      const yz = d[e + 5];
      const zz = d[e + 8] + shift;
      const cxx = yy * zz - yz * yz;
      const cxy = xz * yz - xy * zz;
      const cxz = xy * yz - xz * yy;
      const scale = 1 / (xx * cxx + xy * cxy + xz * cxz);
      inverse[at] = cxx * scale;
      inverse[at + 1] = cxy * scale;
      inverse[at + 2] = cxz * scale;
      inverse[at + 3] = (xx * zz - xz * xz) * scale;
      inverse[at + 4] = (xy * xz - xx * yz) * scale;
      inverse[at + 5] = (xx * yy - xy * xy) * scale;
    }
  }

  /** r ← (D + L)⁻ᵀ D (D + L)⁻¹ r in place. */
  apply(r: Float64Array): void {
    const { inverse: w, pending } = this;
    const { lower: l, pattern } = this.matrix;
    const { vertices, start, column } = pattern;
    for (let v = 0; v < vertices; v++) {
      let r0 = r[3 * v];
      let r1 = r[3 * v + 1];
      let r2 = r[3 * v + 2];
      for (let k = start[v]; k < start[v + 1]; k++) {
        const u = 3 * column[k];
        const b = 9 * k;
        const u0 = r[u];
        const u1 = r[u + 1];
        const u2 = r[u + 2];
        r0 -= l[b] * u0 + l[b + 1] * u1 + l[b + 2] * u2;
        r1 -= l[b + 3] * u0 + l[b + 4] * u1 + l[b + 5] * u2;
        r2 -= l[b + 6] * u0 + l[b + 7] * u1 + l[b + 8] * u2;
      }
      const e = 6 * v;
      r[3 * v] = w[e] * r0 + w[e + 1] * r1 + w[e + 2] * r2;
      r[3 * v + 1] = w[e + 1] * r0 + w[e + 3] * r1 + w[e + 4] * r2;
      r[3 * v + 2] = w[e + 2] * r0 + w[e + 4] * r1 + w[e + 5] * r2;
    }
    // Backwards, D (D + L)⁻¹ r need not be formed: (D + L)ᵀ z = D y gives z = y − D⁻¹ Lᵀ z.
    pending.fill(0);
    for (let v = vertices - 1; v >= 0; v--) {
      const e = 6 * v;
      const p0 = pending[3 * v];
      const p1 = pending[3 * v + 1];
      const p2 = pending[3 * v + 2];
      const r0 = r[3 * v] - (w[e] * p0 + w[e + 1] * p1 + w[e + 2] * p2);
      const r1 = r[3 * v + 1] - (w[e + 1] * p0 + w[e + 3] * p1 + w[e + 4] * p2);
      const r2 = r[3 * v + 2] - (w[e + 2] * p0 + w[e + 4] * p1 + w[e + 5] * p2);
      r[3 * v] = r0;
      r[3 * v + 1] = r1;
      r[3 * v + 2] = r2;
      for (let k = start[v]; k < start[v + 1]; k++) {
        const u = 3 * column[k];
        const b = 9 * k;
        pending[u] += l[b] * r0 + l[b + 3] * r1 + l[b + 6] * r2;
        pending[u + 1] += l[b + 1] * r0 + l[b + 4] * r1 + l[b + 7] * r2;
        pending[u + 2] += l[b + 2] * r0 + l[b + 5] * r1 + l[b + 8] * r2;
      }
    }
  }
}
