/**
 * Numeric sparse Cholesky factor of a symmetric positive definite matrix, supernodal and
 * left-looking, and the triangular solves. Scalar matrices act on the three components of a
 * [3·vertices] vector alike; 3 × 3-block matrices mix them.
 * Source: E. Ng, B. Peyton, "Block sparse Cholesky algorithms on advanced uniprocessor computers",
 * SIAM J. Sci. Comput. 14 (1993).
 */

import type { CholeskyPlan } from './cholesky-plan.ts';
import { factorPanel, multiplyRows } from './dense-panel.ts';
import type { SparseSymmetric } from './sparse-symmetric.ts';

/** Thrown instead of handing out a factor of not-a-numbers. */
export class NotPositiveDefiniteError extends RangeError {
  /** Vertex at whose elimination the pivot was not positive. */
  readonly vertex: number;

  constructor(vertex: number) {
    super(`the matrix is not positive definite: no positive pivot left at vertex ${vertex}`);
    this.name = 'NotPositiveDefiniteError';
    this.vertex = vertex;
  }
}

export class Cholesky {
  private readonly plan: CholeskyPlan;
  private readonly block: 1 | 3;
  private readonly values: Float64Array;
  private readonly product: Float64Array;
  /** Row of the panel being filled that holds a given rank. */
  private readonly localRow: Int32Array;
  private readonly head: Int32Array;
  private readonly nextInList: Int32Array;
  private readonly position: Int32Array;
  private readonly permuted: Float64Array;

  /** `former`: a factor that is needed no longer; its memory serves again where it is enough. */
  constructor(plan: CholeskyPlan, block: 1 | 3, former: Cholesky | null = null) {
    this.plan = plan;
    this.block = block;
    this.values = room(former?.values, plan.blocks * block * block);
    this.product = room(former?.product, largestProduct(plan) * block * block);
    this.localRow = new Int32Array(plan.pattern.vertices);
    this.head = new Int32Array(plan.supernodes);
    this.nextInList = new Int32Array(plan.supernodes);
    this.position = new Int32Array(plan.supernodes);
    this.permuted = new Float64Array(3 * plan.pattern.vertices);
  }

  /** Factors `matrix` + shift·I; throws NotPositiveDefiniteError and is then unusable until refactored. */
  factor(matrix: SparseSymmetric, shift = 0): void {
    const { plan, block: b, values, product, localRow, head, nextInList, position } = this;
    if (matrix.block !== b || matrix.pattern !== plan.pattern) {
      throw new RangeError('the matrix has another pattern or block size than the plan');
    }
    this.scatter(matrix, shift);
    const { first, rowStart, row, panel } = plan;
    head.fill(-1);
    for (let s = 0; s < plan.supernodes; s++) {
      const width = first[s + 1] - first[s];
      const rows = rowStart[s + 1] - rowStart[s];
      for (let k = 0; k < rows; k++) localRow[row[rowStart[s] + k]] = k;
      const at = panel[s] * b * b;
      for (let d = head[s]; d >= 0; ) {
        const following = nextInList[d];
        const from = position[d];
        const end = rowStart[d + 1];
        let own = from;
        while (own < end && row[own] < first[s + 1]) own++;
        const k = (first[d + 1] - first[d]) * b;
        const a = panel[d] * b * b + (from - rowStart[d]) * b * k;
        multiplyRows(values, a, (end - from) * b, (own - from) * b, k, product);
        this.subtract(from, own, end, at, width * b, first[s]);
        if (own < end) this.enlist(d, own);
        d = following;
      }
      const bad = factorPanel(values, at, rows * b, width * b, 0);
      if (bad >= 0) throw new NotPositiveDefiniteError(plan.order[first[s] + Math.floor(bad / b)]);
      if (rows > width) this.enlist(s, rowStart[s] + width);
    }
  }

  /** Puts supernode d on the list of the one that owns its row number `at`. */
  private enlist(d: number, at: number): void {
    this.position[d] = at;
    const owner = this.plan.owner[this.plan.row[at]];
    this.nextInList[d] = this.head[owner];
    this.head[owner] = d;
  }

  /** Subtracts `product` (rows from…end by columns from…own of a descendant) from the panel at `at`. */
  private subtract(
    from: number,
    own: number,
    end: number,
    at: number,
    stride: number,
    firstColumn: number,
  ): void {
    const { plan, block: b, values, product, localRow } = this;
    const { row } = plan;
    const columns = (own - from) * b;
    for (let i = from; i < end; i++) {
      for (let r = 0; r < b; r++) {
        const target = at + (localRow[row[i]] * b + r) * stride;
        const source = ((i - from) * b + r) * columns;
        const last = Math.min(i + 1, own);
        for (let j = from; j < last; j++) {
          const t = target + (row[j] - firstColumn) * b;
          const p = source + (j - from) * b;
          for (let c = 0; c < b; c++) values[t + c] -= product[p + c];
        }
      }
    }
  }

  private scatter(matrix: SparseSymmetric, shift: number): void {
    const { plan, block: b, values } = this;
    const { pattern, rank } = plan;
    values.fill(0, 0, plan.blocks * b * b);
    const bb = b * b;
    const { vertices, start, column } = pattern;
    for (let v = 0; v < vertices; v++) {
      const width = widthOf(plan, rank[v]);
      const at = plan.diagonalRow[v] * bb + plan.diagonalColumn[v] * b;
      for (let r = 0; r < b; r++) {
        for (let c = 0; c < b; c++) {
          values[at + r * width * b + c] = matrix.diagonal[v * bb + r * b + c];
        }
        values[at + r * width * b + r] += shift;
      }
      for (let k = start[v]; k < start[v + 1]; k++) {
        const flipped = rank[v] < rank[column[k]];
        const low = flipped ? rank[v] : rank[column[k]];
        const stride = widthOf(plan, low) * b;
        const to = plan.lowerRow[k] * bb + plan.lowerColumn[k] * b;
        for (let r = 0; r < b; r++) {
          for (let c = 0; c < b; c++) {
            values[to + r * stride + c] = matrix.lower[k * bb + (flipped ? c * b + r : r * b + c)];
          }
        }
      }
    }
  }

  /** Solves in place: x ← A⁻¹ x for a [3·vertices] vector. */
  solve(x: Float64Array): void {
    const { order } = this.plan;
    const y = this.permuted;
    for (let k = 0; k < order.length; k++) {
      const v = 3 * order[k];
      y[3 * k] = x[v];
      y[3 * k + 1] = x[v + 1];
      y[3 * k + 2] = x[v + 2];
    }
    if (this.block === 1) this.solveScalar(y);
    else this.solveBlock(y);
    for (let k = 0; k < order.length; k++) {
      const v = 3 * order[k];
      x[v] = y[3 * k];
      x[v + 1] = y[3 * k + 1];
      x[v + 2] = y[3 * k + 2];
    }
  }

  private solveScalar(y: Float64Array): void {
    const { values: l } = this;
    const { supernodes, first, rowStart, row, panel } = this.plan;
    for (let s = 0; s < supernodes; s++) {
      const c0 = 3 * first[s];
      const width = first[s + 1] - first[s];
      const r0 = rowStart[s];
      const rows = rowStart[s + 1] - r0;
      let at = panel[s];
      for (let i = 0; i < rows; i++, at += width) {
        const t = 3 * row[r0 + i];
        const inner = Math.min(i, width);
        let s0 = y[t];
        let s1 = y[t + 1];
        let s2 = y[t + 2];
        for (let c = 0, u = c0; c < inner; c++, u += 3) {
          const f = l[at + c];
          s0 -= f * y[u];
          s1 -= f * y[u + 1];
          s2 -= f * y[u + 2];
        }
        if (i < width) {
          const d = 1 / l[at + i];
          s0 *= d;
          s1 *= d;
          s2 *= d;
        }
        y[t] = s0;
        y[t + 1] = s1;
        y[t + 2] = s2;
      }
    }
    for (let s = supernodes - 1; s >= 0; s--) {
      const c0 = 3 * first[s];
      const width = first[s + 1] - first[s];
      const r0 = rowStart[s];
      const rows = rowStart[s + 1] - r0;
      for (let i = rows - 1; i >= 0; i--) {
        const at = panel[s] + i * width;
        const t = 3 * row[r0 + i];
        const inner = Math.min(i, width);
        if (i < width) {
          const d = 1 / l[at + i];
          y[t] *= d;
          y[t + 1] *= d;
          y[t + 2] *= d;
        }
        const x0 = y[t];
        const x1 = y[t + 1];
        const x2 = y[t + 2];
        for (let c = 0, u = c0; c < inner; c++, u += 3) {
          const f = l[at + c];
          y[u] -= f * x0;
          y[u + 1] -= f * x1;
          y[u + 2] -= f * x2;
        }
      }
    }
  }

  /** Three rows at a time: they meet the same columns. */
  private solveBlock(y: Float64Array): void {
    const { values: l } = this;
    const { supernodes, first, rowStart, row, panel } = this.plan;
    for (let s = 0; s < supernodes; s++) {
      const c0 = 3 * first[s];
      const width = 3 * (first[s + 1] - first[s]);
      const r0 = rowStart[s];
      const rows = rowStart[s + 1] - r0;
      for (let i = 0; i < rows; i++) {
        const a = 9 * panel[s] + 3 * i * width;
        const b = a + width;
        const d = b + width;
        const t = 3 * row[r0 + i];
        const inner = 3 * i < width ? 3 * i : width;
        let s0 = y[t];
        let s1 = y[t + 1];
        let s2 = y[t + 2];
        for (let c = 0; c < inner; c++) {
          const v = y[c0 + c];
          s0 -= l[a + c] * v;
          s1 -= l[b + c] * v;
          s2 -= l[d + c] * v;
        }
        if (inner < width) {
          s0 /= l[a + inner];
          s1 = (s1 - l[b + inner] * s0) / l[b + inner + 1];
          s2 = (s2 - l[d + inner] * s0 - l[d + inner + 1] * s1) / l[d + inner + 2];
        }
        y[t] = s0;
        y[t + 1] = s1;
        y[t + 2] = s2;
      }
    }
    for (let s = supernodes - 1; s >= 0; s--) {
      const c0 = 3 * first[s];
      const width = 3 * (first[s + 1] - first[s]);
      const r0 = rowStart[s];
      for (let i = rowStart[s + 1] - r0 - 1; i >= 0; i--) {
        const a = 9 * panel[s] + 3 * i * width;
        const b = a + width;
        const d = b + width;
        const t = 3 * row[r0 + i];
        const inner = 3 * i < width ? 3 * i : width;
        let v0 = y[t];
        let v1 = y[t + 1];
        let v2 = y[t + 2];
        if (inner < width) {
          v2 /= l[d + inner + 2];
          v1 = (v1 - l[d + inner + 1] * v2) / l[b + inner + 1];
          v0 = (v0 - l[d + inner] * v2 - l[b + inner] * v1) / l[a + inner];
          y[t] = v0;
          y[t + 1] = v1;
          y[t + 2] = v2;
        }
        for (let c = 0; c < inner; c++) {
          y[c0 + c] = y[c0 + c] - l[d + c] * v2 - l[b + c] * v1 - l[a + c] * v0;
        }
      }
    }
  }
}

/** Room to spare, as a share, so that a factor a little larger finds it. Chosen. */
const SPARE = 0.25;

function room(former: Float64Array | undefined, size: number): Float64Array {
  if (former && former.length >= size) return former;
  return new Float64Array(former ? Math.ceil((1 + SPARE) * size) : size);
}

/** Most blocks that one descendant's update can fill. */
function largestProduct(plan: CholeskyPlan): number {
  const { supernodes, first, owner, rowStart, row } = plan;
  let most = 1;
  for (let d = 0; d < supernodes; d++) {
    const end = rowStart[d + 1];
    for (let from = rowStart[d] + first[d + 1] - first[d]; from < end; ) {
      let own = from;
      while (own < end && owner[row[own]] === owner[row[from]]) own++;
      most = Math.max(most, (own - from) * (end - from));
      from = own;
    }
  }
  return most;
}

/** Columns of the supernode that owns a rank, in blocks. */
function widthOf(plan: CholeskyPlan, rank: number): number {
  const s = plan.owner[rank];
  return plan.first[s + 1] - plan.first[s];
}
