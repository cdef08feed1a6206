/**
 * Writes down draw vertices and the patches between them, one after the other, and hands over the arrays.
 * In: points as weighted sums of loops, with what is drawn there. Out: StitchPatches.
 */
import type { StitchGraph } from '../../fabric/stitch-graph.ts';
import type { CableStrands } from './cable-strands.ts';
import type { StitchPatches } from './stitch-patches.ts';
import { backOf, TILE_NONE } from './stitch-tiles.ts';

/** A point as a weighted sum of loops. */
export type Blend = readonly (readonly [loop: number, weight: number])[];

export function mix(a: Blend, b: Blend, t: number): Blend {
  if (t <= 0) return a;
  if (t >= 1) return b;
  const sum: [number, number][] = a.map(([loop, w]) => [loop, w * (1 - t)]);
  for (const [loop, w] of b) {
    const same = sum.find((term) => term[0] === loop);
    if (same) same[1] += w * t;
    else sum.push([loop, w * t]);
  }
  return sum;
}

/** Right edge and left edge of a patch, at its foot or at its head. */
export type Rim = readonly [right: Blend, left: Blend];

/** What a patch shows: its loop, its kind (PATCH_*) and its tile. */
export interface Look {
  readonly of: number;
  readonly as: number;
  readonly front: number;
}

export interface PatchWriter {
  /** As in StitchPatches; filled by who lays the patches. */
  readonly lower: Int32Array;
  readonly upper: Int32Array;
  readonly ground: Int32Array;
  readonly band: Int32Array;
  readonly seam: Int32Array;
  /** A vertex with its u, v and lift; its number. */
  addVertex(blend: Blend, u: number, v: number, up: number, look: Look): number;
  addTriangle(a: number, b: number, c: number): void;
  /** Quad strip from the foot to the head, `liftAt` in front of the sheet; the number of its first vertex. */
  addPatch(
    base: Rim,
    top: Rim,
    look: Look,
    rows: number,
    liftAt: (v: number, u: number) => number,
  ): number;
  /** All that is written so far draws the piece up to this course. */
  endCourse(course: number): void;
  finish(strands: CableStrands, neighbour: Int32Array, eased: number): StitchPatches;
}

export function createPatchWriter(graph: StitchGraph): PatchWriter {
  const rowStart: number[] = [0];
  const loops: number[] = [];
  const weights: number[] = [];
  const lift: number[] = [];
  const uv: number[] = [];
  const kind: number[] = [];
  const tile: number[] = [];
  const rowsAt: number[] = [];
  const owner: number[] = [];
  const course: number[] = [];
  const indices: number[] = [];
  const indexEnd = new Int32Array(graph.courses);
  const lower = new Int32Array(graph.loops).fill(-1);
  const upper = new Int32Array(2 * graph.loops).fill(-1);
  const ground = new Int32Array(graph.loops).fill(-1);
  const band = new Int32Array(graph.loops).fill(-1);
  const seam = new Int32Array(graph.loops).fill(-1);

  const addVertex: PatchWriter['addVertex'] = (blend, u, v, up, { of, as, front }) => {
    for (const [loop, w] of blend) {
      loops.push(loop);
      weights.push(w);
    }
    rowStart.push(loops.length);
    lift.push(up);
    uv.push(u, v);
    kind.push(as);
    tile.push(front, front === TILE_NONE ? front : backOf(front));
    rowsAt.push(0);
    owner.push(of);
    course.push(graph.course[of]);
    return rowStart.length - 2;
  };

  return {
    lower,
    upper,
    ground,
    band,
    seam,
    addVertex,
    addTriangle: (a, b, c) => {
      indices.push(a, b, c);
    },
    addPatch: (base, top, look, rows, liftAt) => {
      const first = rowStart.length - 1;
      let below = [-1, -1];
      for (let row = 0; row <= rows; row++) {
        const v = row / rows;
        const here = [
          addVertex(mix(base[0], top[0], v), 0, v, liftAt(v, 0), look),
          addVertex(mix(base[1], top[1], v), 1, v, liftAt(v, 1), look),
        ];
        if (row > 0) {
          indices.push(below[0], here[0], here[1], below[0], here[1], below[1]);
        }
        below = here;
      }
      rowsAt[first] = rows + 1;
      return first;
    },
    endCourse: (c) => {
      indexEnd[c] = indices.length;
    },
    finish: (strands, neighbour, eased) => ({
      vertices: rowStart.length - 1,
      rowStart: Int32Array.from(rowStart),
      loop: Int32Array.from(loops),
      weight: Float32Array.from(weights),
      eased,
      strands,
      neighbour,
      lift: Float32Array.from(lift),
      uv: Float32Array.from(uv),
      kind: Float32Array.from(kind),
      tile: Float32Array.from(tile),
      lower,
      upper,
      ground,
      band,
      seam,
      rows: Uint8Array.from(rowsAt),
      owner: Int32Array.from(owner),
      course: Float32Array.from(course),
      indices: Uint32Array.from(indices),
      indexEnd,
    }),
  };
}
