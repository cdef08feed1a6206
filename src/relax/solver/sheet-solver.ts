/**
 * Brings one sheet to rest from given positions: energy terms, preconditioner, descent and the rule
 * for stopping. Holds all working storage, so that several starts share one factorisation.
 */

import type { Metric } from '../../gauge/metric.ts';
import { bend, curl } from '../energy/bending.ts';
import { stretch, stretchCurvature } from '../energy/springs.ts';
import type { SheetTopology } from '../energy/stiffness.ts';
import { holdOpen, restAreas } from '../energy/unfolded.ts';
import type { ProgressListener, StopReason } from '../relaxed-sheet.ts';
import { riseAlong, sheetAxis } from '../starts/alignment.ts';
import { Damping } from './damping.ts';
import { Descent } from './descent.ts';
import { SheetPreconditioner } from './preconditioner.ts';
import { type SoftMode, softestMode } from './softest-mode.ts';

/** Energy and rise are looked at this often, and have stalled when they change less than this. */
const WATCH_EVERY = 5;
const STALLED_ENERGY = 5e-6;
const STALLED_RISE = 5e-5;
/** Energies below this times (K · area) are rounding, not shape. */
const NO_ENERGY = 1e-16;
const LISTEN_EVERY = 5;
/** No trial step moves a vertex further than this share of √area. Chosen: shapes change by less. */
const MOST_MOVED = 0.2;

export interface SolveLimits {
  readonly tolerance: number;
  readonly maxIterations: number;
  readonly onProgress: ProgressListener | null;
  /** Iterations already spent, for the progress reports. */
  readonly spent: number;
  /** Residual below which it ends early, as at its limit of iterations; looked at every few of them. 0: never. */
  readonly enough: number;
  /** True: no vertex leaves the height it starts at, whatever shape the Hessian at hand was taken from. */
  readonly heightsHeld?: boolean;
  /** True, of a sheet held in its plane: it does not fold over there (energy/unfolded.ts). */
  readonly heldOpen?: boolean;
}

export interface SolveOutcome {
  readonly reason: StopReason;
  readonly iterations: number;
  readonly residual: number;
  readonly energy: number;
}

export class SheetSolver {
  /** [3·vertices] where the sheet is now. */
  readonly x: Float64Array;
  /** √(area), mm. */
  sizeMm = 0;
  private metric: Metric;
  readonly preconditioner: SheetPreconditioner;
  private readonly topology: SheetTopology;
  private readonly descent: Descent;
  /** Force that counts as 1: mean spring stiffness × mean rest length. */
  private unitForce = 0;
  private isKept = false;
  private readonly damping = new Damping();
  /** [3·vertices] the damping, as the preconditioner takes it. */
  private readonly damped: Float64Array;
  private onTable: SheetPreconditioner | null = null;
  private readonly axis = new Float64Array(3);
  private readonly scratch: Float64Array;
  private sinceRefresh = 0;
  private heightsHeld = false;
  /** [triangles] at rest, mm²; null where the sheet is not held open. */
  private areas: Float64Array | null = null;

  constructor(metric: Metric, topology: SheetTopology) {
    this.metric = metric;
    this.topology = topology;
    this.preconditioner = new SheetPreconditioner(metric, topology);
    this.descent = new Descent(
      { size: 3 * metric.vertices, evaluate: (x, g) => this.evaluate(x, g) },
      { apply: (d) => this.precondition(d) },
    );
    this.takeMetric(metric);
    this.x = this.descent.x;
    this.damped = new Float64Array(3 * metric.vertices);
    this.scratch = new Float64Array(3 * metric.vertices);
  }

  /** Whether it is made for the same springs and hinges. */
  fits({ vertices, springs, hinges }: Metric): boolean {
    const own = this.metric;
    return own.vertices === vertices && isSame(own.springs, springs) && isSame(own.hinges, hinges);
  }

  /** Goes on with another metric of the same springs and hinges; the Hessian at hand serves until it is stale. */
  goOnWith(metric: Metric): void {
    this.isKept = true;
    this.sinceRefresh = 0;
    this.preconditioner.takeMetric(metric);
    this.onTable?.takeMetric(metric);
    this.takeMetric(metric);
  }

  private takeMetric(metric: Metric): void {
    this.metric = metric;
    this.unitForce = mean(metric.stiffness) * mean(metric.restMm);
    this.sizeMm = Math.sqrt(metric.areaMm2.reduce((a, b) => a + b, 0));
  }

  private evaluate(x: Float64Array, g: Float64Array): number {
    const energy = evaluate(this.metric, x, g);
    const { areas, metric } = this;
    const open = areas ? holdOpen(metric.triangles, areas, x, g) : 0;
    if (this.heightsHeld) levelOut(g);
    return energy + open;
  }

  private precondition(d: Float64Array): void {
    this.preconditioner.apply(d);
    if (this.heightsHeld) levelOut(d);
  }

  solve(from: Float64Array, limits: SolveLimits): SolveOutcome {
    const { descent } = this;
    this.heightsHeld = limits.heightsHeld === true;
    this.areas = limits.heldOpen ? restAreas(this.metric) : null;
    descent.reset(from);
    descent.mostMm = MOST_MOVED * this.sizeMm;
    this.undamp();
    let iterations = 0;
    let residual = this.residual();
    let reason: StopReason = 'iteration-limit';
    let watchedEnergy = descent.energy;
    let watchedRise = this.rise();
    const noise = NO_ENERGY * this.sizeMm * this.sizeMm;
    if (!Number.isFinite(descent.energy) || !Number.isFinite(residual)) {
      return { reason: 'not-a-number', iterations, residual, energy: descent.energy };
    }
    // The start itself is worth seeing: setting up a big sheet takes a second or more.
    if (limits.spent === 0 && this.tell(limits, 0, residual)) reason = 'cancelled';
    // At rest to rounding already: nothing can stall more.
    else if (residual < 1e-3 * limits.tolerance) reason = 'converged';
    if (reason === 'iteration-limit' && this.isStale()) this.refresh();
    while (reason === 'iteration-limit' && iterations < limits.maxIterations) {
      if (!descent.step()) {
        reason = residual < limits.tolerance ? 'converged' : 'stalled';
        break;
      }
      iterations++;
      if (this.damping.hear(descent.taken))
        this.preconditioner.refreshGround(this.damped.fill(this.damping.value));
      residual = this.residual();
      const spent = limits.spent + iterations;
      if (spent % LISTEN_EVERY === 0 && this.tell(limits, spent, residual)) {
        reason = 'cancelled';
        break;
      }
      this.sinceRefresh++;
      if (iterations % WATCH_EVERY !== 0) continue;
      const rise = this.rise();
      const energyStalled =
        watchedEnergy - descent.energy <= STALLED_ENERGY * descent.energy + noise;
      const riseStalled = Math.abs(watchedRise - rise) <= STALLED_RISE * this.sizeMm;
      if (residual < limits.tolerance && energyStalled && riseStalled) reason = 'converged';
      if (reason !== 'converged' && this.isStale()) this.refresh();
      watchedEnergy = descent.energy;
      watchedRise = rise;
      if (residual < limits.enough) break;
    }
    return { reason, iterations, residual, energy: descent.energy };
  }

  /** Tells the listener; true if it wants the solve to stop. */
  private tell(limits: SolveLimits, iteration: number, residual: number): boolean {
    const progress = { iteration, residual, energy: this.descent.energy, positions: this.x };
    return limits.onProgress?.(progress) === true;
  }

  private refresh(): void {
    this.preconditioner.refresh(this.x, this.damped.fill(this.damping.value));
    this.sinceRefresh = 0;
  }

  private undamp(): void {
    if (this.damping.value === 0) return;
    this.damping.reset();
    this.preconditioner.refreshGround(this.damped.fill(0));
  }

  private isStale(): boolean {
    return this.preconditioner.isStale(this.x, this.sinceRefresh);
  }

  /** ‖gradient‖∞ over the unit force. */
  private residual(): number {
    const { g } = this.descent;
    let most = 0;
    for (let k = 0; k < g.length; k++) {
      const size = Math.abs(g[k]);
      if (Number.isNaN(size)) return size;
      if (size > most) most = size;
    }
    return most / this.unitForce;
  }

  private rise(): number {
    sheetAxis(this.metric, this.x, this.axis);
    return riseAlong(this.x, this.axis);
  }

  /** Smooths a field in place by the approximate inverse Hessian: soft bends are kept. */
  smooth(field: Float64Array): void {
    if (!this.preconditioner.ready) this.refresh();
    this.preconditioner.apply(field);
  }

  /** The softest mode of the sheet at x; `guess` starts the search. */
  softest(x: Float64Array, guess: Float64Array, most: number, unstable: number): SoftMode {
    const { metric } = this;
    this.x.set(x);
    // However many steps ago it was taken: only where the sheet was then counts here.
    if (this.preconditioner.isStale(x, 0)) this.refresh();
    const problem = {
      times: (v: Float64Array, out: Float64Array) => {
        out.fill(0);
        stretchCurvature(metric, x, v, out);
        // Quadratic in the positions: its gradient at v is its Hessian times v.
        bend(metric, v, out);
      },
      precondition: (v: Float64Array) => this.preconditioner.apply(v),
    };
    return softestMode(problem, guess, most, unstable);
  }

  /** For the sheet on its table: one of its own where the solver is kept, so that either finds its Hessian again. */
  tablePreconditioner(): SheetPreconditioner {
    if (!this.isKept) return this.preconditioner;
    this.onTable ??= new SheetPreconditioner(this.metric, this.topology);
    return this.onTable;
  }

  /** Stretch and bending energy at x. */
  energies(x: Float64Array): { stretchEnergy: number; bendingEnergy: number } {
    return {
      stretchEnergy: stretch(this.metric, x, this.scratch),
      bendingEnergy: bend(this.metric, x, this.scratch) + curl(this.metric, x, this.scratch),
    };
  }
}

/** Energy of the sheet at x; overwrites g with its gradient. */
export function evaluate(metric: Metric, x: Float64Array, g: Float64Array): number {
  g.fill(0);
  return stretch(metric, x, g) + bend(metric, x, g) + curl(metric, x, g);
}

/** Takes the third component of every vertex away. */
function levelOut(field: Float64Array): void {
  for (let k = 2; k < field.length; k += 3) field[k] = 0;
}

function isSame(a: Int32Array, b: Int32Array): boolean {
  if (a.length !== b.length) return false;
  for (let k = 0; k < a.length; k++) if (a[k] !== b[k]) return false;
  return true;
}

function mean(a: Float64Array): number {
  let sum = 0;
  for (let k = 0; k < a.length; k++) sum += a[k];
  return a.length > 0 ? sum / a.length : 0;
}
