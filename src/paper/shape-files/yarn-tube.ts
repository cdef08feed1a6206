/**
 * YarnCurves → ShapeMesh: every strand as a round tube, closed at its ends, for shape files.
 *
 * Rings stand across the centre line and are carried along it without twist (double reflection: Wang,
 * Jüttler, Zheng & Liu, Computation of rotation minimizing frames, ACM Trans. Graph. 27(1), 2008). The
 * more yarn there is, the fewer sides and rings a stitch gets, so that a file stays one that opens.
 */
import { vec3 } from 'gl-matrix';
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
  const place = (i: number): Vector => {
    const at = 3 * kept[Math.max(0, Math.min(n - 1, i))];
    return [points[at], points[at + 1], points[at + 2]];
  };
  const frames = new Float64Array(6 * n);
  let before: Vector = [1, 0, 0];
  let u: Vector | null = null;
  for (let i = 0; i < n; i++) {
    // A hairpin whose neighbours coincide: the way it came.
    const along = unit(between(place(i - 1), place(i + 1))) ?? before;
    if (u) {
      const step = between(place(i - 1), place(i));
      const carried = reflect(u, step);
      u = reflect(carried, between(reflect(before, step), along));
    }
    // Against drift over a million rings.
    u = square(u ?? along, along);
    frames.set(u, 6 * i);
    frames.set(vec3.cross([0, 0, 0], along, u), 6 * i + 3);
    before = along;
  }
  return frames;
}

/** Of doubles: `vec3.create` would round to floats. */
type Vector = [number, number, number];

function between(from: Vector, to: Vector): Vector {
  return vec3.subtract([0, 0, 0], to, from) as Vector;
}

/** Null where there is no direction. */
function unit(v: Vector): Vector | null {
  return vec3.length(v) > 1e-12 ? (vec3.normalize([0, 0, 0], v) as Vector) : null;
}

/** `v` mirrored in the plane across `axis`; unchanged for an axis of no length. */
function reflect(v: Vector, axis: Vector): Vector {
  const c = vec3.squaredLength(axis);
  if (c < 1e-24) return v;
  return vec3.scaleAndAdd([0, 0, 0], v, axis, (-2 * vec3.dot(v, axis)) / c) as Vector;
}

/** `u` made a unit vector across the unit vector `t`. */
function square(u: Vector, t: Vector): Vector {
  const w = vec3.scaleAndAdd([0, 0, 0], u, t, -vec3.dot(u, t)) as Vector;
  return unit(w) ?? across(t);
}

/** A unit vector across `t`: across the axis that it leans to least. */
function across(t: Vector): Vector {
  const sizes = t.map(Math.abs);
  const axis: Vector = [0, 0, 0];
  axis[sizes.indexOf(Math.min(...sizes))] = 1;
  return unit(vec3.cross([0, 0, 0], t, axis) as Vector) ?? axis;
}
