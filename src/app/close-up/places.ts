/** Places of a piece that are worth a close-up: its join, its cables, its decreases, any stitch. */
import { courseCount, FLAG_SEAM, loopAt } from '../../fabric/stitch-graph.ts';
import type { LaidSheet } from '../../worker/messages.ts';

export interface CablePlace {
  readonly over: number;
  readonly under: number;
  readonly lean: 1 | -1;
  readonly name: string;
  readonly besides: readonly [1 | -1, 1 | -1];
  /** Rounds from one crossing to the next in the plan; null where there is only one. */
  readonly everyRounds: number | null;
}

/** The first cable of the plan, and how often it crosses. */
export function findCable({ plan, graph }: LaidSheet): CablePlace | null {
  for (let s = 0; s < graph.stitches; s++) {
    const kind = plan.kinds[graph.stitchKind[s]];
    if (!kind?.crossing) continue;
    const { over, under, lean } = kind.crossing;
    const from = graph.madeStart[s];
    const size = graph.madeStart[s + 1] - from;
    // Crossings with a stitch between their strands are shown as those without.
    const course = graph.course[from];
    const count = courseCount(graph, course);
    const places = Array.from({ length: size }, (_, k) => graph.position[from + k]);
    const faceAt = (position: number): 1 | -1 =>
      graph.face[loopAt(graph, course, (position + count) % count)] > 0 ? 1 : -1;
    const besides = [faceAt(Math.min(...places) - 1), faceAt(Math.max(...places) + 1)] as const;
    let next = -1;
    for (let t = graph.stitchStart[course + 1]; t < graph.stitches; t++) {
      if (graph.stitchKind[t] === graph.stitchKind[s]) {
        next = graph.course[graph.madeStart[t]];
        break;
      }
    }
    // Worked from behind, the strand in front is the other one; the hand of the crossing stays.
    const back = graph.wrongSide[course] === 1;
    return {
      over: back ? under : over,
      under: back ? over : under,
      lean,
      name: kind.name,
      besides,
      everyRounds: next > course ? next - course : null,
    };
  }
  return null;
}

export interface DecreasePlace {
  readonly name: string;
  readonly words: string;
  readonly loop: number;
}

/** One of each kind of decrease, a third of the way up, where its neighbours are fabric. */
export function findDecreases({ plan, graph }: LaidSheet): DecreasePlace[] {
  const wanted = graph.courses / 3;
  const best = new Map<number, { loop: number; off: number }>();
  for (let i = 0; i < graph.loops; i++) {
    const parents = graph.parentStart[i + 1] - graph.parentStart[i];
    // The join's own extra stitch is shown at the join.
    if (parents < 2 || hasSeamParent(graph, i)) continue;
    const off = Math.abs(graph.course[i] - wanted);
    const before = best.get(graph.kind[i]);
    if (!before || off < before.off) best.set(graph.kind[i], { loop: i, off });
  }
  return [...best].map(([kind, { loop }]) => {
    const name = graph.kindNames[kind];
    const words = plan.kinds.find((k) => k.name === name)?.words ?? name;
    return { name, words, loop };
  });
}

function hasSeamParent(graph: LaidSheet['graph'], loop: number): boolean {
  for (let k = graph.parentStart[loop]; k < graph.parentStart[loop + 1]; k++) {
    if (graph.flags[graph.parents[k]] & FLAG_SEAM) return true;
  }
  return false;
}

/** Round and stitch of a loop as a knitter counts: stitches from 1 in working order. */
export function roundAndStitch(
  { graph }: LaidSheet,
  loop: number,
): { round: number; stitch: number } {
  const course = graph.course[loop];
  return { round: course, stitch: loop - graph.start[course] + 1 };
}
