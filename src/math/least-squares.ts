/**
 * Heights of points that are tied in pairs: minimises Σ weight (scale (x_to − x_from) − want)² with some points held.
 * Solved by conjugate gradients with a diagonal preconditioner (Hestenes and Stiefel 1952).
 */
export interface AffineEdges {
  readonly from: number[];
  readonly to: number[];
  readonly scale: number[];
  readonly want: number[];
  readonly weight: number[];
}

/** Of the first residual. */
const TOLERANCE = 1e-8;
const MOST_STEPS = 2000;

/** `x` by point: start in, solution out; points in `fixed` keep theirs. */
export function leastSquares(
  edges: AffineEdges,
  x: Map<number, number>,
  fixed: ReadonlySet<number>,
): void {
  const points = [...x.keys()];
  const index = new Map(points.map((p, i) => [p, i]));
  const n = points.length;
  const m = edges.from.length;
  const free = Uint8Array.from(points, (p) => (fixed.has(p) ? 0 : 1));
  const from = Int32Array.from(edges.from, (p) => index.get(p) ?? 0);
  const to = Int32Array.from(edges.to, (p) => index.get(p) ?? 0);
  const stiff = Float64Array.from({ length: m }, (_, e) => edges.weight[e] * edges.scale[e] ** 2);
  const value = Float64Array.from(points, (p) => x.get(p) ?? 0);
  const rest = new Float64Array(n);
  const diagonal = new Float64Array(n);
  for (let e = 0; e < m; e++) {
    const pull =
      edges.weight[e] * edges.scale[e] * edges.want[e] - stiff[e] * (value[to[e]] - value[from[e]]);
    rest[to[e]] += pull;
    rest[from[e]] -= pull;
    diagonal[to[e]] += stiff[e];
    diagonal[from[e]] += stiff[e];
  }
  const way = new Float64Array(n);
  const image = new Float64Array(n);
  let before = 0;
  let first = 0;
  for (let step = 0; step < MOST_STEPS; step++) {
    let now = 0;
    for (let i = 0; i < n; i++) {
      if (!free[i] || !(diagonal[i] > 0)) rest[i] = 0;
      else now += rest[i] ** 2 / diagonal[i];
    }
    if (step === 0) first = now;
    if (!(now > TOLERANCE ** 2 * first)) break;
    const keep = step === 0 ? 0 : now / before;
    for (let i = 0; i < n; i++) way[i] = rest[i] / (diagonal[i] || 1) + keep * way[i];
    image.fill(0);
    for (let e = 0; e < m; e++) {
      const pull = stiff[e] * (way[to[e]] - way[from[e]]);
      image[to[e]] += pull;
      image[from[e]] -= pull;
    }
    let slope = 0;
    for (let i = 0; i < n; i++) slope += way[i] * image[i];
    const size = now / slope;
    for (let i = 0; i < n; i++) {
      value[i] += size * way[i];
      rest[i] -= size * image[i];
    }
    before = now;
  }
  points.forEach((p, i) => {
    if (free[i]) x.set(p, value[i]);
  });
}
