/**
 * Bending hinges of a triangle mesh known only by its edges' rest lengths (no positions needed).
 * In: one or more triangulations of the same surface and a rest length per edge. Out: for every
 * inner edge four vertices and four weights q, so that ½ Σ_h |Σ_m q_hm x_m|² is the energy
 * ½ ∫ (κ₁² + κ₂²) of an isometrically bent sheet of unit bending stiffness.
 *
 * Form: M. Bergou, M. Wardetzky, D. Harmon, D. Zorin, E. Grinspun, "A quadratic bending model for
 * inextensible surfaces", SGP 2006: c are cotangents of the flat rest triangles, constant in time.
 * Constant: the paper's 3/(A₀+A₁) gives three times the energy of a cylinder on a regular mesh,
 * because the edges along the bend carry no fold at all; 1/(A₀+A₁) gives ½κ² per area on square
 * and equilateral meshes alike (tests/math/hinges.test.ts), so that is used here.
 */

export interface Triangulation {
  /** [3·triangles] vertex indices; any winding. */
  readonly triangles: Int32Array;
  /**
   * [triangles] polygon that each triangle was cut from, or null. An edge inside one polygon (a
   * quadrilateral's own diagonal) gets no hinge: both diagonals at half weight and no hinge on
   * either make the bending of a square grid isotropic and indifferent to mirroring.
   */
  readonly polygon: Int32Array | null;
  /** Share of the bending stiffness: 1 for a lone triangulation, ½ for each of two. */
  readonly weight: number;
}

export interface Hinges {
  /** [4·hinges] shared edge (0, 1), then the corner opposite it in either triangle (2, 3). */
  readonly hinges: Int32Array;
  /** [4·hinges] q, mm⁻¹. */
  readonly hingeWeights: Float64Array;
}

/** Thinnest triangle taken at its word: area over longest edge squared. Chosen; keeps q finite. */
const THINNEST = 0.02;

/** Area of a triangle with sides a, b, c; never less than a sliver of the longest side. */
function area(a: number, b: number, c: number): number {
  const sixteenAA = (a + b + c) * (b + c - a) * (c + a - b) * (a + b - c);
  const longest = Math.max(a, b, c);
  return Math.max(Math.sqrt(Math.max(sixteenAA, 0)) / 4, THINNEST * longest * longest);
}

/** `edgeLengthMm(i, j)` must be symmetric and positive for every edge of every triangle. */
export function buildHinges(
  triangulations: readonly Triangulation[],
  vertices: number,
  edgeLengthMm: (i: number, j: number) => number,
): Hinges {
  const hinges: number[] = [];
  const weights: number[] = [];
  for (const layer of triangulations) addLayer(layer, vertices, edgeLengthMm, hinges, weights);
  return { hinges: Int32Array.from(hinges), hingeWeights: Float64Array.from(weights) };
}

function addLayer(
  layer: Triangulation,
  vertices: number,
  edgeLengthMm: (i: number, j: number) => number,
  hinges: number[],
  weights: number[],
): void {
  const { triangles, polygon, weight } = layer;
  const sides = triangles.length;
  // Bucket the triangles' sides by their lower vertex; partners are then found in a short scan.
  const start = new Int32Array(vertices + 1);
  for (let s = 0; s < sides; s++) start[lowEnd(triangles, s) + 1]++;
  for (let v = 0; v < vertices; v++) start[v + 1] += start[v];
  const fill = start.slice();
  const bucket = new Int32Array(sides);
  for (let s = 0; s < sides; s++) {
    const low = lowEnd(triangles, s);
    const high = highEnd(triangles, s);
    for (let k = start[low]; k < fill[low]; k++) {
      const other = bucket[k];
      if (highEnd(triangles, other) !== high) continue;
      const t = (s / 3) | 0;
      const u = (other / 3) | 0;
      if (polygon !== null && polygon[t] === polygon[u]) continue;
      pushHinge(triangles, other, s, low, high, weight, edgeLengthMm, hinges, weights);
    }
    bucket[fill[low]++] = s;
  }
}

/** Side s of triangle ⌊s/3⌋ lies opposite its corner s mod 3. */
function lowEnd(triangles: Int32Array, s: number): number {
  const t = s - (s % 3);
  return Math.min(triangles[t + ((s + 1) % 3)], triangles[t + ((s + 2) % 3)]);
}

function highEnd(triangles: Int32Array, s: number): number {
  const t = s - (s % 3);
  return Math.max(triangles[t + ((s + 1) % 3)], triangles[t + ((s + 2) % 3)]);
}

function pushHinge(
  triangles: Int32Array,
  sideA: number,
  sideB: number,
  x0: number,
  x1: number,
  weight: number,
  edgeLengthMm: (i: number, j: number) => number,
  hinges: number[],
  weights: number[],
): void {
  const x2 = triangles[sideA];
  const x3 = triangles[sideB];
  if (x2 === x3) return;
  const e = edgeLengthMm(x0, x1);
  const a0 = edgeLengthMm(x0, x2);
  const a1 = edgeLengthMm(x1, x2);
  const b0 = edgeLengthMm(x0, x3);
  const b1 = edgeLengthMm(x1, x3);
  if (!(e > 0 && a0 > 0 && a1 > 0 && b0 > 0 && b1 > 0)) {
    throw new RangeError(`hinge on edge ${x0}–${x1}: a rest length is missing or not positive`);
  }
  const areaA = area(e, a0, a1);
  const areaB = area(e, b0, b1);
  // Cotangents of the angles at x0 and x1: (adjacent² sums − opposite²) / 4A.
  const cotA0 = (e * e + a0 * a0 - a1 * a1) / (4 * areaA);
  const cotA1 = (e * e + a1 * a1 - a0 * a0) / (4 * areaA);
  const cotB0 = (e * e + b0 * b0 - b1 * b1) / (4 * areaB);
  const cotB1 = (e * e + b1 * b1 - b0 * b0) / (4 * areaB);
  const factor = Math.sqrt(weight / (areaA + areaB));
  hinges.push(x0, x1, x2, x3);
  weights.push(
    factor * (cotA1 + cotB1),
    factor * (cotA0 + cotB0),
    -factor * (cotA0 + cotA1),
    -factor * (cotB0 + cotB1),
  );
}
