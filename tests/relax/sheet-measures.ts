/** Measures of a relaxed sheet that several tests share. */

import type { Metric } from '../../src/gauge/metric.ts';

/** Extent along z, mm. */
export function riseMm(positions: Float64Array): number {
  let low = Number.POSITIVE_INFINITY;
  let high = Number.NEGATIVE_INFINITY;
  for (let k = 2; k < positions.length; k += 3) {
    low = Math.min(low, positions[k]);
    high = Math.max(high, positions[k]);
  }
  return high - low;
}

/** Mean distance from the z axis and mean height of the ring nearest to a depth, mm. */
export function ringAt(metric: Metric, positions: Float64Array, depthMm: number) {
  let nearest = Number.POSITIVE_INFINITY;
  let depth = 0;
  for (const d of metric.ring.depthMm) {
    if (Math.abs(d - depthMm) >= nearest) continue;
    nearest = Math.abs(d - depthMm);
    depth = d;
  }
  let radius = 0;
  let height = 0;
  let count = 0;
  metric.ring.depthMm.forEach((d, v) => {
    if (Math.abs(d - depth) > 1e-9) return;
    radius += Math.hypot(positions[3 * v], positions[3 * v + 1]);
    height += positions[3 * v + 2];
    count++;
  });
  return { radiusMm: radius / count, heightMm: height / count };
}

/** Sum of the triangles' area vectors, mm². */
export function areaVector(metric: Metric, x: Float64Array): [number, number, number] {
  const sum: [number, number, number] = [0, 0, 0];
  for (let t = 0; t < metric.triangles.length; t += 3) {
    const [a, b, c] = [0, 1, 2].map((k) => 3 * metric.triangles[t + k]);
    const u = [0, 1, 2].map((d) => x[b + d] - x[a + d]);
    const v = [0, 1, 2].map((d) => x[c + d] - x[a + d]);
    for (let d = 0; d < 3; d++) {
      const [e, f] = [(d + 1) % 3, (d + 2) % 3];
      sum[d] += (u[e] * v[f] - u[f] * v[e]) / 2;
    }
  }
  return sum;
}

/** Distances between every vertex and a few others: a shape without its place in space. */
export function shapeOf(x: Float64Array): Float64Array {
  const n = x.length / 3;
  const marks = [0, n >> 2, n >> 1, n - 1];
  const result = new Float64Array(n * marks.length);
  for (let v = 0; v < n; v++) {
    marks.forEach((m, k) => {
      result[v * marks.length + k] = Math.hypot(
        x[3 * v] - x[3 * m],
        x[3 * v + 1] - x[3 * m + 1],
        x[3 * v + 2] - x[3 * m + 2],
      );
    });
  }
  return result;
}

export function largestDifference(a: Float64Array, b: Float64Array): number {
  let most = 0;
  for (let k = 0; k < a.length; k++) most = Math.max(most, Math.abs(a[k] - b[k]));
  return most;
}
