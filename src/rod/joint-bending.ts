/**
 * The Gauss–Newton stiffness of bending at one joint: k (I − m mᵀ) between the turns of its two segments, m their mean
 * direction. In: a RodSystem with its tangents, a joint. Out: k, m and the weights of the joint's three nodes.
 */
import type { RodSystem } from './rod-system.ts';

/** Numbers that `jointBending` writes: k, m (3), weights of tail, middle and head (3). */
export const JOINT_NUMBERS = 7;

/** `joint`: index of the first of its two segments in `system.joints`. `tangents`: [4·segments] of elasticEnergy. */
export function jointBending(
  { rest, joints }: RodSystem,
  stiffness: number,
  tangents: Float64Array,
  joint: number,
  out: Float64Array,
): void {
  const s = joints[joint];
  const q = joints[joint + 1];
  const x = tangents[4 * s] + tangents[4 * q];
  const y = tangents[4 * s + 1] + tangents[4 * q + 1];
  const z = tangents[4 * s + 2] + tangents[4 * q + 2];
  const size = Math.sqrt(x * x + y * y + z * z) + 1e-12;
  const before = 1 / tangents[4 * s + 3];
  const behind = 1 / tangents[4 * q + 3];
  out[0] = (2 * stiffness) / (rest[s] + rest[q]);
  out[1] = x / size;
  out[2] = y / size;
  out[3] = z / size;
  out[4] = before;
  out[5] = -before - behind;
  out[6] = behind;
}
