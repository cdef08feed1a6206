/**
 * A patch of the piece: the columns that some stitches of one course begin, followed upwards.
 *
 * Input: graph, courses (the plan's rounds, 1-based, inclusive) and stitches (1-based, from the right as
 * seen from the right side, in the first of these rounds). Output: the loops of each course from right to
 * left. Columns are followed through shaping: what a stitch takes belongs to the patch, and so does what
 * it makes; crossings do not move the edge of the patch. Short rows cannot be cut (RangeError).
 */
import { courseCount, loopAt, type StitchGraph } from './stitch-graph.ts';

export interface PatchSpan {
  readonly from: number;
  readonly to: number;
}

/** Loops of the patch, course by course; the list ends early where the columns are bound off. */
export function patchLoops(graph: StitchGraph, rounds: PatchSpan, stitches: PatchSpan): number[][] {
  if (graph.held) refuseShortRows(graph, rounds);
  const loopsOf = (course: number, from: number, to: number) =>
    Array.from({ length: to - from + 1 }, (_, k) => loopAt(graph, course, from + k));
  const out = [loopsOf(rounds.from, stitches.from - 1, stitches.to - 1)];
  for (let course = rounds.from + 1; course <= rounds.to; course++) {
    const below = new Set(out[out.length - 1]);
    let from = Number.POSITIVE_INFINITY;
    let to = Number.NEGATIVE_INFINITY;
    for (let s = graph.stitchStart[course]; s < graph.stitchStart[course + 1]; s++) {
      let taken = false;
      for (let k = graph.consumedStart[s]; k < graph.consumedStart[s + 1]; k++) {
        taken ||= below.has(graph.consumed[k]);
      }
      if (!taken) continue;
      for (let loop = graph.madeStart[s]; loop < graph.madeStart[s + 1]; loop++) {
        from = Math.min(from, graph.position[loop]);
        to = Math.max(to, graph.position[loop]);
      }
    }
    if (to < from || courseCount(graph, course) === 0) break;
    out.push(loopsOf(course, from, to));
  }
  return out;
}

/** RangeError where the rounds hold a short row: columns there have unequal numbers of stitches. */
export function refuseShortRows(graph: StitchGraph, rounds: PatchSpan): void {
  for (let c = rounds.from; c <= Math.min(rounds.to, graph.courses - 1); c++) {
    if (graph.start[c + 1] - graph.start[c] === courseCount(graph, c)) continue;
    throw new RangeError(
      `round ${c} in working order is a short row: choose a patch of whole rounds above or below it`,
    );
  }
}
