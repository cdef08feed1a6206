/**
 * The factored stiffness of a RodSystem as a preconditioner for L-BFGS; unknown periods are taken off by a Schur
 * complement. Without it a patch of yarn needs thousands of steps, since contact and stretch are 10⁴ times as stiff as
 * the modes in which loops slide and tilt.
 * In: states to factor at (rod-stiffness.ts), vectors of [3·nodes + periods]. Out: approximate inverse Hessian × vector.
 */
import type { Adjacency } from '../math/adjacency.ts';
import { Cholesky } from '../math/cholesky.ts';
import { type CholeskyPlan, planCholesky } from '../math/cholesky-plan.ts';
import { dissect } from '../math/dissection.ts';
import { minimumDegree } from '../math/minimum-degree.ts';
import type { SparsePattern } from '../math/sparse-symmetric.ts';
import type { PairList } from './pair-list.ts';
import type { RodMaterial } from './relax-rods.ts';
import { RodStiffness } from './rod-stiffness.ts';
import type { RodSystem } from './rod-system.ts';

/** Added to the diagonal, units of B/d³: keeps free motions finite. Chosen by timing. */
const SHIFT = 1;
/**
 * The same for an unknown period where the other is given: among yarn that slides its stiffness is less than 1, which held it
 * back. Chosen by the steps of 32 panels: 0.03 takes 0.80 of those with 1, 0.01 to 0.3 within 0.05 of that. With both unknown,
 * rib then ends in its wider state from the laid start.
 */
const PERIOD_SHIFT = 0.03;
/** Blocks of the factor over those when its order was found, from which on another is looked for. Chosen. */
const FILLS_TOO_MUCH = 1.2;
/** Fewer nodes than this are ordered by dissection, which is sooner done than what it fills too much. Chosen. */
const MANY_NODES = 400;

export class RodPreconditioner {
  private readonly stiffness: RodStiffness;
  /** Number of unknown periods. */
  private readonly periods: number;
  private factor: Cholesky | null = null;
  private order: Int32Array | null = null;
  /** Blocks of the factor when the order was found. */
  private blocksAtFirst = 0;
  /** H⁻¹b of each border column b, and the inverse of the Schur complement. */
  private readonly solvedBorder: readonly Float64Array[];
  private readonly inverse: Float64Array;
  private readonly slice: Float64Array;

  constructor(
    system: RodSystem,
    material: RodMaterial,
    held: Uint8Array | null,
    axes: readonly number[],
    scale: readonly number[],
  ) {
    this.stiffness = new RodStiffness(system, material, held, axes, scale);
    this.periods = axes.length;
    const n = 3 * system.nodes;
    this.solvedBorder = axes.map(() => new Float64Array(n));
    this.inverse = new Float64Array(axes.length * axes.length);
    this.slice = new Float64Array(n);
  }

  get ready(): boolean {
    return this.factor !== null;
  }

  /** Assembles and factors at the given state; returns false (and is then not ready) if it fails. */
  refresh(
    positions: Float64Array,
    period: Float64Array,
    pairs: PairList | null,
    tangents: Float64Array,
  ): boolean {
    const { matrix, graph } = this.stiffness.assemble(positions, period, pairs, tangents);
    const plan =
      graph.vertices < MANY_NODES
        ? planCholesky(matrix.pattern, dissect(graph, positions))
        : this.planFor(matrix.pattern, graph);
    const factor = new Cholesky(plan, 3, this.factor);
    try {
      factor.factor(matrix, SHIFT);
    } catch {
      this.factor = null;
      return false;
    }
    this.factor = factor;
    this.closeBorder(factor);
    return true;
  }

  /** Contacts come and go slowly: an order serves until it fills too much. */
  private planFor(pattern: SparsePattern, graph: Adjacency): CholeskyPlan {
    if (this.order) {
      const plan = planCholesky(pattern, this.order);
      if (plan.blocks < FILLS_TOO_MUCH * this.blocksAtFirst) return plan;
    }
    this.order = minimumDegree(graph);
    const plan = planCholesky(pattern, this.order);
    this.blocksAtFirst = plan.blocks;
    return plan;
  }

  /** Replaces v, [3·nodes + axes], by the approximate inverse Hessian times v. */
  apply(v: Float64Array): void {
    const { factor, slice, periods: m } = this;
    const { border } = this.stiffness;
    if (!factor) return;
    const n = slice.length;
    slice.set(v.subarray(0, n));
    factor.solve(slice);
    if (m > 0) {
      const rest = [0, 0];
      for (let a = 0; a < m; a++) {
        let sum = v[n + a];
        const b = border[a];
        for (let i = 0; i < n; i++) sum -= b[i] * slice[i];
        rest[a] = sum;
      }
      for (let a = 0; a < m; a++) {
        let e = 0;
        for (let c = 0; c < m; c++) e += this.inverse[a * m + c] * rest[c];
        v[n + a] = e;
        const h = this.solvedBorder[a];
        for (let i = 0; i < n; i++) slice[i] -= e * h[i];
      }
    }
    v.set(slice);
  }

  private closeBorder(factor: Cholesky): void {
    const m = this.periods;
    const { border, corner } = this.stiffness;
    const schur = new Float64Array(m * m);
    const shift = m === 1 ? PERIOD_SHIFT : SHIFT;
    for (let a = 0; a < m; a++) {
      this.solvedBorder[a].set(border[a]);
      factor.solve(this.solvedBorder[a]);
    }
    for (let a = 0; a < m; a++) {
      for (let c = 0; c < m; c++) {
        let sum = corner[a * m + c];
        for (let i = 0; i < border[a].length; i++) {
          sum -= border[a][i] * this.solvedBorder[c][i];
        }
        schur[a * m + c] = sum;
      }
      // The unknown is scaled to move the nodes by a unit vector, like any other.
      schur[a * m + a] = Math.max(schur[a * m + a], 0) + shift;
    }
    if (m === 1) this.inverse[0] = 1 / schur[0];
    if (m === 2) {
      const off = (schur[1] + schur[2]) / 2;
      const det = Math.max(schur[0] * schur[3] - off * off, 1e-3 * schur[0] * schur[3]);
      this.inverse[0] = schur[3] / det;
      this.inverse[1] = this.inverse[2] = -off / det;
      this.inverse[3] = schur[0] / det;
    }
  }
}
