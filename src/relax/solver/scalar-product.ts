/**
 * Pᵀ A P of the entries of A that are a number times the unit block and never change: a number each, once.
 * In: those numbers, the weights both ways round. Out: numbers of the same pattern as A_c.
 */

import type { SparsePattern } from '../../math/sparse-symmetric.ts';
import type { NodeWeights } from './coarse-nodes.ts';
import type { Entries } from './entry-parts.ts';

export interface ScalarMatrix {
  /** [nodes] and [entries below the diagonal]. */
  readonly diagonal: Float64Array;
  readonly lower: Float64Array;
}

/** Weights by vertex, and by node: vertices `vertex` and weights `share` from `first` of it on. */
export interface BothWays extends NodeWeights {
  readonly first: Int32Array;
  readonly vertex: Int32Array;
  readonly share: Float64Array;
}

/** `blocks` are [6·entries below the diagonal] of A; the diagonal itself is left out. */
export function projectScalars(
  blocks: Float64Array,
  { vertices, start: rowStart, neighbour, slot }: Entries,
  { nodes, start, node, weight, first, vertex, share }: BothWays,
  pattern: SparsePattern,
): ScalarMatrix {
  const diagonal = new Float64Array(nodes);
  const lower = new Float64Array(pattern.column.length);
  const rowOf = new Float64Array(vertices);
  const rowList = new Int32Array(vertices);
  const rowMark = new Int32Array(vertices).fill(-1);
  const sumOf = new Float64Array(nodes);
  for (let c = 0; c < nodes; c++) {
    let size = 0;
    for (let m = first[c]; m < first[c + 1]; m++) {
      const v = vertex[m];
      const w = share[m];
      for (let g = rowStart[v]; g < rowStart[v + 1]; g++) {
        const u = neighbour[g];
        if (rowMark[u] !== c) {
          rowMark[u] = c;
          rowList[size++] = u;
          rowOf[u] = 0;
        }
        rowOf[u] += w * blocks[6 * slot[g]];
      }
    }
    for (let m = 0; m < size; m++) {
      const u = rowList[m];
      for (let k = start[u]; k < start[u + 1]; k++) {
        if (node[k] > c) break;
        sumOf[node[k]] += weight[k] * rowOf[u];
      }
    }
    for (let k = pattern.start[c]; k < pattern.start[c + 1]; k++) {
      lower[k] = sumOf[pattern.column[k]];
      sumOf[pattern.column[k]] = 0;
    }
    diagonal[c] = sumOf[c];
    sumOf[c] = 0;
  }
  return { diagonal, lower };
}
