/**
 * The symbolic half of a sparse Cholesky factorisation: which entries the factor has, gathered into
 * supernodes (runs of columns with the same rows below). Done once per topology and order; numeric
 * factors (cholesky.ts) of scalar or 3 × 3-block matrices share it.
 * Sources: J. W. H. Liu, "The role of elimination trees in sparse factorization", SIAM J. Matrix
 * Anal. 11 (1990); relaxed supernodes: C. Ashcraft, R. Grimes, ACM TOMS 15 (1989).
 */

import type { SparsePattern } from './sparse-symmetric.ts';

export interface CholeskyPlan {
  readonly pattern: SparsePattern;
  /** [vertices] vertex eliminated k-th. */
  readonly order: Int32Array;
  /** [vertices] inverse of `order`. */
  readonly rank: Int32Array;
  readonly supernodes: number;
  /** [supernodes + 1] first rank of each supernode. */
  readonly first: Int32Array;
  /** [vertices] supernode of each rank. */
  readonly owner: Int32Array;
  /** [supernodes + 1] offsets into `row`. */
  readonly rowStart: Int32Array;
  /** Ranks of the rows of each supernode, ascending; its own columns come first. */
  readonly row: Int32Array;
  /** [supernodes + 1] offset of each panel, in blocks; panels are stored row by row. */
  readonly panel: Float64Array;
  /** [vertices] block offset of the panel row that holds a diagonal block. */
  readonly diagonalRow: Float64Array;
  /** [pattern.column.length] block offset of the panel row that holds a lower block. */
  readonly lowerRow: Float64Array;
  /** Column within the panel for the same two, in blocks. */
  readonly diagonalColumn: Int32Array;
  readonly lowerColumn: Int32Array;
  /** Blocks in the factor, stored zeros included. */
  readonly blocks: number;
}

export function planCholesky(pattern: SparsePattern, wantedOrder: Int32Array): CholeskyPlan {
  const n = pattern.vertices;
  checkOrder(wantedOrder, n);
  let { above, parent } = eliminationTree(pattern, invert(wantedOrder));
  const post = postorder(parent);
  const order = Int32Array.from(post, (k) => wantedOrder[k]);
  const rank = invert(order);
  ({ above, parent } = eliminationTree(pattern, rank));
  const count = columnCounts(above, parent);
  const first = amalgamate(parent, count);
  const supernodes = first.length - 1;
  const owner = new Int32Array(n);
  for (let s = 0; s < supernodes; s++) owner.fill(s, first[s], first[s + 1]);
  const { rowStart, row } = supernodeRows(above, first, owner);

  const panel = new Float64Array(supernodes + 1);
  for (let s = 0; s < supernodes; s++) {
    panel[s + 1] = panel[s] + (rowStart[s + 1] - rowStart[s]) * (first[s + 1] - first[s]);
  }
  const place = (i: number, j: number) => {
    const low = Math.min(i, j);
    const s = owner[low];
    const at = findRow(row, rowStart[s], rowStart[s + 1], Math.max(i, j)) - rowStart[s];
    return panel[s] + at * (first[s + 1] - first[s]);
  };
  const diagonalRow = new Float64Array(n);
  const diagonalColumn = new Int32Array(n);
  const lowerRow = new Float64Array(pattern.column.length);
  const lowerColumn = new Int32Array(pattern.column.length);
  for (let v = 0; v < n; v++) {
    const i = rank[v];
    diagonalRow[v] = place(i, i);
    diagonalColumn[v] = i - first[owner[i]];
    for (let k = pattern.start[v]; k < pattern.start[v + 1]; k++) {
      const j = rank[pattern.column[k]];
      const low = Math.min(i, j);
      lowerRow[k] = place(i, j);
      lowerColumn[k] = low - first[owner[low]];
    }
  }
  return {
    pattern,
    order,
    rank,
    supernodes,
    first,
    owner,
    rowStart,
    row,
    panel,
    diagonalRow,
    lowerRow,
    diagonalColumn,
    lowerColumn,
    blocks: panel[supernodes],
  };
}

function checkOrder(order: Int32Array, n: number): void {
  const seen = new Uint8Array(n);
  let count = 0;
  for (const v of order) {
    if (v < 0 || v >= n || seen[v] === 1) break;
    seen[v] = 1;
    count++;
  }
  if (order.length !== n || count !== n) {
    throw new RangeError(`elimination order must name each of ${n} vertices once`);
  }
}

function invert(order: Int32Array): Int32Array {
  const rank = new Int32Array(order.length);
  for (let k = 0; k < order.length; k++) rank[order[k]] = k;
  return rank;
}

/** Strictly upper entries by column (rows i < k of column k), as compressed lists. */
interface Upper {
  start: Int32Array;
  index: Int32Array;
}

function eliminationTree(pattern: SparsePattern, rank: Int32Array) {
  const n = pattern.vertices;
  const start = new Int32Array(n + 1);
  for (let v = 0; v < n; v++) {
    for (let k = pattern.start[v]; k < pattern.start[v + 1]; k++) {
      start[Math.max(rank[v], rank[pattern.column[k]]) + 1]++;
    }
  }
  for (let k = 0; k < n; k++) start[k + 1] += start[k];
  const fill = start.slice(0, n);
  const index = new Int32Array(start[n]);
  for (let v = 0; v < n; v++) {
    for (let k = pattern.start[v]; k < pattern.start[v + 1]; k++) {
      const i = rank[v];
      const j = rank[pattern.column[k]];
      index[fill[Math.max(i, j)]++] = Math.min(i, j);
    }
  }
  const parent = new Int32Array(n).fill(-1);
  const ancestor = new Int32Array(n).fill(-1);
  for (let k = 0; k < n; k++) {
    for (let e = start[k]; e < start[k + 1]; e++) {
      let i = index[e];
      while (i !== -1 && i < k) {
        const next = ancestor[i];
        ancestor[i] = k;
        if (next === -1) parent[i] = k;
        i = next;
      }
    }
  }
  const above: Upper = { start, index };
  return { above, parent };
}

function postorder(parent: Int32Array): Int32Array {
  const n = parent.length;
  const child = new Int32Array(n).fill(-1);
  const sibling = new Int32Array(n).fill(-1);
  for (let k = n - 1; k >= 0; k--) {
    if (parent[k] < 0) continue;
    sibling[k] = child[parent[k]];
    child[parent[k]] = k;
  }
  const order = new Int32Array(n);
  const stack = new Int32Array(n);
  let write = 0;
  for (let root = 0; root < n; root++) {
    if (parent[root] >= 0) continue;
    let top = 0;
    stack[top++] = root;
    while (top > 0) {
      const v = stack[top - 1];
      if (child[v] >= 0) {
        stack[top++] = child[v];
        child[v] = sibling[child[v]];
      } else {
        order[write++] = v;
        top--;
      }
    }
  }
  return order;
}

/** Entries of each factor column, the diagonal included: rows are walked up the tree. */
function columnCounts(above: Upper, parent: Int32Array): Int32Array {
  const n = parent.length;
  const count = new Int32Array(n).fill(1);
  const seen = new Int32Array(n).fill(-1);
  for (let k = 0; k < n; k++) {
    seen[k] = k;
    for (let e = above.start[k]; e < above.start[k + 1]; e++) {
      for (let i = above.index[e]; seen[i] !== k; i = parent[i]) {
        seen[i] = k;
        count[i]++;
      }
    }
  }
  return count;
}

/** First column of each supernode; small ones join their parent if few zeros come of it. */
function amalgamate(parent: Int32Array, count: Int32Array): Int32Array {
  const n = parent.length;
  // Stack of supernodes so far: first column, rows (of its first column), explicit zeros.
  const first: number[] = [];
  const rows: number[] = [];
  const zeros: number[] = [];
  for (let k = 0; k < n; k++) {
    let from = k;
    let height = count[k];
    let empty = 0;
    // The supernode just before k can join only if its last column's parent is k.
    while (first.length > 0 && parent[from - 1] === k) {
      const top = first.length - 1;
      const width = from - first[top];
      const merged = width + height;
      const extra = width * (merged - rows[top]);
      const size = merged * (k + 1 - first[top]);
      const share = (zeros[top] + empty + extra) / size;
      const columns = k + 1 - first[top];
      const allowed = columns <= 4 ? 1 : columns <= 16 ? 0.3 : columns <= 48 ? 0.1 : 0.03;
      if (extra > 0 && share > allowed) break;
      from = first[top];
      height = merged;
      empty += zeros[top] + extra;
      first.pop();
      rows.pop();
      zeros.pop();
    }
    first.push(from);
    rows.push(height);
    zeros.push(empty);
  }
  first.push(n);
  return Int32Array.from(first);
}

function supernodeRows(above: Upper, first: Int32Array, owner: Int32Array) {
  const n = owner.length;
  const supernodes = first.length - 1;
  // Entries below the diagonal by column: the transpose of `above`.
  const start = new Int32Array(n + 1);
  for (let e = 0; e < above.index.length; e++) start[above.index[e] + 1]++;
  for (let k = 0; k < n; k++) start[k + 1] += start[k];
  const fill = start.slice(0, n);
  const below = new Int32Array(above.index.length);
  for (let k = 0; k < n; k++) {
    for (let e = above.start[k]; e < above.start[k + 1]; e++) below[fill[above.index[e]]++] = k;
  }
  const child = new Int32Array(supernodes).fill(-1);
  const sibling = new Int32Array(supernodes).fill(-1);
  const seen = new Int32Array(n).fill(-1);
  const lists: Int32Array[] = [];
  const scratch = new Int32Array(n);
  const rowStart = new Int32Array(supernodes + 1);
  for (let s = 0; s < supernodes; s++) {
    let size = 0;
    const last = first[s + 1];
    for (let k = first[s]; k < last; k++) {
      seen[k] = s;
      for (let e = start[k]; e < start[k + 1]; e++) {
        const i = below[e];
        if (i < last || seen[i] === s) continue;
        seen[i] = s;
        scratch[size++] = i;
      }
    }
    for (let c = child[s]; c >= 0; c = sibling[c]) {
      const list = lists[c];
      for (let k = 0; k < list.length; k++) {
        const i = list[k];
        if (i < last || seen[i] === s) continue;
        seen[i] = s;
        scratch[size++] = i;
      }
    }
    const list = scratch.slice(0, size).sort();
    lists.push(list);
    rowStart[s + 1] = rowStart[s] + last - first[s] + size;
    if (size > 0) {
      const father = owner[list[0]];
      sibling[s] = child[father];
      child[father] = s;
    }
  }
  const row = new Int32Array(rowStart[supernodes]);
  for (let s = 0; s < supernodes; s++) {
    const width = first[s + 1] - first[s];
    for (let k = 0; k < width; k++) row[rowStart[s] + k] = first[s] + k;
    row.set(lists[s], rowStart[s] + width);
  }
  return { rowStart, row };
}

function findRow(row: Int32Array, from: number, to: number, wanted: number): number {
  let low = from;
  let high = to - 1;
  while (low < high) {
    const mid = (low + high) >> 1;
    if (row[mid] < wanted) low = mid + 1;
    else high = mid;
  }
  return low;
}
