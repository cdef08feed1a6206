/**
 * Stretch and bending of a RodSystem: energy and gradient.
 *
 * Stretch: ½ EA (|e| − L)² / L a segment. Bending: ½ B |t₂ − t₁|² / L a joint, L the mean rest length
 * of its two segments (the discrete elastic rod without twist; Bergou et al. 2008, straight at rest).
 */
import type { RodSystem } from './rod-system.ts';

/** Where a system is looked at, and what its energies are added to. */
export interface RodPlace {
  /** [3·nodes] and [x, y] of the cell. */
  readonly positions: Float64Array;
  readonly period: Float64Array;
  /** Of the same sizes: energies add their gradients. */
  readonly gradient: Float64Array;
  readonly periodGradient: Float64Array;
  /** [4·segments] unit tangent and length: `elasticEnergy` fills them in for its joints and for contact. */
  readonly tangents: Float64Array;
}

/** Stretch EA and bending B. */
export function elasticEnergy(
  system: RodSystem,
  { stretch, bending }: { readonly stretch: number; readonly bending: number },
  { positions, period, gradient, periodGradient, tangents }: RodPlace,
): number {
  const { tail, head, imageX, imageY, rest, segments, joints } = system;
  const periodX = period[0];
  const periodY = period[1];
  let virialX = 0;
  let virialY = 0;
  let energy = 0;
  for (let s = 0; s < segments; s++) {
    const a = 3 * tail[s];
    const b = 3 * head[s];
    const ex = positions[b] - positions[a] + imageX[s] * periodX;
    const ey = positions[b + 1] - positions[a + 1] + imageY[s] * periodY;
    const ez = positions[b + 2] - positions[a + 2];
    const length = Math.sqrt(ex * ex + ey * ey + ez * ez) + 1e-300;
    const tx = ex / length;
    const ty = ey / length;
    const tz = ez / length;
    tangents[4 * s] = tx;
    tangents[4 * s + 1] = ty;
    tangents[4 * s + 2] = tz;
    tangents[4 * s + 3] = length;
    const strain = (length - rest[s]) / rest[s];
    energy += 0.5 * stretch * strain * (length - rest[s]);
    const force = stretch * strain;
    const fx = force * tx;
    const fy = force * ty;
    const fz = force * tz;
    gradient[a] -= fx;
    gradient[a + 1] -= fy;
    gradient[a + 2] -= fz;
    gradient[b] += fx;
    gradient[b + 1] += fy;
    gradient[b + 2] += fz;
    virialX += imageX[s] * fx;
    virialY += imageY[s] * fy;
  }
  for (let j = 0; j < joints.length; j += 2) {
    const s = joints[j];
    const q = joints[j + 1];
    const px = tangents[4 * s];
    const py = tangents[4 * s + 1];
    const pz = tangents[4 * s + 2];
    const qx = tangents[4 * q];
    const qy = tangents[4 * q + 1];
    const qz = tangents[4 * q + 2];
    const cos = px * qx + py * qy + pz * qz;
    const k = (2 * bending) / (rest[s] + rest[q]);
    // ½|t₂ − t₁|² is 1 − cos without its rounding at small angles.
    energy += 0.5 * k * ((qx - px) * (qx - px) + (qy - py) * (qy - py) + (qz - pz) * (qz - pz));
    // d(1 − t₁·t₂)/de₁ = −(t₂ − cos t₁)/|e₁|, and the mirror image for e₂.
    const ks = k / tangents[4 * s + 3];
    const kq = k / tangents[4 * q + 3];
    const sx = -ks * (qx - cos * px);
    const sy = -ks * (qy - cos * py);
    const sz = -ks * (qz - cos * pz);
    const rx = -kq * (px - cos * qx);
    const ry = -kq * (py - cos * qy);
    const rz = -kq * (pz - cos * qz);
    let a = 3 * tail[s];
    let b = 3 * head[s];
    gradient[a] -= sx;
    gradient[a + 1] -= sy;
    gradient[a + 2] -= sz;
    gradient[b] += sx;
    gradient[b + 1] += sy;
    gradient[b + 2] += sz;
    a = 3 * tail[q];
    b = 3 * head[q];
    gradient[a] -= rx;
    gradient[a + 1] -= ry;
    gradient[a + 2] -= rz;
    gradient[b] += rx;
    gradient[b + 1] += ry;
    gradient[b + 2] += rz;
    virialX += imageX[s] * sx + imageX[q] * rx;
    virialY += imageY[s] * sy + imageY[q] * ry;
  }
  periodGradient[0] += virialX;
  periodGradient[1] += virialY;
  return energy;
}
