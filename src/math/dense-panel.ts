/**
 * Dense kernels of the supernodal Cholesky factorisation, on panels stored row by row. All sums run
 * along contiguous rows; 3 × 3 tiles keep nine running sums in registers.
 */

/**
 * W = A Bᵀ of rows of length k that lie in `l` from `a` on: A all of them, B the first `columns` ≤ rows. Of the
 * first rows, whose product is symmetric, only what lies up to the diagonal is sure to be filled.
 */
export function multiplyRows(
  l: Float64Array,
  a: number,
  rows: number,
  columns: number,
  k: number,
  w: Float64Array,
): void {
  let i = 0;
  for (; i + 3 <= rows; i += 3) {
    const a0 = a + i * k;
    const w0 = i * columns;
    const last = i + 3 < columns ? i + 3 : columns;
    let j = 0;
    for (; j + 3 <= last; j += 3) tile3(l, a0, a + j * k, k, k, w, w0 + j, columns);
    for (; j < last; j++) {
      const b0 = a + j * k;
      for (let r = 0; r < 3; r++) w[w0 + r * columns + j] = dot(l, a0 + r * k, b0, k);
    }
  }
  for (; i < rows; i++) {
    const last = i < columns ? i + 1 : columns;
    for (let j = 0; j < last; j++) w[i * columns + j] = dot(l, a + i * k, a + j * k, k);
  }
}

function dot(l: Float64Array, a: number, b: number, k: number): number {
  let sum = 0;
  for (let c = 0; c < k; c++) sum += l[a + c] * l[b + c];
  return sum;
}

/** Nine dot products of three rows (stride `k`) with three rows, over the first `length` columns. */
function tile3(
  l: Float64Array,
  a: number,
  b: number,
  k: number,
  length: number,
  w: Float64Array,
  at: number,
  stride: number,
): void {
  const a1 = a + k;
  const a2 = a1 + k;
  const b1 = b + k;
  const b2 = b1 + k;
  let s00 = 0;
  let s01 = 0;
  let s02 = 0;
  let s10 = 0;
  let s11 = 0;
  let s12 = 0;
  let s20 = 0;
  let s21 = 0;
  let s22 = 0;
  for (let c = 0; c < length; c++) {
    const p0 = l[a + c];
    const p1 = l[a1 + c];
    const p2 = l[a2 + c];
    const q0 = l[b + c];
    const q1 = l[b1 + c];
    const q2 = l[b2 + c];
    s00 += p0 * q0;
    s01 += p0 * q1;
    s02 += p0 * q2;
    s10 += p1 * q0;
    s11 += p1 * q1;
    s12 += p1 * q2;
    s20 += p2 * q0;
    s21 += p2 * q1;
    s22 += p2 * q2;
  }
  w[at] = s00;
  w[at + 1] = s01;
  w[at + 2] = s02;
  w[at + stride] = s10;
  w[at + stride + 1] = s11;
  w[at + stride + 2] = s12;
  w[at + 2 * stride] = s20;
  w[at + 2 * stride + 1] = s21;
  w[at + 2 * stride + 2] = s22;
}

const tile = new Float64Array(9);

/**
 * Factors a panel in place: its top `columns` rows become lower triangular, the rows below are
 * divided by it. Returns −1, or the column whose pivot is not positive (also for not-a-number).
 */
export function factorPanel(
  l: Float64Array,
  at: number,
  rows: number,
  columns: number,
  leastPivot: number,
): number {
  const k = columns;
  let j = 0;
  for (; j + 3 <= columns; j += 3) {
    const b = at + j * k;
    // The 3 × 3 block on the diagonal.
    if (j > 0) {
      tile3(l, b, b, k, j, tile, 0, 3);
      l[b + j] -= tile[0];
      l[b + k + j] -= tile[3];
      l[b + k + j + 1] -= tile[4];
      l[b + 2 * k + j] -= tile[6];
      l[b + 2 * k + j + 1] -= tile[7];
      l[b + 2 * k + j + 2] -= tile[8];
    }
    if (!(l[b + j] > leastPivot)) return j;
    const d0 = Math.sqrt(l[b + j]);
    const e10 = l[b + k + j] / d0;
    const p1 = l[b + k + j + 1] - e10 * e10;
    if (!(p1 > leastPivot)) return j + 1;
    const d1 = Math.sqrt(p1);
    const e20 = l[b + 2 * k + j] / d0;
    const e21 = (l[b + 2 * k + j + 1] - e20 * e10) / d1;
    const p2 = l[b + 2 * k + j + 2] - e20 * e20 - e21 * e21;
    if (!(p2 > leastPivot)) return j + 2;
    const d2 = Math.sqrt(p2);
    l[b + j] = d0;
    l[b + k + j] = e10;
    l[b + k + j + 1] = d1;
    l[b + 2 * k + j] = e20;
    l[b + 2 * k + j + 1] = e21;
    l[b + 2 * k + j + 2] = d2;
    const r0 = 1 / d0;
    const r1 = 1 / d1;
    const r2 = 1 / d2;
    let i = j + 3;
    for (; i + 3 <= rows; i += 3) {
      const a = at + i * k;
      if (j > 0) tile3(l, a, b, k, j, tile, 0, 3);
      else tile.fill(0);
      for (let r = 0; r < 3; r++) {
        const c = a + r * k + j;
        const x0 = (l[c] - tile[3 * r]) * r0;
        const x1 = (l[c + 1] - tile[3 * r + 1] - x0 * e10) * r1;
        l[c] = x0;
        l[c + 1] = x1;
        l[c + 2] = (l[c + 2] - tile[3 * r + 2] - x0 * e20 - x1 * e21) * r2;
      }
    }
    for (; i < rows; i++) {
      const a = at + i * k;
      const x0 = (l[a + j] - dot(l, a, b, j)) * r0;
      const x1 = (l[a + j + 1] - dot(l, a, b + k, j) - x0 * e10) * r1;
      l[a + j] = x0;
      l[a + j + 1] = x1;
      l[a + j + 2] = (l[a + j + 2] - dot(l, a, b + 2 * k, j) - x0 * e20 - x1 * e21) * r2;
    }
  }
  for (; j < columns; j++) {
    const b = at + j * k;
    const pivot = l[b + j] - dot(l, b, b, j);
    if (!(pivot > leastPivot)) return j;
    const d = Math.sqrt(pivot);
    l[b + j] = d;
    for (let i = j + 1; i < rows; i++) {
      const a = at + i * k;
      l[a + j] = (l[a + j] - dot(l, a, b, j)) / d;
    }
  }
  return -1;
}
