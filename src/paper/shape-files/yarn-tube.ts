/**
 * YarnCurves → ShapeMesh: every strand as a round tube, closed at its ends, for shape files.
 *
 * Rings stand across the centre line and are carried along it without twist (double reflection: Wang,
 * Jüttler, Zheng & Liu, Computation of rotation minimizing frames, ACM Trans. Graph. 27(1), 2008). The
 * more yarn there is, the fewer sides and rings a stitch gets, so that a file stays one that opens.
 */
import type { YarnCurves } from '../../yarn/yarn-curves.ts';
import type { ShapeMesh } from './shape-mesh.ts';

export interface YarnTubeOptions {
  readonly title: string;
  /** [3·loops] red, green, blue of each loop, 0 … 255 (sRGB); null for none. */
  readonly loopColours: Uint8Array | null;
}

/** Vertices that a file may have: about 40 MB as glTF, 100 MB as OBJ text. Chosen. */
const MOST_VERTICES = 1_000_000;
/** Sides of the tube and points taken, finest first. A ring needs three sides to hold a volume. */
const DETAILS: readonly (readonly [sides: number, step: number])[] = [
  [8, 1],
  [6, 1],
  [6, 2],
  [4, 2],
  [3, 2],
];

export function yarnTube(curves: YarnCurves, options: YarnTubeOptions): ShapeMesh {
  const { points, strandStart, loop, radiusMm } = curves;
  const [sides, step] =
    DETAILS.find(([s, every]) => (points.length / 3 / every) * s <= MOST_VERTICES) ??
    DETAILS[DETAILS.length - 1];
  const strands: Int32Array[] = [];
  for (let s = 0; s + 1 < strandStart.length; s++) {
    const kept = ringPoints(points, strandStart[s], strandStart[s + 1], step);
    if (kept.length >= 2) strands.push(kept);
  }
  const rings = strands.reduce((sum, kept) => sum + kept.length, 0);
  const positions = new Float64Array(3 * (rings * sides + 2 * strands.length));
  const triangles = new Int32Array(6 * sides * rings);
  const colours = options.loopColours && new Uint8Array(positions.length);
  let vertex = 0;
  let corner = 0;
  const last = curves.loopStart.length - 2;
  const put = (point: number, x: number, y: number, z: number) => {
    positions[3 * vertex] = x;
    positions[3 * vertex + 1] = y;
    positions[3 * vertex + 2] = z;
    if (colours && options.loopColours) {
      // Tails wear the colour of the last loop.
      const from = 3 * (loop[point] >= 0 ? loop[point] : last);
      for (let k = 0; k < 3; k++) colours[3 * vertex + k] = options.loopColours[from + k];
    }
    vertex++;
  };
  const join = (a: number, b: number, c: number) => {
    triangles[corner++] = a;
    triangles[corner++] = b;
    triangles[corner++] = c;
  };
  for (const kept of strands) {
    const first = vertex;
    const frames = carryFrames(points, kept);
    for (let i = 0; i < kept.length; i++) {
      const at = 3 * kept[i];
      for (let side = 0; side < sides; side++) {
        const angle = (2 * Math.PI * side) / sides;
        const u = radiusMm * Math.cos(angle);
        const v = radiusMm * Math.sin(angle);
        const f = 6 * i;
        put(
          kept[i],
          points[at] + u * frames[f] + v * frames[f + 3],
          points[at + 1] + u * frames[f + 1] + v * frames[f + 4],
          points[at + 2] + u * frames[f + 2] + v * frames[f + 5],
        );
      }
      if (i === 0) continue;
      const ring = first + i * sides;
      for (let side = 0; side < sides; side++) {
        const next = (side + 1) % sides;
        join(ring - sides + side, ring - sides + next, ring + next);
        join(ring - sides + side, ring + next, ring + side);
      }
    }
    const end = first + (kept.length - 1) * sides;
    for (const [point, ring, inwards] of [
      [kept[0], first, true],
      [kept[kept.length - 1], end, false],
    ] as const) {
      const tip = vertex;
      put(point, points[3 * point], points[3 * point + 1], points[3 * point + 2]);
      for (let side = 0; side < sides; side++) {
        const next = (side + 1) % sides;
        if (inwards) join(tip, ring + next, ring + side);
        else join(tip, ring + side, ring + next);
      }
    }
  }
  return {
    title: options.title,
    part: 'yarn',
    positions,
    triangles: triangles.subarray(0, corner),
    colours,
  };
}

/** Every `step`-th point and the last one, without points that lie on the one before. */
function ringPoints(points: ArrayLike<number>, from: number, end: number, step: number) {
  const kept: number[] = [];
  for (let i = from; i < end; i++) {
    if ((i - from) % step !== 0 && i !== end - 1) continue;
    const before = kept[kept.length - 1];
    if (before !== undefined && distanceSquared(points, before, i) < 1e-12) continue;
    kept.push(i);
  }
  return Int32Array.from(kept);
}

function distanceSquared(points: ArrayLike<number>, a: number, b: number): number {
  let sum = 0;
  for (let k = 0; k < 3; k++) sum += (points[3 * a + k] - points[3 * b + k]) ** 2;
  return sum;
}

/** [6·rings] two unit vectors across the line at each kept point, u then v, with u × v along it. */
function carryFrames(points: ArrayLike<number>, kept: Int32Array): Float64Array {
  const n = kept.length;
  const along = new Float64Array(3 * n);
  for (let i = 0; i < n; i++) {
    const a = kept[Math.max(0, i - 1)];
    const b = kept[Math.min(n - 1, i + 1)];
    for (let k = 0; k < 3; k++) along[3 * i + k] = points[3 * b + k] - points[3 * a + k];
    // A hairpin whose neighbours coincide: the way it came.
    if (!normalise(along, 3 * i)) {
      for (let k = 0; k < 3; k++) along[3 * i + k] = i > 0 ? along[3 * i - 3 + k] : k === 0 ? 1 : 0;
    }
  }
  const frames = new Float64Array(6 * n);
  let u = across([along[0], along[1], along[2]]);
  for (let i = 0; i < n; i++) {
    const t: Vector = [along[3 * i], along[3 * i + 1], along[3 * i + 2]];
    if (i > 0) {
      const step = [0, 1, 2].map((k) => points[3 * kept[i] + k] - points[3 * kept[i - 1] + k]);
      const before: Vector = [along[3 * i - 3], along[3 * i - 2], along[3 * i - 1]];
      const carried = reflect(u, step as unknown as Vector);
      const turned = reflect(before, step as unknown as Vector);
      u = reflect(carried, [t[0] - turned[0], t[1] - turned[1], t[2] - turned[2]]);
    }
    // Against drift over a million rings.
    u = square(u, t);
    const v = cross(t, u);
    frames.set([...u, ...v], 6 * i);
  }
  return frames;
}

type Vector = readonly [number, number, number];

/** `v` mirrored in the plane across `axis`; unchanged for an axis of no length. */
function reflect(v: Vector, axis: Vector): Vector {
  const c = axis[0] ** 2 + axis[1] ** 2 + axis[2] ** 2;
  if (c < 1e-24) return v;
  const s = (2 * (v[0] * axis[0] + v[1] * axis[1] + v[2] * axis[2])) / c;
  return [v[0] - s * axis[0], v[1] - s * axis[1], v[2] - s * axis[2]];
}

/** `u` made a unit vector across `t`. */
function square(u: Vector, t: Vector): Vector {
  const s = u[0] * t[0] + u[1] * t[1] + u[2] * t[2];
  const w: [number, number, number] = [u[0] - s * t[0], u[1] - s * t[1], u[2] - s * t[2]];
  return normalise(w, 0) ? w : across(t);
}

function across(t: Vector): Vector {
  const least =
    Math.abs(t[0]) < Math.abs(t[1])
      ? Math.abs(t[0]) < Math.abs(t[2])
        ? 0
        : 2
      : Math.abs(t[1]) < Math.abs(t[2])
        ? 1
        : 2;
  const axis: Vector = [least === 0 ? 1 : 0, least === 1 ? 1 : 0, least === 2 ? 1 : 0];
  const w = [...cross(t, axis)];
  normalise(w, 0);
  return [w[0], w[1], w[2]];
}

function cross(a: Vector, b: Vector): Vector {
  return [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]];
}

/** In place; false where there is no direction. */
function normalise(v: { [index: number]: number }, at: number): boolean {
  const size = Math.hypot(v[at], v[at + 1], v[at + 2]);
  if (!(size > 1e-12)) return false;
  for (let k = 0; k < 3; k++) v[at + k] /= size;
  return true;
}
