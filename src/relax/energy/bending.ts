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
