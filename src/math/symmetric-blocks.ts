/**
 * Sparse symmetric matrices whose 3 × 3 blocks are symmetric themselves, as the Hessians of springs and
 * hinges are: six numbers a block, in the order xx, xy, xz, yy, yz, zz.
 * In: a pattern made once per topology. Out: storage for values that change many times.
 */

import type { SparsePattern } from './sparse-symmetric.ts';

export interface SymmetricBlocks {
  readonly pattern: SparsePattern;
  /** [6·vertices] diagonal blocks. */
  readonly diagonal: Float64Array;
  /** [6·column.length] blocks (row, column) below the diagonal. */
  readonly lower: Float64Array;
}

export function emptyBlocks(pattern: SparsePattern): SymmetricBlocks {
  return {
    pattern,
    diagonal: new Float64Array(6 * pattern.vertices),
    lower: new Float64Array(6 * pattern.column.length),
  };
}

/** y = A x; both [3·vertices]. */
export function multiplyBlocks(a: SymmetricBlocks, x: Float64Array, y: Float64Array): void {
  const { vertices, start, column } = a.pattern;
  const { diagonal: d, lower: l } = a;
  for (let v = 0; v < vertices; v++) {
    const x0 = x[3 * v];
    const x1 = x[3 * v + 1];
    const x2 = x[3 * v + 2];
    const e = 6 * v;
    let y0 = d[e] * x0 + d[e + 1] * x1 + d[e + 2] * x2;
    let y1 = d[e + 1] * x0 + d[e + 3] * x1 + d[e + 4] * x2;
    let y2 = d[e + 2] * x0 + d[e + 4] * x1 + d[e + 5] * x2;
    for (let k = start[v]; k < start[v + 1]; k++) {
      const u = 3 * column[k];
      const b = 6 * k;
      const u0 = x[u];
      const u1 = x[u + 1];
      const u2 = x[u + 2];
      y0 += l[b] * u0 + l[b + 1] * u1 + l[b + 2] * u2;
      y1 += l[b + 1] * u0 + l[b + 3] * u1 + l[b + 4] * u2;
      y2 += l[b + 2] * u0 + l[b + 4] * u1 + l[b + 5] * u2;
      y[u] += l[b] * x0 + l[b + 1] * x1 + l[b + 2] * x2;
      y[u + 1] += l[b + 1] * x0 + l[b + 3] * x1 + l[b + 4] * x2;
      y[u + 2] += l[b + 2] * x0 + l[b + 4] * x1 + l[b + 5] * x2;
    }
    y[3 * v] = y0;
    y[3 * v + 1] = y1;
    y[3 * v + 2] = y2;
  }
}
