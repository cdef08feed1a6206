/**
 * Cloth held in its plane does not pass through itself: a triangle pressed below a share of its area at rest, or turned
 * over, is pushed open. Springs alone let a middle that is pressed together slip over to one side and lie there doubled.
 *
 * Input: the triangles of a Metric, counter-clockwise in the plane, with their areas at rest (`restAreas`, mm²), positions.
 * ½ s (t A₀ − A)² / A₀ for a triangle of area A < t A₀, A₀ at rest, s the stiffness (K = 1): nothing where none is pressed
 * so far.
 */
import type { Metric } from '../../gauge/metric.ts';
import { EdgeTable } from '../../math/edge-table.ts';

/** Share of its area to which a triangle is pressed before it is pushed open. Chosen: yarn then lies side by side. */
const LEAST_SHARE = 0.3;
/** Of that push, over the springs'. Chosen. */
const STIFFNESS = 10;

/** [triangles] mm², by the rest lengths of their edges (Heron); 0 where those make no triangle. */
export function restAreas({ triangles, springs, restMm, vertices }: Metric): Float64Array {
  const edges = new EdgeTable(vertices, restMm.length);
  for (let s = 0; s < restMm.length; s++) edges.add(springs[2 * s], springs[2 * s + 1]);
  const length = (i: number, j: number) => restMm[edges.find(i, j)] ?? 0;
  const areas = new Float64Array(triangles.length / 3);
  for (let t = 0; t < areas.length; t++) {
    const [i, j, k] = triangles.subarray(3 * t, 3 * t + 3);
    const [a, b, c] = [length(i, j), length(j, k), length(k, i)];
    const half = (a + b + c) / 2;
    areas[t] = Math.sqrt(Math.max(0, half * (half - a) * (half - b) * (half - c)));
  }
  return areas;
}

/** Energy at x (K = 1, mm²); adds the gradient to g. x and g are [3·vertices]. */
export function holdOpen(
  triangles: Int32Array,
  areas: Float64Array,
  x: Float64Array,
  g: Float64Array,
): number {
  let energy = 0;
  for (let t = 0; t < areas.length; t++) {
    const rest = areas[t];
    if (rest === 0) continue;
    const a = 3 * triangles[3 * t];
    const b = 3 * triangles[3 * t + 1];
    const c = 3 * triangles[3 * t + 2];
    const ux = x[b] - x[a];
    const uy = x[b + 1] - x[a + 1];
    const vx = x[c] - x[a];
    const vy = x[c + 1] - x[a + 1];
    const lack = LEAST_SHARE * rest - (ux * vy - uy * vx) / 2;
    if (!(lack > 0)) continue;
    energy += (STIFFNESS * lack * lack) / (2 * rest);
    // The gradient of the area is half the edge opposite, turned by a quarter.
    const pull = (-STIFFNESS * lack) / rest / 2;
    g[b] += pull * vy;
    g[b + 1] -= pull * vx;
    g[c] -= pull * uy;
    g[c + 1] += pull * ux;
    g[a] += pull * (uy - vy);
    g[a + 1] += pull * (vx - ux);
  }
  return energy;
}
