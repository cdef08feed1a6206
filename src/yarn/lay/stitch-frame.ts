/**
 * The directions of one stitch on the sheet: along its course, up its wale, and out of the right side.
 * Input: graph, vertex positions, the loop. Output: the frame, or null where the stitch has no size.
 */
import { vec3 } from 'gl-matrix';
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
  const at = (i: number): Vector => [positions[3 * i], positions[3 * i + 1], positions[3 * i + 2]];
  const first = graph.start[graph.course[loop]];
  const end = graph.start[graph.course[loop] + 1];
  const back = Math.max(first, loop - 1);
  const on = Math.min(end - 1, loop + 1);
  // Right-side work runs from right to left.
  const [from, to] = graph.wrongSide[graph.course[loop]] ? [back, on] : [on, back];
  const along = vec3.subtract([0, 0, 0], at(to), at(from));
  const below = graph.parentStart[loop] < graph.parentStart[loop + 1];
  const above = graph.childStart[loop] < graph.childStart[loop + 1];
  const foot = below ? at(graph.parents[graph.parentStart[loop]]) : at(loop);
  const head = above ? at(graph.children[graph.childStart[loop]]) : at(loop);
  const rise = vec3.subtract([0, 0, 0], head, foot);
  const stitchMm = vec3.length(along) / Math.max(1, on - back);
  const roundMm = vec3.length(rise) / Math.max(1, Number(below) + Number(above));
  const right = vec3.normalize([0, 0, 0], along) as Vector;
  const leant = vec3.scaleAndAdd([0, 0, 0], rise, right, -vec3.dot(rise, right));
  const up = vec3.normalize([0, 0, 0], leant) as Vector;
  // What has no length has no direction either.
  if (!(stitchMm > 0 && roundMm > 0 && vec3.length(leant) > 0)) return null;
  if (![...right, ...up].every(Number.isFinite)) return null;
  const out = vec3.cross([0, 0, 0], right, up) as Vector;
  return { origin: at(loop), right, up, out, stitchMm, roundMm };
}

/** Of doubles: `vec3.create` would round to floats. */
type Vector = [number, number, number];
