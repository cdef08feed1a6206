/**
 * Exact audit of what is drawn through what: signed piercings of a loop's disc by another piece of yarn.
 *
 * The disc is the fan of triangles from the loop's centre to the polyline of its head, closed by the
 * chord between the legs. A loop drawn through it pierces it once each way: +1 with one leg, −1 with the
 * other. The count is a sum of integer signs, so it can only change where yarn passes through yarn (or
 * through the chord, far from any yarn). Used before and after every relaxation.
 */

/** Reads point k of a piece of yarn into `out`. */
export type PointOf = (k: number, out: Float64Array) => void;

/** Signed piercings of the disc of `loop` (points 0 … loopCount − 1) by the polyline `yarn`. */
export function signedPiercings(
  loop: PointOf,
  loopCount: number,
  yarn: PointOf,
  yarnCount: number,
): number {
  const rim = new Float64Array(3 * loopCount);
  const point = new Float64Array(3);
  const centre = new Float64Array(3);
  for (let k = 0; k < loopCount; k++) {
    loop(k, point);
    rim.set(point, 3 * k);
    for (let c = 0; c < 3; c++) centre[c] += point[c] / loopCount;
  }
  const a = new Float64Array(3);
  const b = new Float64Array(3);
  let sum = 0;
  yarn(0, a);
  for (let k = 1; k < yarnCount; k++) {
    yarn(k, b);
    for (let r = 0; r < loopCount; r++) {
      sum += crossTriangle(a, b, centre, rim, 3 * r, 3 * ((r + 1) % loopCount));
    }
    a.set(b);
  }
  return sum;
}

/** Sign of the tetrahedron a, p, q, r (six times its volume). */
function volume(
  a: Float64Array,
  p: Float64Array,
  pi: number,
  q: Float64Array,
  qi: number,
  r: Float64Array,
  ri: number,
): number {
  const px = p[pi] - a[0];
  const py = p[pi + 1] - a[1];
  const pz = p[pi + 2] - a[2];
  const qx = q[qi] - a[0];
  const qy = q[qi + 1] - a[1];
  const qz = q[qi + 2] - a[2];
  const rx = r[ri] - a[0];
  const ry = r[ri + 1] - a[1];
  const rz = r[ri + 2] - a[2];
  return px * (qy * rz - qz * ry) - py * (qx * rz - qz * rx) + pz * (qx * ry - qy * rx);
}

/** ±1 where segment ab crosses the triangle (centre, rim i, rim j), by the side it comes from. */
function crossTriangle(
  a: Float64Array,
  b: Float64Array,
  centre: Float64Array,
  rim: Float64Array,
  i: number,
  j: number,
): number {
  const before = volume(a, centre, 0, rim, i, rim, j);
  const after = volume(b, centre, 0, rim, i, rim, j);
  // Half-open sides: a polyline that touches the plane with a vertex is counted once.
  if (before >= 0 === after >= 0) return 0;
  const u = volume(a, b, 0, centre, 0, rim, i) >= 0;
  const v = volume(a, b, 0, rim, i, rim, j) >= 0;
  const w = volume(a, b, 0, rim, j, centre, 0) >= 0;
  if (u !== v || v !== w) return 0;
  return before >= 0 ? 1 : -1;
}

/** Share of a stitch's points, each side of its head, that bound the disc of its head. Chosen: down to
 * just below mid-height, where the legs are nearest. */
export const HEAD_SHARE = 0.28;

/**
 * The same for a disc of the head's upper part alone. Where a leg of the child has slid out below the
 * chord of the wider disc, a piercing of this one still shows it drawn through the head.
 */
export const NARROW_SHARE = 0.19;

/** Linking of one loop drawn through another, by halves of its span (first half, second half). */
export interface Link {
  readonly first: number;
  readonly second: number;
}

/**
 * Linking of a child with a parent. Both are spans of `segments` segments, sinker to sinker, head in the
 * middle (point segments/2).
 */
export function linkOf(
  parent: PointOf,
  child: PointOf,
  segments: number,
  share = HEAD_SHARE,
): Link {
  const half = segments / 2;
  const reach = Math.round(share * segments);
  const head: PointOf = (k, out) => parent(half - reach + k, out);
  const second: PointOf = (k, out) => child(half + k, out);
  return {
    first: signedPiercings(head, 2 * reach + 1, child, half + 1),
    second: signedPiercings(head, 2 * reach + 1, second, half + 1),
  };
}
