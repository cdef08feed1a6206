/**
 * The section: where an upright plane through the middle of the piece cuts the fabric.
 *
 * Input: Metric, positions, angle of the plane. Output: line segments, both in space and as
 * (distance along the plane, height), mm.
 */
import type { Metric } from '../../gauge/metric.ts';

export interface SectionCut {
  /** [6·segments] both ends of each segment, mm. */
  readonly points: Float32Array;
  /** [4·segments] along, height, along, height, mm; height counts from the lowest point of the piece. */
  readonly profile: Float32Array;
  readonly alongMinMm: number;
  readonly alongMaxMm: number;
  readonly heightMaxMm: number;
}

const EMPTY_SECTION: SectionCut = {
  points: new Float32Array(0),
  profile: new Float32Array(0),
  alongMinMm: 0,
  alongMaxMm: 0,
  heightMaxMm: 0,
};

/** Triangles with a vertex at or past `loopEnd` are not there yet (the piece is taken back). */
export function cutSection(
  metric: Metric,
  positions: ArrayLike<number>,
  angleRad: number,
  loopEnd: number,
): SectionCut {
  const ax = Math.cos(angleRad);
  const ay = Math.sin(angleRad);
  const points: number[] = [];
  const profile: number[] = [];
  let lowest = Number.POSITIVE_INFINITY;
  let highest = Number.NEGATIVE_INFINITY;
  let alongMin = Number.POSITIVE_INFINITY;
  let alongMax = Number.NEGATIVE_INFINITY;
  const { triangles } = metric;
  const end: number[] = [];
  for (let t = 0; t < triangles.length; t += 3) {
    if (triangles[t] >= loopEnd || triangles[t + 1] >= loopEnd || triangles[t + 2] >= loopEnd) {
      continue;
    }
    end.length = 0;
    for (let k = 0; k < 3; k++) {
      const i = 3 * triangles[t + k];
      const j = 3 * triangles[t + ((k + 1) % 3)];
      lowest = Math.min(lowest, positions[i + 2]);
      const di = positions[i + 1] * ax - positions[i] * ay;
      const dj = positions[j + 1] * ax - positions[j] * ay;
      // A vertex exactly on the plane counts as before it, so that no crossing is found twice.
      if (di < 0 === dj < 0) continue;
      const s = di / (di - dj);
      const x = positions[i] + s * (positions[j] - positions[i]);
      const y = positions[i + 1] + s * (positions[j + 1] - positions[i + 1]);
      const z = positions[i + 2] + s * (positions[j + 2] - positions[i + 2]);
      end.push(x, y, z);
    }
    if (end.length !== 6) continue;
    points.push(...end);
    for (const k of [0, 3]) {
      const along = end[k] * ax + end[k + 1] * ay;
      profile.push(along, end[k + 2]);
      alongMin = Math.min(alongMin, along);
      alongMax = Math.max(alongMax, along);
      highest = Math.max(highest, end[k + 2]);
    }
  }
  if (points.length === 0) return EMPTY_SECTION;
  for (let k = 1; k < profile.length; k += 2) profile[k] -= lowest;
  return {
    points: Float32Array.from(points),
    profile: Float32Array.from(profile),
    alongMinMm: alongMin,
    alongMaxMm: alongMax,
    heightMaxMm: highest - lowest,
  };
}
