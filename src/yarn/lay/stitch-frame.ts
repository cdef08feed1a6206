/**
 * The directions of one stitch on the sheet: along its course, up its wale, and out of the right side.
 * Input: graph, vertex positions, the loop. Output: the frame, or null where the stitch has no size.
 */
import type { StitchGraph } from '../../fabric/stitch-graph.ts';

export interface StitchFrame {
  readonly origin: readonly number[];
  /** Unit vectors. */
  readonly right: readonly number[];
  readonly up: readonly number[];
  readonly out: readonly number[];
  readonly stitchMm: number;
  readonly roundMm: number;
}

export function stitchFrame(
  graph: StitchGraph,
  positions: ArrayLike<number>,
  loop: number,
): StitchFrame | null {
  const at = (i: number) => [positions[3 * i], positions[3 * i + 1], positions[3 * i + 2]];
  const first = graph.start[graph.course[loop]];
  const end = graph.start[graph.course[loop] + 1];
  const back = Math.max(first, loop - 1);
  const on = Math.min(end - 1, loop + 1);
  // Right-side work runs from right to left.
  const way = graph.wrongSide[graph.course[loop]] ? 1 : -1;
  const right = difference(at(on), at(back)).map((v) => v * way);
  const below = graph.parentStart[loop] < graph.parentStart[loop + 1];
  const above = graph.childStart[loop] < graph.childStart[loop + 1];
  const foot = below ? at(graph.parents[graph.parentStart[loop]]) : at(loop);
  const head = above ? at(graph.children[graph.childStart[loop]]) : at(loop);
  const up = difference(head, foot);
  const stitchMm = size(right) / Math.max(1, on - back);
  const roundMm = size(up) / Math.max(1, Number(below) + Number(above));
  const x = unit(right);
  const lean = up[0] * x[0] + up[1] * x[1] + up[2] * x[2];
  const y = unit(up.map((v, c) => v - lean * x[c]));
  const z = [x[1] * y[2] - x[2] * y[1], x[2] * y[0] - x[0] * y[2], x[0] * y[1] - x[1] * y[0]];
  if (!(stitchMm > 0 && roundMm > 0) || ![...x, ...y].every(Number.isFinite)) {
    return null;
  }
  return { origin: at(loop), right: x, up: y, out: z, stitchMm, roundMm };
}

const difference = (a: readonly number[], b: readonly number[]) => a.map((v, c) => v - b[c]);
const size = (v: readonly number[]) => Math.hypot(v[0], v[1], v[2]);
const unit = (v: readonly number[]) => v.map((c) => c / size(v));
