/** What stitch patches ask of the graph: neighbours on the sheet, shares of a shared foot, the drawn-up course. */
import type { Cells } from '../../fabric/cells.ts';
import {
  courseCount,
  FLAG_LIFTED,
  FLAG_SEAM,
  FLAG_YARN_OVER,
  loopAt,
  type StitchGraph,
} from '../../fabric/stitch-graph.ts';

/** The course that is drawn up: the last one, or the cast-on of centre-out work; −1 for none. */
export function gatheredCourse(graph: StitchGraph, cells: Cells): number {
  if (cells.apex < 0) return -1;
  for (let cell = 0; cell + 1 < cells.cellStart.length; cell++) {
    const corners = cells.corners.subarray(cells.cellStart[cell], cells.cellStart[cell + 1]);
    if (!corners.includes(cells.apex)) continue;
    const loop = corners.find((corner) => corner < graph.loops);
    if (loop !== undefined) return graph.course[loop] * 2 < graph.courses ? 0 : graph.courses - 1;
  }
  return -1;
}

/** Offsets of the triangles that a course completes; those of the drawn-up centre come last. */
export function trianglesByCourse(graph: StitchGraph, triangles: Int32Array): number[][] {
  const byCourse: number[][] = Array.from({ length: graph.courses }, () => []);
  for (let t = 0; t < triangles.length; t += 3) {
    let last = 0;
    for (let k = 0; k < 3; k++) {
      const vertex = triangles[t + k];
      last = Math.max(last, vertex < graph.loops ? graph.course[vertex] : graph.courses - 1);
    }
    byCourse[last].push(t);
  }
  return byCourse;
}

/** Which share of its parent's width a loop stands on: [number from the right, of how many]. */
export function shareOf(graph: StitchGraph, parent: number, child: number): [number, number] {
  const from = graph.childStart[parent];
  const to = graph.childStart[parent + 1];
  for (let c = from; c < to; c++) if (graph.children[c] === child) return [c - from, to - from];
  return [0, 1];
}

/** [2·loops] neighbour to the right and to the left as seen from the RS; −1 at an open edge. */
export function buildNeighbours(graph: StitchGraph): Int32Array {
  const neighbours = new Int32Array(2 * graph.loops).fill(-1);
  for (let c = 0; c < graph.courses; c++) {
    const n = courseCount(graph, c);
    let first = -1;
    let before = -1;
    for (let position = 0; position < n; position++) {
      const loop = loopAt(graph, c, position);
      if (graph.flags[loop] & FLAG_SEAM) continue;
      if (first < 0) first = loop;
      if (before >= 0) {
        neighbours[2 * loop] = before;
        neighbours[2 * before + 1] = loop;
      }
      before = loop;
    }
    if (first < 0) continue;
    if (graph.closure === 'seam' && before !== first) {
      neighbours[2 * first] = before;
      neighbours[2 * before + 1] = first;
    }
    // Where the band is joined with a half turn, a column does not meet itself.
    if (graph.closure === 'helix' && c > 0 && graph.join.halfTurns % 2 === 0) {
      // The round spirals: its first loop follows the last one of the round below.
      const short = graph.held && graph.start[c + 1] - graph.start[c] < n;
      const round = short ? c : c - 1;
      const last = loopAt(graph, round, courseCount(graph, round) - 1);
      neighbours[2 * first] = last;
      neighbours[2 * last + 1] = first;
    }
  }
  return neighbours;
}

/** Loops on the needle at the end, in yarn order. */
export function lastLoops(graph: StitchGraph): number[] {
  const last = graph.courses - 1;
  const loops = Array.from({ length: courseCount(graph, last) }, (_, p) => loopAt(graph, last, p));
  return loops.sort((a, b) => a - b);
}

/** A column with increases on both sides not further back than this, rounds, ends in a corner. Chosen. */
const CORNER_ROUNDS = 4;

/** Loops of the last course that stand at a corner by themselves: their column was increased on both sides. */
export function cornerLoops(graph: StitchGraph, neighbour: Int32Array): ReadonlySet<number> {
  const isMade = (loop: number) =>
    loop >= 0 && (graph.flags[loop] & (FLAG_YARN_OVER | FLAG_LIFTED)) !== 0;
  return new Set(
    lastLoops(graph).filter((end) => {
      let loop = end;
      for (let round = 0; round < CORNER_ROUNDS; round++) {
        if (isMade(neighbour[2 * loop]) && isMade(neighbour[2 * loop + 1])) return true;
        if (graph.parentStart[loop] === graph.parentStart[loop + 1]) return false;
        loop = graph.parents[graph.parentStart[loop]];
      }
      return false;
    }),
  );
}
