/**
 * Approximate inverse Hessian of the sheet: one V-cycle on the positive part of the Hessian at a shape, with
 * rigid motions taken out. Symmetric and positive; linear in the size of the sheet.
 *
 * Measured against one sparse Cholesky factor of a scalar model (graph Laplacian plus bending) as
 * the initial inverse Hessian: see tests/bench/relax-bench.ts, which runs both.
 */

import type { Metric } from '../../gauge/metric.ts';
import { emptyBlocks, type SymmetricBlocks } from '../../math/symmetric-blocks.ts';
import { assembleHessian, type SheetTopology } from '../energy/stiffness.ts';
import type { Preconditioner } from './descent.ts';
import { type FreeMotions, RigidMotions } from './rigid-motions.ts';
import { VCycle } from './v-cycle.ts';

/**
 * The Hessian is old after moving this many bending lengths, after so many steps sooner: what goes on from there begins
 * with it. A bend turned by an angle looks like stretch in the old Hessian, and is taken for stiff from about bending
 * length over size on. Chosen by timing at 2,700, 20,000 and 98,000 vertices.
 */
const STALE_MOVED = { soon: 5, later: 1 };
const STALE_AFTER = 20;

export class SheetPreconditioner implements Preconditioner {
  private metric: Metric;
  private readonly topology: SheetTopology;
  private readonly hessian: SymmetricBlocks;
  private readonly rigid: RigidMotions;
  private cycle: VCycle | null = null;
  private motions: FreeMotions = 'all';
  /** [3·vertices] where the sheet's own Hessian was taken, and nothing to add to its diagonal. */
  private readonly takenAt: Float64Array;
  private readonly noGround: Float64Array;

  constructor(metric: Metric, topology: SheetTopology) {
    this.metric = metric;
    this.topology = topology;
    this.hessian = emptyBlocks(topology.pattern);
    this.rigid = new RigidMotions(3 * metric.vertices, looseVertices(metric));
    this.takenAt = new Float64Array(3 * metric.vertices);
    this.noGround = new Float64Array(3 * metric.vertices);
  }

  /** Whether there is a Hessian yet. */
  get ready(): boolean {
    return this.cycle !== null;
  }

  /** Another metric of the same springs and hinges: from the next `refresh` on. */
  takeMetric(metric: Metric): void {
    if (metric === this.metric) return;
    this.metric = metric;
    this.cycle?.forgetConstants();
  }

  /** Whether the sheet has come so far, in so many steps, since the Hessian was taken, or is free to move otherwise. */
  isStale(x: Float64Array, steps: number, motions: FreeMotions = 'all'): boolean {
    if (this.cycle === null || motions !== this.motions) return true;
    const { takenAt } = this;
    const moved = steps >= STALE_AFTER ? STALE_MOVED.later : STALE_MOVED.soon;
    const limit = moved * this.metric.bendingMm;
    // What is not a number is stale too.
    for (let k = 0; k < x.length; k++) if (!(Math.abs(x[k] - takenAt[k]) <= limit)) return true;
    return false;
  }

  /**
   * Takes the Hessian at x. Nodes of the coarser levels are spread on the first shape seen. `ground`,
   * [3·vertices], is a diagonal added to it: what holds the sheet to a table; `motions` are those of the
   * sheet that cost nothing.
   */
  refresh(x: Float64Array, ground: Float64Array | null = null, motions: FreeMotions = 'all'): void {
    this.motions = motions;
    const { metric, topology, hessian } = this;
    assembleHessian(metric, topology, x, hessian);
    this.takenAt.set(x);
    this.cycle ??= buildCycle(metric, topology, hessian, x);
    this.cycle.refresh();
    this.cycle.takeGround(ground ?? this.noGround);
    this.rigid.refresh(x, motions);
  }

  /**
   * Takes another `ground` alone, a small part of the work: Hessian and rigid motions stay those of where they were taken,
   * as the motions that cost nothing are those of that shape. There must be a Hessian.
   */
  refreshGround(ground: Float64Array): void {
    this.cycle?.takeGround(ground);
  }

  apply(d: Float64Array): void {
    this.rigid.remove(d);
    this.cycle?.apply(d);
    this.rigid.remove(d);
  }
}

/** Vertices that no spring holds: where edges are sewn together they stand for no place of the sheet. */
function looseVertices({ vertices, springs }: Metric): number[] {
  const held = new Uint8Array(vertices);
  for (const v of springs) held[v] = 1;
  return Array.from(held.keys()).filter((v) => held[v] === 0);
}

function buildCycle(
  metric: Metric,
  topology: SheetTopology,
  hessian: SymmetricBlocks,
  x: Float64Array,
): VCycle {
  const { vertices, springs, restMm } = metric;
  let meanRest = 0;
  for (let s = 0; s < restMm.length; s++) meanRest += restMm[s] / restMm.length;
  const net = { vertices, ends: springs, lengthMm: restMm };
  // Where there are hinges but no springs the Hessian is that of bending: constant, the same for x, y and z.
  const changing = new Uint8Array(topology.pattern.column.length);
  for (const slot of topology.springSlot) changing[slot] = 1;
  return new VCycle(hessian, topology.graph, net, x, meanRest, changing);
}
