/**
 * What it costs to lie flat: the sheet held in its plane, as blocking pins it out, and relaxed there.
 *
 * Input: Metric of a closed sheet. Output: its places in the plane and its energy there. `misfitOf` turns
 * the energy that pressing puts in into the share of a full turn by which a plain cone of the same size
 * must be off to take as much: pressed flat, a disc with a free rim and a wedge of angle s taken out
 * stores Y s² / 32π² per area (H. S. Seung and D. R. Nelson, Phys. Rev. A 38, 1005, 1988: one disclination
 * before it buckles; from memory, checked against the net in tests), so s / 2π = √(8 e / Y).
 */
import type { Metric } from '../../gauge/metric.ts';
import { planTopology } from '../energy/stiffness.ts';
import { SheetSolver } from '../solver/sheet-solver.ts';
import { planeShape } from '../starts/starts.ts';

export interface PressedSheet {
  /** [3·vertices] mm, z = 0 throughout. */
  readonly positions: Float64Array;
  /** Units of the Metric, K·mm². */
  readonly energy: number;
  readonly converged: boolean;
}

/** Young's modulus of the spring net for K = 1 and shear 0.3: 1.3 − 0.3² / 1.3. */
export const YOUNG = 1.3 - (0.3 * 0.3) / 1.3;
/** Strain matters here to a per cent, not shape to a hair. Chosen. */
const TOLERANCE = 1e-4;
const MOST_ITERATIONS = 400;

/**
 * `solver`: one made for this metric; its nets and Hessian serve. `heldOpen`: as cloth lies that is pinned out, whose middle
 * does not slip over itself. The springs alone, by which a piece is judged, let that of a deep cup do so for less energy.
 */
export function pressSheet(
  metric: Metric,
  solver = new SheetSolver(metric, planTopology(metric)),
  heldOpen = false,
): PressedSheet {
  const outcome = solver.solve(planeShape(metric), {
    tolerance: TOLERANCE,
    maxIterations: MOST_ITERATIONS,
    onProgress: null,
    spent: 0,
    enough: 0,
    heightsHeld: true,
    heldOpen,
  });
  return {
    positions: solver.x.slice(),
    energy: outcome.energy,
    converged: outcome.reason === 'converged',
  };
}

/** `energy`, K·mm², is what pressing puts into the sheet. Share of a full turn, never negative. */
export function misfitOf(energy: number, metric: Metric): number {
  const areaMm2 = metric.areaMm2.reduce((sum, area) => sum + area, 0);
  return Math.sqrt((8 * Math.max(0, energy)) / (YOUNG * Math.max(areaMm2, 1e-9)));
}
