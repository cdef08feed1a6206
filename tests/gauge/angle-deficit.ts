/** Discrete Gaussian curvature of a metric from its rest lengths alone: 2π − Σ angles at a vertex. */
import type { Metric } from '../../src/gauge/metric.ts';

export interface Deficits {
  /** [vertices] rad; 0 on the boundary. */
  readonly deficitRad: Float64Array;
  readonly onBoundary: Uint8Array;
}

export function angleDeficits(metric: Metric): Deficits {
  const { vertices, springs, restMm, triangles } = metric;
  const rest = new Map<number, number>();
  const key = (i: number, j: number): number => Math.min(i, j) * vertices + Math.max(i, j);
  for (let s = 0; s < restMm.length; s++)
    rest.set(key(springs[2 * s], springs[2 * s + 1]), restMm[s]);
  const angle = new Float64Array(vertices);
  const sides = new Map<number, number>();
  for (let k = 0; k < triangles.length; k += 3) {
    for (let q = 0; q < 3; q++) {
      const a = triangles[k + q];
      const b = triangles[k + ((q + 1) % 3)];
      const c = triangles[k + ((q + 2) % 3)];
      const ab = rest.get(key(a, b)) as number;
      const ac = rest.get(key(a, c)) as number;
      const bc = rest.get(key(b, c)) as number;
      const cos = (ab * ab + ac * ac - bc * bc) / (2 * ab * ac);
      angle[a] += Math.acos(Math.min(1, Math.max(-1, cos)));
      sides.set(key(a, b), (sides.get(key(a, b)) ?? 0) + 1);
    }
  }
  const onBoundary = new Uint8Array(vertices);
  for (const [edge, count] of sides) {
    if (count !== 1) continue;
    onBoundary[Math.floor(edge / vertices)] = 1;
    onBoundary[edge % vertices] = 1;
  }
  const deficitRad = angle.map((sum, v) => (onBoundary[v] || sum === 0 ? 0 : 2 * Math.PI - sum));
  return { deficitRad, onBoundary };
}
