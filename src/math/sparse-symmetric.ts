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
