import { describe, expect, it } from 'vitest';
import { buildHinges, type Triangulation } from '../../src/math/hinges.ts';

/** Grid of rectangles a × b in both triangulations, n × n cells; positions in the plane. */
function grid(n: number, a: number, b: number) {
  const id = (i: number, j: number) => j * (n + 1) + i;
  const rising: number[] = [];
  const falling: number[] = [];
  const polygon: number[] = [];
  for (let j = 0; j < n; j++) {
    for (let i = 0; i < n; i++) {
      const [p, q, r, s] = [id(i, j), id(i + 1, j), id(i + 1, j + 1), id(i, j + 1)];
      rising.push(p, q, r, p, r, s);
      falling.push(p, q, s, q, r, s);
      polygon.push(j * n + i, j * n + i);
    }
  }
  const vertices = (n + 1) ** 2;
  const plane = new Float64Array(2 * vertices);
  for (let v = 0; v < vertices; v++) {
    plane[2 * v] = (v % (n + 1)) * a;
    plane[2 * v + 1] = Math.floor(v / (n + 1)) * b;
  }
  const layer = (t: number[]): Triangulation => ({
    triangles: Int32Array.from(t),
    polygon: Int32Array.from(polygon),
    weight: 0.5,
  });
  return { layers: [layer(rising), layer(falling)], vertices, plane };
}

function distanceIn(plane: Float64Array) {
  return (i: number, j: number) =>
    Math.hypot(plane[2 * i] - plane[2 * j], plane[2 * i + 1] - plane[2 * j + 1]);
}

function energy(
  { hinges, hingeWeights }: ReturnType<typeof buildHinges>,
  position: (v: number) => number[],
) {
  let sum = 0;
  for (let h = 0; h < hinges.length; h += 4) {
    const bend = [0, 0, 0];
    for (let m = 0; m < 4; m++) {
      const x = position(hinges[h + m]);
      for (let d = 0; d < 3; d++) bend[d] += hingeWeights[h + m] * x[d];
    }
    sum += 0.5 * (bend[0] ** 2 + bend[1] ** 2 + bend[2] ** 2);
  }
  return sum;
}

/** Rolls the plane onto a cylinder of curvature κ whose bend runs at an angle to the rows. */
function rolled(plane: Float64Array, curvature: number, angle: number) {
  const [c, s] = [Math.cos(angle), Math.sin(angle)];
  return (v: number) => {
    const [x, y] = [plane[2 * v], plane[2 * v + 1]];
    const along = (c * x + s * y) * curvature;
    return [Math.sin(along) / curvature, -s * x + c * y, (1 - Math.cos(along)) / curvature];
  };
}

describe('bending hinges', () => {
  it.each([
    ['along the rows', 1, 1, 0],
    ['across the rows', 1, 1, Math.PI / 2],
    ['at 45° on squares', 1, 1, Math.PI / 4],
    ['at 20° on squares', 1, 1, 0.35],
    ['along the rows of flat cells', 1, 0.5, 0],
    ['across the rows of flat cells', 1, 0.5, Math.PI / 2],
  ])('give a cylinder its ½κ² per area: bent %s', (_, a, b, angle) => {
    const n = 60;
    const mesh = grid(n, a, b);
    const hinges = buildHinges(mesh.layers, mesh.vertices, distanceIn(mesh.plane));
    const curvature = 0.02;
    const got = energy(hinges, rolled(mesh.plane, curvature, angle));
    const expected = 0.5 * curvature ** 2 * n * a * n * b;
    // The outermost row of edges has no hinge: a deficit of about 1/n a side.
    expect(Math.abs(got / expected - 1)).toBeLessThan(2.5 / n);
  });

  it('cost nothing while the sheet is flat, wherever and however it lies', () => {
    const mesh = grid(5, 1.3, 0.7);
    const hinges = buildHinges(mesh.layers, mesh.vertices, distanceIn(mesh.plane));
    const tilted = (v: number) => {
      const [x, y] = [mesh.plane[2 * v], mesh.plane[2 * v + 1]];
      return [x * 0.6 + 10, y, x * 0.8 - 4];
    };
    expect(energy(hinges, tilted)).toBeLessThan(1e-20);
  });

  it('have weights that shrink as one over the length unit', () => {
    const mesh = grid(4, 1, 1);
    const one = buildHinges(mesh.layers, mesh.vertices, distanceIn(mesh.plane));
    const scaled = buildHinges(
      mesh.layers,
      mesh.vertices,
      (i, j) => 10 * distanceIn(mesh.plane)(i, j),
    );
    for (let k = 0; k < one.hingeWeights.length; k++) {
      expect(scaled.hingeWeights[k]).toBeCloseTo(one.hingeWeights[k] / 10, 12);
    }
  });

  it('refuse a missing rest length by naming the edge', () => {
    const layer = { triangles: Int32Array.of(0, 1, 2, 1, 0, 3), polygon: null, weight: 1 };
    expect(() => buildHinges([layer], 4, () => Number.NaN)).toThrow(/edge 0–1/);
  });

  it('stay finite where rest lengths break the triangle inequality', () => {
    const layer = { triangles: Int32Array.of(0, 1, 2, 1, 0, 3), polygon: null, weight: 1 };
    const lengths = (i: number, j: number) => (i + j === 1 ? 5 : 1);
    const { hingeWeights } = buildHinges([layer], 4, lengths);
    expect(hingeWeights.every(Number.isFinite)).toBe(true);
    expect(hingeWeights.reduce((a, b) => a + b)).toBeCloseTo(0, 12);
  });
});
