/**
 * Sparse symmetric matrices of b × b blocks, one block row per vertex of a graph: the diagonal
 * blocks and those below it. The pattern is made once per topology, the values many times.
 */

import type { Adjacency } from './adjacency.ts';

export interface SparsePattern {
  readonly vertices: number;
  /** [vertices + 1] offsets into `column`. */
  readonly start: Int32Array;
  /** Columns below the diagonal of each block row, ascending: column < row. */
  readonly column: Int32Array;
}

export interface SparseSymmetric {
  readonly pattern: SparsePattern;
  /** Block size b. */
  readonly block: number;
  /** [vertices·b²] diagonal blocks, row by row (both halves filled). */
  readonly diagonal: Float64Array;
  /** [column.length·b²] blocks (row, column), row by row. */
  readonly lower: Float64Array;
}

export function lowerPattern(graph: Adjacency): SparsePattern {
  const n = graph.vertices;
  const start = new Int32Array(n + 1);
  const column = new Int32Array(graph.neighbour.length / 2);
  let write = 0;
  for (let v = 0; v < n; v++) {
    for (let k = graph.start[v]; k < graph.start[v + 1] && graph.neighbour[k] < v; k++) {
      column[write++] = graph.neighbour[k];
    }
    start[v + 1] = write;
  }
  return { vertices: n, start, column };
}

export function emptyMatrix(pattern: SparsePattern, block: number): SparseSymmetric {
  const bb = block * block;
  return {
    pattern,
    block,
    diagonal: new Float64Array(pattern.vertices * bb),
    lower: new Float64Array(pattern.column.length * bb),
  };
}

/** Index into `column` of the entry joining i and j (in either order); −1 if there is none. */
export function slotOf(pattern: SparsePattern, i: number, j: number): number {
  const row = Math.max(i, j);
  const wanted = Math.min(i, j);
  let low = pattern.start[row];
  let high = pattern.start[row + 1] - 1;
  while (low <= high) {
    const mid = (low + high) >> 1;
    const c = pattern.column[mid];
    if (c === wanted) return mid;
    if (c < wanted) low = mid + 1;
    else high = mid - 1;
  }
  return -1;
}

/** y = A x for a scalar matrix (b = 1) acting on three interleaved components. */
export function multiplyScalar3(a: SparseSymmetric, x: Float64Array, y: Float64Array): void {
  const { vertices, start, column } = a.pattern;
  const { diagonal, lower } = a;
  for (let v = 0; v < vertices; v++) {
    const x0 = x[3 * v];
    const x1 = x[3 * v + 1];
    const x2 = x[3 * v + 2];
    let y0 = diagonal[v] * x0;
    let y1 = diagonal[v] * x1;
    let y2 = diagonal[v] * x2;
    for (let k = start[v]; k < start[v + 1]; k++) {
      const u = 3 * column[k];
      const c = lower[k];
      y0 += c * x[u];
      y1 += c * x[u + 1];
      y2 += c * x[u + 2];
      y[u] += c * x0;
      y[u + 1] += c * x1;
      y[u + 2] += c * x2;
    }
    y[3 * v] = y0;
    y[3 * v + 1] = y1;
    y[3 * v + 2] = y2;
  }
}

/** y = A x for 3 × 3 blocks. */
export function multiplyBlock3(a: SparseSymmetric, x: Float64Array, y: Float64Array): void {
  const { vertices, start, column } = a.pattern;
  const { diagonal: d, lower: l } = a;
  for (let v = 0; v < vertices; v++) {
    const x0 = x[3 * v];
    const x1 = x[3 * v + 1];
    const x2 = x[3 * v + 2];
    const e = 9 * v;
    let y0 = d[e] * x0 + d[e + 1] * x1 + d[e + 2] * x2;
    let y1 = d[e + 3] * x0 + d[e + 4] * x1 + d[e + 5] * x2;
    let y2 = d[e + 6] * x0 + d[e + 7] * x1 + d[e + 8] * x2;
    for (let k = start[v]; k < start[v + 1]; k++) {
      const u = 3 * column[k];
      const b = 9 * k;
      const u0 = x[u];
      const u1 = x[u + 1];
      const u2 = x[u + 2];
      y0 += l[b] * u0 + l[b + 1] * u1 + l[b + 2] * u2;
      y1 += l[b + 3] * u0 + l[b + 4] * u1 + l[b + 5] * u2;
      y2 += l[b + 6] * u0 + l[b + 7] * u1 + l[b + 8] * u2;
      y[u] += l[b] * x0 + l[b + 3] * x1 + l[b + 6] * x2;
      y[u + 1] += l[b + 1] * x0 + l[b + 4] * x1 + l[b + 7] * x2;
      y[u + 2] += l[b + 2] * x0 + l[b + 5] * x1 + l[b + 8] * x2;
    }
    y[3 * v] = y0;
    y[3 * v + 1] = y1;
    y[3 * v + 2] = y2;
  }
}
