/**
 * Contact between yarns summed over points spread evenly along every segment: energy and gradient over a PairList.
 *
 * The points stand in the middles of equal shares of a segment; two of them at a distance r < D repel with
 * k·(Lᵢ/m)·(Lⱼ/m)·φ(r), φ one of contact-law.ts: the double integral of φ along both yarns by the midpoint rule. While
 * points are nearer together than yarns are apart, its error falls with the square of the segment, as that of the polyline
 * does. Closest points (contact.ts) press too hard in proportion to the segment, but thin yarn cannot slip between them.
 */
import { type ClosestPoints, type ContactState, closestPoints, widen } from './contact.ts';
import { type ContactLaw, contactPotential, contactSlope } from './contact-law.ts';
import type { PairList } from './pair-list.ts';
import type { RodPlace } from './rod-elasticity.ts';
import type { RodSystem } from './rod-system.ts';

/** How yarn pushes back, as in a RodMaterial and the options of its relaxation (relax-rods.ts). */
interface SummedContact {
  readonly contact: number;
  readonly diameter: number;
  readonly law?: ContactLaw;
  /** Points a segment. */
  readonly samples: number;
}

/** Share of the diameter within which the true distance of two segments is looked for. Chosen: only a step's length hangs on it. */
const LOOKED_AT = 0.75;

const near: ClosestPoints = { s: 0.5, t: 0.5 };

/** As `contactEnergy` in contact.ts. */
export function summedContactEnergy(
  system: RodSystem,
  pairs: PairList,
  { contact: stiffness, diameter, law = 'shell', samples }: SummedContact,
  { positions, period, gradient, periodGradient, tangents }: RodPlace,
  state: ContactState,
): number {
  const { tail, head, rest } = system;
  const { first, second, imageX, imageY, count } = pairs;
  const periodX = period[0];
  const periodY = period[1];
  const d2 = diameter * diameter;
  let energy = 0;
  let closest = diameter;
  let touching = 0;
  for (let k = 0; k < count; k++) {
    const i = first[k];
    const j = second[k];
    const lengthI = tangents[4 * i + 3];
    const lengthJ = tangents[4 * j + 3];
    const a = 3 * tail[i];
    const b = 3 * tail[j];
    const ux = tangents[4 * i] * lengthI;
    const uy = tangents[4 * i + 1] * lengthI;
    const uz = tangents[4 * i + 2] * lengthI;
    const vx = tangents[4 * j] * lengthJ;
    const vy = tangents[4 * j + 1] * lengthJ;
    const vz = tangents[4 * j + 2] * lengthJ;
    const wx = positions[b] - positions[a] + imageX[k] * periodX;
    const wy = positions[b + 1] - positions[a + 1] + imageY[k] * periodY;
    const wz = positions[b + 2] - positions[a + 2];
    const mx = wx + 0.5 * (vx - ux);
    const my = wy + 0.5 * (vy - uy);
    const mz = wz + 0.5 * (vz - uz);
    const middle = mx * mx + my * my + mz * mz;
    const far = diameter + 0.5 * (lengthI + lengthJ);
    if (!(middle < far * far)) continue;
    const weight = (stiffness * rest[i] * rest[j]) / (samples * samples);
    let sum = 0;
    // Force on the second segment, and its parts that act on the heads of both.
    let fx = 0;
    let fy = 0;
    let fz = 0;
    let sx = 0;
    let sy = 0;
    let sz = 0;
    let tx = 0;
    let ty = 0;
    let tz = 0;
    let least = d2;
    for (let p = 0; p < samples; p++) {
      const s = (p + 0.5) / samples;
      const px = wx - s * ux;
      const py = wy - s * uy;
      const pz = wz - s * uz;
      for (let q = 0; q < samples; q++) {
        const t = (q + 0.5) / samples;
        const dx = px + t * vx;
        const dy = py + t * vy;
        const dz = pz + t * vz;
        const r2 = dx * dx + dy * dy + dz * dz;
        if (!(r2 < d2)) continue;
        if (r2 < least) least = r2;
        const r = Math.sqrt(r2 + 1e-300);
        sum += contactPotential(law, r, diameter);
        const g = contactSlope(law, r, diameter);
        const gx = g * dx;
        const gy = g * dy;
        const gz = g * dz;
        fx += gx;
        fy += gy;
        fz += gz;
        sx += s * gx;
        sy += s * gy;
        sz += s * gz;
        tx += t * gx;
        ty += t * gy;
        tz += t * gz;
      }
    }
    // Nearer than the nearest of the points by their shares' halves at most.
    let apart = Math.sqrt(least) - (0.5 * (lengthI + lengthJ)) / samples;
    if (sum === 0 && apart > LOOKED_AT * diameter) continue;
    if (touching === state.pair.length) widen(state);
    state.pair[touching] = k;
    if (apart < LOOKED_AT * diameter) {
      closestPoints(ux, uy, uz, vx, vy, vz, wx, wy, wz, near);
      const nx = wx + near.t * vx - near.s * ux;
      const ny = wy + near.t * vy - near.s * uy;
      const nz = wz + near.t * vz - near.s * uz;
      apart = Math.sqrt(nx * nx + ny * ny + nz * nz + 1e-300);
    }
    state.distance[touching++] = apart;
    if (apart < closest) closest = apart;
    energy += weight * sum;
    const c = 3 * head[i];
    const d = 3 * head[j];
    gradient[a] -= weight * (fx - sx);
    gradient[a + 1] -= weight * (fy - sy);
    gradient[a + 2] -= weight * (fz - sz);
    gradient[c] -= weight * sx;
    gradient[c + 1] -= weight * sy;
    gradient[c + 2] -= weight * sz;
    gradient[b] += weight * (fx - tx);
    gradient[b + 1] += weight * (fy - ty);
    gradient[b + 2] += weight * (fz - tz);
    gradient[d] += weight * tx;
    gradient[d + 1] += weight * ty;
    gradient[d + 2] += weight * tz;
    const shiftX = imageX[k];
    const shiftY = imageY[k];
    periodGradient[0] += weight * (shiftX * fx + system.imageX[j] * tx - system.imageX[i] * sx);
    periodGradient[1] += weight * (shiftY * fy + system.imageY[j] * ty - system.imageY[i] * sy);
  }
  state.closest = closest;
  state.touching = touching;
  return energy;
}
