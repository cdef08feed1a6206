/**
 * Keeps the solver of the last sheet for the next one of the same springs and hinges: an edit of gauge or faces then
 * needs no new nets, and begins with the Hessian of the rest before. In: a Metric. Out: a solver for it.
 */
import type { Metric } from '../../gauge/metric.ts';
import { planTopology, type SheetTopology } from '../energy/stiffness.ts';
import { SheetSolver } from './sheet-solver.ts';

/** Larger sheets are not kept: the nets of this many vertices take some 30 MB. Chosen. */
const MOST_KEPT = 40_000;

export class KeptSolver {
  private last: SheetSolver | null = null;

  /** `afresh`: nothing of the last sheet is used, to the last bit. */
  solverFor(metric: Metric, afresh: boolean, topology?: SheetTopology): SheetSolver {
    if (!afresh && this.last?.fits(metric)) {
      this.last.goOnWith(metric);
      return this.last;
    }
    const solver = new SheetSolver(metric, topology ?? planTopology(metric));
    this.last = metric.vertices <= MOST_KEPT ? solver : null;
    return solver;
  }
}
