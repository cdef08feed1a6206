/**
 * Approximate inverse Hessian of the sheet in two levels: a Gauss–Seidel sweep for short waves plus a
 * correction in a coarse space for long ones, with rigid motions taken out. Symmetric and positive,
 * linear in the size of the sheet (the coarse factor is small).
 *
 * Measured against one sparse Cholesky factor of a scalar model (graph Laplacian plus bending) as
 * the initial inverse Hessian: see tests/bench/relax-bench.ts, which runs both.
 */

import type { Metric } from '../../gauge/metric.ts';
import { emptyMatrix, type SparseSymmetric } from '../../math/sparse-symmetric.ts';
import { assembleHessian, type SheetTopology } from '../energy/stiffness.ts';
import { BlockSweep } from './block-sweep.ts';
import { CoarseSpace } from './coarse-space.ts';
import type { Preconditioner } from './descent.ts';
import { RigidMotions } from './rigid-motions.ts';

/** Fewer nodes than this are not worth a coarse level. */
const LEAST_NODES = 4;

export class SheetPreconditioner implements Preconditioner {
  private readonly metric: Metric;
  private readonly topology: SheetTopology;
  private readonly hessian: SparseSymmetric;
  private readonly sweep: BlockSweep;
  private coarse: CoarseSpace | null = null;
  private readonly rigid: RigidMotions;
  private readonly residual: Float64Array;

  constructor(metric: Metric, topology: SheetTopology) {
    this.metric = metric;
    this.topology = topology;
    this.hessian = emptyMatrix(topology.pattern, 3);
    this.sweep = new BlockSweep(this.hessian);
    this.rigid = new RigidMotions(3 * metric.vertices);
    this.residual = new Float64Array(3 * metric.vertices);
  }

  /** Takes the Hessian at x. The coarse nodes are spread on the first shape seen. */
  refresh(x: Float64Array): void {
    assembleHessian(this.metric, this.topology, x, this.hessian);
    this.sweep.refresh();
    this.coarse ??= new CoarseSpace(this.metric, this.topology.graph, x);
    if (this.coarse.nodes >= LEAST_NODES) this.coarse.refresh(x);
    this.rigid.refresh(x);
  }

  apply(d: Float64Array): void {
    this.rigid.remove(d);
    this.residual.set(d);
    this.sweep.apply(d);
    this.coarse?.addCorrection(this.residual, d);
    this.rigid.remove(d);
  }
}
