/**
 * A rectangle of a plan → faces and crossings for the yarn model: rounds upwards, stitches from the
 * right, +1 knit and −1 purl as seen from the right side. Columns are followed upwards from the first
 * round; shaping inside the rectangle, or a crossing over its edge, is told and refused.
 */

import type { CellCrossing } from '../cell/lattice-graph.ts';
import type { FaceGrid } from '../cell/loop-start.ts';
import { buildStitchGraph } from '../fabric/build-graph.ts';
import { refuseShortRows } from '../fabric/region-loops.ts';
import { courseCount, loopAt, type StitchGraph } from '../fabric/stitch-graph.ts';
import type { Plan } from '../plan/plan.ts';
import { UsageError } from './usage-error.ts';

export interface Span {
  /** 1-based, inclusive. */
  readonly from: number;
  readonly to: number;
}

export interface PlanPatch {
  readonly faces: FaceGrid;
  readonly crossings: readonly CellCrossing[];
}

/** `rounds` in working order; `stitches` counted from the right in the first of these rounds. */
export function cutPatch(plan: Plan, rounds: Span, stitches: Span): PlanPatch {
  if (rounds.to > plan.rounds.length) {
    throw new UsageError(
      `the plan has ${plan.rounds.length} rounds; there is no round ${rounds.to}`,
    );
  }
  const graph = buildStitchGraph(plan);
  try {
    refuseShortRows(graph, rounds);
  } catch (error) {
    throw new UsageError((error as RangeError).message);
  }
  const count = courseCount(graph, rounds.from);
  if (stitches.to > count) {
    const { label } = plan.rounds[rounds.from - 1];
    throw new UsageError(`${label} has ${count} stitches; there is no stitch ${stitches.to}`);
  }
  const size = stitches.to - stitches.from + 1;
  let columns = Array.from({ length: size }, (_, k) =>
    loopAt(graph, rounds.from, stitches.from - 1 + k),
  );
  const above = columnsAbove(graph);
  const faces: (1 | -1)[][] = [];
  const crossings: CellCrossing[] = [];
  for (let c = rounds.from; c <= rounds.to; c++) {
    if (c > rounds.from) {
      columns = columns.map((loop) => {
        if (above[loop] >= 0) return above[loop];
        throw new UsageError(
          `${plan.rounds[c - 1].label} is shaped among these stitches: choose a patch without decreases and increases`,
        );
      });
    }
    faces.push(columns.map((loop) => (graph.face[loop] > 0 ? 1 : -1)));
    for (const crossing of crossingsOf(plan, graph, columns, c)) {
      crossings.push({ ...crossing, row: c - rounds.from });
    }
  }
  return { faces, crossings };
}

/** The whole of a plan whose every round keeps its stitches: a repeat. */
export function cutRepeat(plan: Plan): PlanPatch {
  const rounds = { from: 1, to: plan.rounds.length };
  return cutPatch(plan, rounds, { from: 1, to: plan.rounds[0].after });
}

/** [loops] the loop that stands on the same column one course up, −1 at shaping and at the top. */
function columnsAbove(graph: StitchGraph): Int32Array {
  const above = new Int32Array(graph.loops).fill(-1);
  for (let s = 0; s < graph.stitches; s++) {
    const consumed = graph.consumedStart[s];
    const made = graph.madeStart[s];
    const size = graph.madeStart[s + 1] - made;
    if (graph.consumedStart[s + 1] - consumed !== size) continue;
    for (let k = 0; k < size; k++) above[graph.consumed[consumed + k]] = made + k;
  }
  return above;
}

function crossingsOf(
  plan: Plan,
  graph: StitchGraph,
  columns: readonly number[],
  course: number,
): Omit<CellCrossing, 'row'>[] {
  const { label } = plan.rounds[course - 1];
  const found: Omit<CellCrossing, 'row'>[] = [];
  for (let k = 0; k < columns.length; k++) {
    const stitch = graph.stitch[columns[k]];
    const cross = plan.kinds[graph.stitchKind[stitch]].crossing;
    if (!cross) continue;
    const size = graph.madeStart[stitch + 1] - graph.madeStart[stitch];
    if (size !== cross.over + cross.under) {
      throw new UsageError(
        `${label}: a crossing with a stitch between its strands cannot be cut out`,
      );
    }
    const whole = k + size <= columns.length && graph.stitch[columns[k + size - 1]] === stitch;
    if (!whole || (k > 0 && graph.stitch[columns[k - 1]] === stitch)) {
      throw new UsageError(`${label}: the edge of the patch cuts through a crossing; widen it`);
    }
    // Worked from behind, the strand in front is the other one; the hand of the crossing stays.
    const [over, under] = graph.wrongSide[course]
      ? [cross.under, cross.over]
      : [cross.over, cross.under];
    found.push({ wale: k, over, under, lean: cross.lean });
    k += size - 1;
  }
  return found;
}
