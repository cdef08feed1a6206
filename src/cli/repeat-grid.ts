/**
 * A small plan → the grid of faces that the yarn cell repeats: rounds upwards, stitches from left to
 * right, +1 knit and −1 purl as seen from the right side. The cast-on is no part of the repeat.
 */
import { buildStitchGraph } from '../fabric/build-graph.ts';
import { courseCount, loopAt } from '../fabric/stitch-graph.ts';
import type { Plan } from '../plan/plan.ts';
import type { FaceGrid } from '../yarn/loop-start.ts';
import { UsageError } from './usage-error.ts';

export function repeatGrid(plan: Plan): FaceGrid {
  for (const round of plan.rounds) {
    for (const id of round.works) {
      const kind = plan.kinds[id];
      const [loop] = kind.loops;
      const plain = kind.consumes === 1 && kind.loops.length === 1 && loop.origin === 'drawn';
      if (!plain || loop.twisted) {
        throw new UsageError(
          `a repeat holds knit and purl stitches only, but ${round.label} works ${kind.name}`,
        );
      }
    }
  }
  const graph = buildStitchGraph(plan);
  return Array.from({ length: graph.courses - 1 }, (_, row) => {
    const count = courseCount(graph, row + 1);
    return Array.from({ length: count }, (_, x) =>
      graph.face[loopAt(graph, row + 1, count - 1 - x)] > 0 ? 1 : -1,
    );
  });
}
