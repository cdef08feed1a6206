/**
 * Stretch energy of the sheet: ½ Σ k (|x_i − x_j| − L)² over the Metric's springs, mm² (K = 1).
 * Adds its gradient, and its Hessian with the part that could make it indefinite left out.
 */

import type { Metric } from '../../gauge/metric.ts';
import type { SymmetricBlocks } from '../../math/symmetric-blocks.ts';

/** Energy at x; adds the gradient to g. Both are [3·vertices]. */
export function stretch(metric: Metric, x: Float64Array, g: Float64Array): number {
  const { springs, restMm, stiffness } = metric;
  let energy = 0;
  for (let s = 0; s < restMm.length; s++) {
    const i = 3 * springs[2 * s];
    const j = 3 * springs[2 * s + 1];
    const dx = x[i] - x[j];
    const dy = x[i + 1] - x[j + 1];
    const dz = x[i + 2] - x[j + 2];
    const length = Math.sqrt(dx * dx + dy * dy + dz * dz);
    const over = length - restMm[s];
    const force = stiffness[s] * over;
    energy += force * over;
    // A spring of no length pushes nowhere: its gradient is not defined there.
    const along = length > 0 ? force / length : 0;
    g[i] += along * dx;
    g[i + 1] += along * dy;
    g[i + 2] += along * dz;
    g[j] -= along * dx;
    g[j + 1] -= along * dy;
    g[j + 2] -= along * dz;
  }
  return energy / 2;
}

/** out += H v with the exact Hessian at x, sideways push of compressed springs included. */
export function stretchCurvature(
  metric: Metric,
  x: Float64Array,
  v: Float64Array,
  out: Float64Array,
): void {
  const { springs, restMm, stiffness } = metric;
  for (let s = 0; s < restMm.length; s++) {
    const i = 3 * springs[2 * s];
    const j = 3 * springs[2 * s + 1];
    const ux = x[i] - x[j];
    const uy = x[i + 1] - x[j + 1];
    const uz = x[i + 2] - x[j + 2];
    const squared = ux * ux + uy * uy + uz * uz;
    if (!(squared > 0)) continue;
    const vx = v[i] - v[j];
    const vy = v[i + 1] - v[j + 1];
    const vz = v[i + 2] - v[j + 2];
    const across = stiffness[s] * (1 - restMm[s] / Math.sqrt(squared));
    const along = ((stiffness[s] - across) * (ux * vx + uy * vy + uz * vz)) / squared;
    const fx = across * vx + along * ux;
    const fy = across * vy + along * uy;
    const fz = across * vz + along * uz;
    out[i] += fx;
    out[i + 1] += fy;
    out[i + 2] += fz;
    out[j] -= fx;
    out[j + 1] -= fy;
    out[j + 2] -= fz;
  }
}

/**
 * Adds k (u uᵀ + max(0, 1 − L/|d|) (I − u uᵀ)) per spring: the Hessian with
 * the sideways push of compressed springs dropped, hence never negative. `slot` holds each
 * spring's place in the lower blocks.
 */
export function addStretchHessian(
  metric: Metric,
  slot: Int32Array,
  x: Float64Array,
  matrix: SymmetricBlocks,
): void {
  const { springs, restMm, stiffness } = metric;
  const { diagonal, lower } = matrix;
  for (let s = 0; s < restMm.length; s++) {
    const p = springs[2 * s];
    const q = springs[2 * s + 1];
    const ux = x[3 * p] - x[3 * q];
    const uy = x[3 * p + 1] - x[3 * q + 1];
    const uz = x[3 * p + 2] - x[3 * q + 2];
    const squared = ux * ux + uy * uy + uz * uz;
    if (!(squared > 0)) continue;
    const k = stiffness[s];
    const across = k * Math.max(0, 1 - restMm[s] / Math.sqrt(squared));
    const along = (k - across) / squared;
    const xx = across + along * ux * ux;
    const yy = across + along * uy * uy;
    const zz = across + along * uz * uz;
    const xy = along * ux * uy;
    const xz = along * ux * uz;
    const yz = along * uy * uz;
    addBlock(diagonal, 6 * p, xx, yy, zz, xy, xz, yz, 1);
    addBlock(diagonal, 6 * q, xx, yy, zz, xy, xz, yz, 1);
    addBlock(lower, 6 * slot[s], xx, yy, zz, xy, xz, yz, -1);
  }
}

function addBlock(
  to: Float64Array,
  at: number,
  xx: number,
  yy: number,
  zz: number,
  xy: number,
  xz: number,
  yz: number,
  sign: number,
): void {
  to[at] += sign * xx;
  to[at + 1] += sign * xy;
  to[at + 2] += sign * xz;
  to[at + 3] += sign * yy;
  to[at + 4] += sign * yz;
  to[at + 5] += sign * zz;
}
