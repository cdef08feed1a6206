/** Cells → triangles and unique edges with their rest lengths. */
import type { Cells } from '../../fabric/cells.ts';
import { EdgeTable } from '../../math/edge-table.ts';
import type { Triangulation } from '../../math/hinges.ts';

export interface Mesh {
  readonly edges: EdgeTable;
  /** [edges] 1 for a diagonal of a quadrilateral. */
  readonly diagonal: Uint8Array;
  /** [edges] rest length, mm. */
  readonly restMm: Float64Array;
  readonly triangles: Int32Array;
  readonly layers: readonly Triangulation[];
}

/** Cuts every cell into triangles: quadrilaterals both ways, at half weight each. */
export function cutCells(cells: Cells, restMm: (i: number, j: number) => number): Mesh {
  const { cellStart, corners, vertices } = cells;
  const count = cellStart.length - 1;
  // A polygon of n corners makes n − 2 triangles.
  const total = corners.length - 2 * count;
  const edges = new EdgeTable(vertices, 2 * total + 2);
  for (let q = 0; q < count; q++) {
    const at = cellStart[q];
    const n = cellStart[q + 1] - at;
    for (let k = 0; k < n; k++) edges.add(corners[at + k], corners[at + ((k + 1) % n)]);
  }
  const sides = edges.count;
  const cuts = [new Int32Array(3 * total), new Int32Array(3 * total)];
  const owner = new Int32Array(total);
  for (let q = 0, t = 0; q < count; q++) {
    const at = cellStart[q];
    const n = cellStart[q + 1] - at;
    for (let k = 1; k + 1 < n; k++, t++) {
      owner[t] = q;
      cuts[0].set([corners[at], corners[at + k], corners[at + k + 1]], 3 * t);
      // The other cut of a quadrilateral starts from its second corner.
      const shift = n === 4 ? 1 : 0;
      const other = [at + shift, at + k + shift, at + ((k + 1 + shift) % n)];
      for (let m = 0; m < 3; m++) cuts[1][3 * t + m] = corners[other[m]];
      if (k + 2 < n) edges.add(corners[at], corners[at + k + 1]);
      if (n === 4 && k === 1) edges.add(corners[at + 1], corners[at + 3]);
    }
  }
  const diagonal = new Uint8Array(edges.count).fill(1, sides);
  const ends = edges.ends();
  const lengths = new Float64Array(edges.count);
  for (let e = 0; e < lengths.length; e++) lengths[e] = restMm(ends[2 * e], ends[2 * e + 1]);
  const triangles = chooseCuts(cells, cuts, edges, lengths);
  const layers = cuts.map((cut) => ({ triangles: cut, polygon: owner, weight: 0.5 }));
  return { edges, diagonal, restMm: lengths, triangles, layers };
}

/** Two cuts of a convex quadrilateral cover the same area to this share. Chosen: rest lengths of a
 * curved sheet fit no plane exactly. */
const SAME_AREA = 0.02;

/**
 * Returns the triangles for drawing: quadrilaterals cut along their shorter diagonal. A quadrilateral
 * with a hollow corner (beside the jog of an increase) has one diagonal outside it; that cut is
 * replaced by the other one, for the bending hinges as well.
 */
function chooseCuts(
  cells: Cells,
  cuts: readonly Int32Array[],
  edges: EdgeTable,
  restMm: Float64Array,
): Int32Array {
  const { cellStart, corners } = cells;
  const triangles = cuts[0].slice();
  const length = (i: number, j: number): number => restMm[edges.find(i, j)];
  for (let q = 0, t = 0; q + 1 < cellStart.length; q++) {
    const at = cellStart[q];
    const n = cellStart[q + 1] - at;
    if (n === 4) {
      const [a, b, c, d] = [corners[at], corners[at + 1], corners[at + 2], corners[at + 3]];
      const first = length(a, c);
      const second = length(b, d);
      const ab = length(a, b);
      const bc = length(b, c);
      const cd = length(c, d);
      const da = length(d, a);
      const firstArea = triangleArea(ab, bc, first) + triangleArea(cd, da, first);
      const secondArea = triangleArea(da, ab, second) + triangleArea(bc, cd, second);
      const hollow = Math.abs(firstArea - secondArea) > SAME_AREA * (firstArea + secondArea);
      const pick = hollow ? Number(secondArea < firstArea) : Number(second < first);
      triangles.set(cuts[pick].subarray(3 * t, 3 * t + 6), 3 * t);
      if (hollow) cuts[1 - pick].set(cuts[pick].subarray(3 * t, 3 * t + 6), 3 * t);
    }
    t += n - 2;
  }
  return triangles;
}

/** Area of a triangle from its sides; 0 where they cannot close. */
function triangleArea(a: number, b: number, c: number): number {
  return Math.sqrt(Math.max(0, (a + b + c) * (b + c - a) * (c + a - b) * (a + b - c))) / 4;
}

/** [vertices] each vertex's third of the triangles around it, mm². */
export function vertexAreas(
  mesh: Mesh,
  vertices: number,
  restMm: (i: number, j: number) => number,
): Float64Array {
  const area = new Float64Array(vertices);
  for (const layer of mesh.layers) {
    const t = layer.triangles;
    for (let k = 0; k < t.length; k += 3) {
      // Where short rows leave a gap open a cell may fold to a line.
      if (t[k] === t[k + 1] || t[k + 1] === t[k + 2] || t[k + 2] === t[k]) continue;
      const a = restMm(t[k + 1], t[k + 2]);
      const b = restMm(t[k + 2], t[k]);
      const c = restMm(t[k], t[k + 1]);
      const third = (layer.weight * triangleArea(a, b, c)) / 3;
      for (let m = 0; m < 3; m++) area[t[k + m]] += third;
    }
  }
  return area;
}
