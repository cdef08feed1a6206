/**
 * The sheet's sparse Hessian: the pattern that springs and hinges share, made once per topology, and
 * the values (made positive) at a given shape.
 */

import type { Metric } from '../../gauge/metric.ts';
import { type Adjacency, buildAdjacency } from '../../math/adjacency.ts';
import { lowerPattern, type SparsePattern, slotOf } from '../../math/sparse-symmetric.ts';
import type { SymmetricBlocks } from '../../math/symmetric-blocks.ts';
import { addBendHessian, HINGE_PAIRS } from './bending.ts';
import { addStretchHessian } from './springs.ts';

/** All that depends on the topology alone; may be kept between solves of sheets that share it. */
export interface SheetTopology {
  /** Vertices that share a spring or a hinge. */
  readonly graph: Adjacency;
  readonly pattern: SparsePattern;
  /** [springs] place of each spring in the pattern. */
  readonly springSlot: Int32Array;
  /** [6·hinges] places of each hinge's pairs. */
  readonly hingeSlot: Int32Array;
}

/** The same for every metric with the same springs and hinges. */
export function planTopology(metric: Metric): SheetTopology {
  const { springs, hinges, vertices } = metric;
  const graph = buildAdjacency(vertices, [
    { members: springs, size: 2 },
    { members: hinges, size: 4 },
  ]);
  const pattern = lowerPattern(graph);
  const springSlot = new Int32Array(springs.length / 2);
  for (let s = 0; s < springSlot.length; s++) {
    springSlot[s] = slotOf(pattern, springs[2 * s], springs[2 * s + 1]);
  }
  const hingeSlot = new Int32Array((hinges.length / 4) * 6);
  for (let h = 0, e = 0; h < hinges.length; h += 4) {
    for (let p = 0; p < 12; p += 2, e++) {
      hingeSlot[e] = slotOf(pattern, hinges[h + HINGE_PAIRS[p]], hinges[h + HINGE_PAIRS[p + 1]]);
    }
  }
  return { graph, pattern, springSlot, hingeSlot };
}

/** Writes the positive part of the Hessian at x . */
export function assembleHessian(
  metric: Metric,
  topology: SheetTopology,
  x: Float64Array,
  matrix: SymmetricBlocks,
): void {
  matrix.diagonal.fill(0);
  matrix.lower.fill(0);
  addStretchHessian(metric, topology.springSlot, x, matrix);
  addBendHessian(metric, topology.hingeSlot, matrix);
}
