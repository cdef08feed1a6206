/**
 * Bending energy of the sheet: ½ l² Σ_h |Σ_m q_hm x_m|² over the Metric's hinges, mm² (K = 1).
 * Quadratic in the positions (Bergou et al. 2006, see math/hinges.ts), so its Hessian is constant and
 * the same for each of x, y, z.
 */

import type { Metric } from '../../gauge/metric.ts';
import type { SymmetricBlocks } from '../../math/symmetric-blocks.ts';

/** Energy at x; adds the gradient to g. Both are [3·vertices]. */
export function bend(metric: Metric, x: Float64Array, g: Float64Array): number {
  const { hinges, hingeWeights: q, bendingMm } = metric;
  const ll = bendingMm * bendingMm;
  let energy = 0;
  for (let h = 0; h < hinges.length; h += 4) {
    const a = 3 * hinges[h];
    const b = 3 * hinges[h + 1];
    const c = 3 * hinges[h + 2];
    const d = 3 * hinges[h + 3];
    const qa = q[h];
    const qb = q[h + 1];
    const qc = q[h + 2];
    const qd = q[h + 3];
    const bx = qa * x[a] + qb * x[b] + qc * x[c] + qd * x[d];
    const by = qa * x[a + 1] + qb * x[b + 1] + qc * x[c + 1] + qd * x[d + 1];
    const bz = qa * x[a + 2] + qb * x[b + 2] + qc * x[c + 2] + qd * x[d + 2];
    energy += bx * bx + by * by + bz * bz;
    const fx = ll * bx;
    const fy = ll * by;
    const fz = ll * bz;
    g[a] += qa * fx;
    g[a + 1] += qa * fy;
    g[a + 2] += qa * fz;
    g[b] += qb * fx;
    g[b + 1] += qb * fy;
    g[b + 2] += qb * fz;
    g[c] += qc * fx;
    g[c + 1] += qc * fy;
    g[c + 2] += qc * fz;
    g[d] += qd * fx;
    g[d + 1] += qd * fy;
    g[d + 2] += qd * fz;
  }
  return (ll * energy) / 2;
}

/**
 * Energy of fabric that wants to curl, −Σ_h moments_h · det(x₁ − x₀, x₂ − x₀, x₃ − x₀) and a constant; adds the
 * gradient to g. For a fold θ it is −k θ_h sin θ beside the k (1 − cos θ) of `bend`: at rest tan θ = θ_h.
 */
export function curl(metric: Metric, x: Float64Array, g: Float64Array): number {
  if (!metric.curl) return 0;
  const { hinges } = metric;
  const { moments } = metric.curl;
  let { energy } = metric.curl;
  for (let h = 0, m = 0; m < moments.length; h += 4, m++) {
    const k = moments[m];
    if (k === 0) continue;
    const o = 3 * hinges[h];
    const a = 3 * hinges[h + 1];
    const b = 3 * hinges[h + 2];
    const c = 3 * hinges[h + 3];
    const ax = x[a] - x[o];
    const ay = x[a + 1] - x[o + 1];
    const az = x[a + 2] - x[o + 2];
    const bx = x[b] - x[o];
    const by = x[b + 1] - x[o + 1];
    const bz = x[b + 2] - x[o + 2];
    const cx = x[c] - x[o];
    const cy = x[c + 1] - x[o + 1];
    const cz = x[c + 2] - x[o + 2];
    // Cross products: the volume's derivatives by a, b and c.
    const dax = by * cz - bz * cy;
    const day = bz * cx - bx * cz;
    const daz = bx * cy - by * cx;
    const dbx = cy * az - cz * ay;
    const dby = cz * ax - cx * az;
    const dbz = cx * ay - cy * ax;
    const dcx = ay * bz - az * by;
    const dcy = az * bx - ax * bz;
    const dcz = ax * by - ay * bx;
    energy -= k * (ax * dax + ay * day + az * daz);
    g[a] -= k * dax;
    g[a + 1] -= k * day;
    g[a + 2] -= k * daz;
    g[b] -= k * dbx;
    g[b + 1] -= k * dby;
    g[b + 2] -= k * dbz;
    g[c] -= k * dcx;
    g[c + 1] -= k * dcy;
    g[c + 2] -= k * dcz;
    g[o] += k * (dax + dbx + dcx);
    g[o + 1] += k * (day + dby + dcy);
    g[o + 2] += k * (daz + dbz + dcz);
  }
  return energy;
}

/** Pairs of a hinge's four corners, in the order of the slots given to the two functions below. */
export const HINGE_PAIRS = [0, 1, 0, 2, 0, 3, 1, 2, 1, 3, 2, 3] as const;

/** Adds the Hessian, the same number on every block's diagonal; `slot` is [6·hinges]. */
export function addBendHessian(metric: Metric, slot: Int32Array, matrix: SymmetricBlocks): void {
  const { hinges, hingeWeights: q, bendingMm } = metric;
  const { diagonal, lower } = matrix;
  const ll = bendingMm * bendingMm;
  for (let h = 0, e = 0; h < hinges.length; h += 4) {
    for (let m = 0; m < 4; m++) addToAll(diagonal, 6 * hinges[h + m], ll * q[h + m] * q[h + m]);
    for (let p = 0; p < 12; p += 2, e++) {
      const value = ll * q[h + HINGE_PAIRS[p]] * q[h + HINGE_PAIRS[p + 1]];
      addToAll(lower, 6 * slot[e], value);
    }
  }
}

function addToAll(to: Float64Array, at: number, value: number): void {
  to[at] += value;
  to[at + 3] += value;
  to[at + 5] += value;
}
