/**
 * What the fabric is coloured and lit by: normals, strain and bend of every surface vertex.
 *
 * Input: Metric and positions. Output: one value a vertex; strain as a fraction, bend in 1/mm.
 * Source of the bend: mean curvature by the cotangent Laplacian (Meyer, Desbrun, Schröder, Barr
 * 2003, equation 8), signed by the normal.
 */
import type { Metric } from '../../gauge/metric.ts';
import { vertexNormals } from '../../math/mesh-normals.ts';

/** Area-weighted unit normals towards the right side, [3·vertices]. */
export function computeNormals(metric: Metric, positions: ArrayLike<number>): Float32Array {
  return Float32Array.from(vertexNormals(positions, metric.triangles));
}

/** Mean stretch of the springs that meet at each vertex: + longer than at rest, − shorter. */
export function computeStrain(metric: Metric, positions: ArrayLike<number>): Float32Array {
  const strain = new Float32Array(metric.vertices);
  const count = new Uint16Array(metric.vertices);
  const { springs, restMm } = metric;
  for (let s = 0; s < restMm.length; s++) {
    const i = springs[2 * s];
    const j = springs[2 * s + 1];
    if (restMm[s] <= 0) continue;
    const length = Math.hypot(
      positions[3 * i] - positions[3 * j],
      positions[3 * i + 1] - positions[3 * j + 1],
      positions[3 * i + 2] - positions[3 * j + 2],
    );
    const value = length / restMm[s] - 1;
    strain[i] += value;
    strain[j] += value;
    count[i]++;
    count[j]++;
  }
  for (let v = 0; v < strain.length; v++) if (count[v]) strain[v] /= count[v];
  return strain;
}

/**
 * Mean curvature, 1/mm: + where the right side bulges out, − where it is hollow. Smoothed once over
 * the neighbours, because single stitches are too coarse a mesh for second differences.
 */
export function computeBend(
  metric: Metric,
  positions: ArrayLike<number>,
  normals: Float32Array,
): Float32Array {
  const n = metric.vertices;
  const laplacian = new Float64Array(3 * n);
  const area = new Float64Array(n);
  const rim = openEdgeVertices(metric);
  const { triangles } = metric;
  for (let t = 0; t < triangles.length; t += 3) {
    for (let k = 0; k < 3; k++) {
      // Cotangent of the angle at c weighs the edge a–b.
      const a = triangles[t + ((k + 1) % 3)];
      const b = triangles[t + ((k + 2) % 3)];
      const c = triangles[t + k];
      const ax = positions[3 * a] - positions[3 * c];
      const ay = positions[3 * a + 1] - positions[3 * c + 1];
      const az = positions[3 * a + 2] - positions[3 * c + 2];
      const bx = positions[3 * b] - positions[3 * c];
      const by = positions[3 * b + 1] - positions[3 * c + 1];
      const bz = positions[3 * b + 2] - positions[3 * c + 2];
      const dot = ax * bx + ay * by + az * bz;
      const cross = Math.hypot(ay * bz - az * by, az * bx - ax * bz, ax * by - ay * bx);
      if (cross < 1e-12) continue;
      // Clamped: slivers beside decreases would otherwise dominate.
      const cot = Math.max(-2, Math.min(2, dot / cross));
      for (let d = 0; d < 3; d++) {
        const along = positions[3 * b + d] - positions[3 * a + d];
        laplacian[3 * a + d] += (cot / 2) * along;
        laplacian[3 * b + d] -= (cot / 2) * along;
      }
      const alongSquared =
        (positions[3 * b] - positions[3 * a]) ** 2 +
        (positions[3 * b + 1] - positions[3 * a + 1]) ** 2 +
        (positions[3 * b + 2] - positions[3 * a + 2]) ** 2;
      // Mixed Voronoi area (same source, figure 4): by cotangents, or by fixed shares where obtuse.
      const obtuse = obtuseCorner(positions, triangles, t);
      if (obtuse < 0) {
        area[a] += (cot * alongSquared) / 8;
        area[b] += (cot * alongSquared) / 8;
      } else {
        area[c] += obtuse === k ? cross / 4 : cross / 8;
      }
    }
  }
  const raw = new Float32Array(n);
  for (let v = 0; v < n; v++) {
    if (area[v] <= 0 || rim[v]) continue;
    raw[v] =
      -(
        laplacian[3 * v] * normals[3 * v] +
        laplacian[3 * v + 1] * normals[3 * v + 1] +
        laplacian[3 * v + 2] * normals[3 * v + 2]
      ) /
      (2 * area[v]);
  }
  return averageOverNeighbours(metric, averageOverNeighbours(metric, raw, rim), rim);
}

/** Which corner (0, 1, 2) of a triangle is obtuse; −1 where none is. */
function obtuseCorner(positions: ArrayLike<number>, triangles: Int32Array, t: number): number {
  for (let k = 0; k < 3; k++) {
    const c = 3 * triangles[t + k];
    const a = 3 * triangles[t + ((k + 1) % 3)];
    const b = 3 * triangles[t + ((k + 2) % 3)];
    let dot = 0;
    for (let d = 0; d < 3; d++) {
      dot += (positions[a + d] - positions[c + d]) * (positions[b + d] - positions[c + d]);
    }
    if (dot < 0) return k;
  }
  return -1;
}

const rims = new WeakMap<Metric, Uint8Array>();

/** 1 for vertices on an edge of only one triangle. Kept: it is asked for with every picture. */
function openEdgeVertices(metric: Metric): Uint8Array {
  const known = rims.get(metric);
  if (known) return known;
  const seen = new Map<number, number>();
  const { triangles, vertices } = metric;
  for (let t = 0; t < triangles.length; t += 3) {
    for (let k = 0; k < 3; k++) {
      const a = triangles[t + k];
      const b = triangles[t + ((k + 1) % 3)];
      const key = Math.min(a, b) * vertices + Math.max(a, b);
      seen.set(key, (seen.get(key) ?? 0) + 1);
    }
  }
  const rim = new Uint8Array(vertices);
  for (const [key, count] of seen) {
    if (count !== 1) continue;
    rim[Math.floor(key / vertices)] = 1;
    rim[key % vertices] = 1;
  }
  rims.set(metric, rim);
  return rim;
}

/** Mean over a vertex and its spring neighbours; rim vertices give and take nothing of their own. */
function averageOverNeighbours(
  metric: Metric,
  values: Float32Array,
  rim: Uint8Array,
): Float32Array {
  const sum = new Float32Array(values.length);
  const count = new Uint16Array(values.length);
  for (let v = 0; v < values.length; v++) {
    if (rim[v]) continue;
    sum[v] = values[v];
    count[v] = 1;
  }
  for (let s = 0; s < metric.restMm.length; s++) {
    const i = metric.springs[2 * s];
    const j = metric.springs[2 * s + 1];
    if (!rim[j]) {
      sum[i] += values[j];
      count[i]++;
    }
    if (!rim[i]) {
      sum[j] += values[i];
      count[j]++;
    }
  }
  for (let v = 0; v < sum.length; v++) if (count[v]) sum[v] /= count[v];
  return sum;
}
