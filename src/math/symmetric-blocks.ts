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
