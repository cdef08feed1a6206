/**
 * A StitchGraph of plain rows on a lattice, with cables where wanted: the ground on which a periodic
 * repeat is laid before it is cut out.
 *
 * Input: a repeat of faces and crossings. Output: the graph of `tiles` repeats side by side and `courses`
 * courses (all worked one way, like a tube), its cells left empty, and the places of the loops.
 */
import type { Cells } from '../fabric/cells.ts';
import type { StitchGraph } from '../fabric/stitch-graph.ts';
import type { FaceGrid } from './loop-start.ts';

/** One cable crossing in a repeat. */
export interface CellCrossing {
  /** Row of the repeat, 0-based from below, in which the crossed stitches are worked. */
  readonly row: number;
  /** Wale of its rightmost stitch, counted from the right. */
  readonly wale: number;
  /** Stitches that travel in front and behind. */
  readonly over: number;
  readonly under: number;
  /** +1 the front strand leans left, −1 it leans right. */
  readonly lean: 1 | -1;
}

export interface Lattice {
  readonly graph: StitchGraph;
  readonly cells: Cells;
  /** [3·loops] x along −wale (wales count from the right), y up, right side towards +z. */
  readonly positions: Float64Array;
}

/** Wale of the parent of each stitch of a repeat's row (counted from the right), after its crossings. */
export function parentWales(
  row: number,
  wales: number,
  crossings: readonly CellCrossing[],
): Int32Array {
  const from = Int32Array.from({ length: wales }, (_, w) => w);
  for (const c of crossings) {
    if (c.row !== row) continue;
    const size = c.over + c.under;
    // Leaning left, the front strand comes from the right: first wales of the group.
    const moved = c.lean === 1 ? c.over : c.under;
    for (let k = 0; k < size; k++) {
      from[(c.wale + k) % wales] = (c.wale + ((k + moved) % size)) % wales;
    }
  }
  return from;
}

export function buildLattice(
  faces: FaceGrid,
  crossings: readonly CellCrossing[],
  tiles: number,
  courses: number,
  stitch: number,
  height: number,
): Lattice {
  const rows = faces.length;
  const wales = faces[0].length;
  const perCourse = tiles * wales;
  const loops = courses * perCourse;
  const course = new Int32Array(loops);
  const position = new Int32Array(loops);
  const parentStart = new Int32Array(loops + 1);
  const parents = new Int32Array(loops - perCourse);
  const face = new Int8Array(loops);
  const layer = new Int8Array(loops);
  const crossing = new Int32Array(loops).fill(-1);
  const positions = new Float64Array(3 * loops);
  const childOf = new Int32Array(loops).fill(-1);
  let at = 0;
  for (let c = 0; c < courses; c++) {
    const row = (c + rows * courses - FIRST_COURSE) % rows;
    const from = parentWales(row, wales, crossings);
    for (let p = 0; p < perCourse; p++) {
      const i = c * perCourse + p;
      const tile = Math.floor(p / wales);
      const wale = p % wales;
      course[i] = c;
      position[i] = p;
      face[i] = faces[row][wale];
      positions[3 * i] = -p * stitch;
      positions[3 * i + 1] = c * height;
      if (c > 0) {
        // A crossing may reach over the edge of its tile.
        let shift = from[wale] - wale;
        if (shift > wales / 2) shift -= wales;
        if (shift < -wales / 2) shift += wales;
        const parent = tile * wales + wale + shift;
        const inside = parent >= 0 && parent < perCourse ? parent : p;
        parents[at] = (c - 1) * perCourse + inside;
        childOf[parents[at]] = i;
        at++;
      }
      parentStart[i + 1] = at;
    }
    crossings.forEach((cross, n) => {
      if (cross.row !== row || c === 0) return;
      for (let tile = 0; tile < tiles; tile++) {
        const size = cross.over + cross.under;
        const moved = cross.lean === 1 ? cross.over : cross.under;
        for (let k = 0; k < size; k++) {
          const p = (tile * wales + cross.wale + k) % perCourse;
          const i = c * perCourse + p;
          crossing[i] = n;
          // Stitches taken from the right (k + moved wraps) came first; leaning left they lie in front.
          const fromFirst = k + moved >= size;
          layer[i] = fromFirst === (cross.lean === 1) ? 1 : -1;
        }
      }
    });
  }
  const start = Int32Array.from({ length: courses + 1 }, (_, c) => c * perCourse);
  const graph = plainGraph(
    { start, course, position, parentStart, parents },
    (i) => (childOf[i] >= 0 ? [childOf[i]] : []),
    { face, layer, crossing, crossings: crossings.length },
  );
  return { graph, cells: noCells(loops), positions };
}

/** What differs from loop to loop in plain work. */
export type PlainRows = Pick<
  StitchGraph,
  'start' | 'course' | 'position' | 'parentStart' | 'parents'
>;

/** Plain knitting in a helix, all that laying yarn asks of a graph; `more` where it is not so plain. */
export function plainGraph(
  rows: PlainRows,
  childrenOf: (loop: number) => readonly number[],
  more: Partial<StitchGraph> = {},
): StitchGraph {
  const courses = rows.start.length - 1;
  const loops = rows.start[courses];
  const childStart = new Int32Array(loops + 1);
  const children: number[] = [];
  for (let i = 0; i < loops; i++) {
    children.push(...childrenOf(i));
    childStart[i + 1] = children.length;
  }
  return {
    version: 1,
    loops,
    courses,
    ...rows,
    wrongSide: new Uint8Array(courses),
    childStart,
    children: Int32Array.from(children),
    kind: new Int16Array(loops),
    kindNames: ['stitch'],
    stitch: Int32Array.from({ length: loops }, (_, i) => i),
    face: new Int8Array(loops).fill(1),
    flags: new Uint8Array(loops),
    layer: new Int8Array(loops),
    crossing: new Int32Array(loops).fill(-1),
    crossings: 0,
    needle: new Uint8Array(loops),
    closure: 'helix',
    join: { method: 'plain', halfTurns: 0 },
    seam: null,
    ending: 'live',
    ...more,
  } as unknown as StitchGraph;
}

/** No surface between the loops: yarn that is laid flat needs none. */
export function noCells(loops: number): Cells {
  return {
    version: 1,
    vertices: loops,
    apex: -1,
    centre: null,
    cellStart: new Int32Array(1),
    corners: new Int32Array(0),
    inSurface: new Uint8Array(loops).fill(1),
  } as unknown as Cells;
}

/** Course of the lattice that holds row 0 of the repeat to be cut out: clear of the cast-on's influence. */
export const FIRST_COURSE = 3;
