/**
 * Brings a sheet to rest: Metric → RelaxedSheet. Tries the starting shapes that the ring profile
 * allows, goes on with the best, leaves it where its softest mode tells that it was only balanced on a
 * saddle of the energy, and says honestly how it ended.
 * Solver: L-BFGS with a multilevel approximate inverse Hessian (sheet-solver.ts, preconditioner.ts).
 */

import type { Metric } from '../gauge/metric.ts';
import { createRandom } from '../math/random.ts';
import { planTopology, type SheetTopology } from './energy/stiffness.ts';
import type {
  Load,
  LyingSheet,
  Relaxation,
  RelaxedSheet,
  RelaxOptions,
  StopReason,
} from './relaxed-sheet.ts';
import { SheetSolver, type SolveOutcome } from './solver/sheet-solver.ts';
import { alignSheet } from './starts/alignment.ts';
import { type Start, startShapes } from './starts/starts.ts';
import { fitScale, laidAlike, laidBefore } from './starts/warm-starts.ts';
import { settleSheet } from './table/settle-sheet.ts';

export const RELAX_DEFAULTS: RelaxOptions = {
  tolerance: 1e-5,
  maxIterations: 3000,
  seed: 1,
  from: null,
  inPlane: null,
  lyingFrom: null,
  like: null,
  onProgress: null,
  kept: null,
  load: null,
};

/** Iterations given to each start before the best is chosen. Chosen: energies have parted by then. */
const TRIAL_ITERATIONS = 40;
/** Starts within this factor of the best energy are followed to the end. Chosen. */
const STILL_IN = 1.02;
/** Residual at which starts are compared again. Chosen: ruffles of 1,000 to 21,000 vertices then fall by 5 in 100,000 at most. */
const NEAR_REST = 1e-3;
/** Largest movement of the push off a saddle, as a share of √area. Chosen: far above noise, far below shape. */
const PUSH = 0.02;
/** A lower state must be lower by this share to count. Chosen. */
const LOWER = 1e-5;
/** Curvature (K = 1) below which a state is unstable: clear of what a residual of 1e-5 leaves. Chosen. */
const UNSTABLE = -1e-6;
/** Rounds of the search for the softest mode, and saddles left one after another. Chosen. */
const MODE_ITERATIONS = 24;
const MOST_SADDLES = 3;

/** Everything about the sheet's topology that the solver can keep from one solve to the next. */
export function planSheet(metric: Metric): SheetTopology {
  return planTopology(metric);
}

/** A sheet at rest in the air, and the way to lay it on a table: later, or never. */
export interface RestInAir {
  readonly sheet: RelaxedSheet;
  readonly lay: (load: Load) => RelaxedSheet;
  /** The solver it was brought to rest with; null where nothing was solved. */
  readonly solver: SheetSolver | null;
}

/**
 * Relaxes the sheet. `topology`, from `planSheet`, may be passed again for any metric with the same
 * springs and hinges; it saves finding the pattern of the Hessian.
 */
export function relaxSheet(
  metric: Metric,
  options: Partial<RelaxOptions> = {},
  topology?: SheetTopology,
): RelaxedSheet {
  const { sheet, lay } = relaxInAir(metric, options, topology);
  return options.load ? lay(options.load) : sheet;
}

/** The same without the table, however much it weighs. `own`: a solver made for this metric; its nets and Hessian serve. */
export function relaxInAir(
  metric: Metric,
  options: Partial<RelaxOptions> = {},
  topology?: SheetTopology,
  own?: SheetSolver,
): RestInAir {
  const asked = { ...RELAX_DEFAULTS, ...options };
  const never = (sheet: RelaxedSheet): RestInAir => ({ sheet, lay: () => sheet, solver: null });
  if (metric.vertices === 0) return never(atRest({ name: 'flat', positions: new Float64Array(0) }));
  if (asked.from !== null && asked.from.length !== 3 * metric.vertices) {
    throw new RangeError(
      `start has ${asked.from.length} coordinates, the sheet needs ${3 * metric.vertices}`,
    );
  }
  const from = asked.from && fitScale(metric, asked.from);
  const settings = { ...asked, from };
  const starts: readonly { name: string; positions: Float64Array }[] =
    from !== null ? [{ name: 'given', positions: from }] : startsOf(metric, settings.inPlane);
  // A chain of single loops has nothing that holds it in any shape.
  if (metric.springs.length === 0) return never(atRest(starts[0]));
  const known = starts.every((start) => start.positions.every(Number.isFinite));
  if (!known || !isFiniteMetric(metric)) return never(failed(metric, starts[0]));

  const { kept } = settings;
  const solver =
    own ??
    kept?.solverFor(metric, from === null, topology) ??
    new SheetSolver(metric, topology ?? planTopology(metric));
  const search = new Search(metric, solver, settings);
  for (const start of starts) search.follow(start.name, start.positions, starts.length > 1);
  search.finish();
  search.leaveSaddles();
  const sheet = search.result();
  return { sheet, lay: (load) => ({ ...sheet, lying: search.lie(sheet, load) }), solver };
}

/** A flat start goes the way that `pressSheet` goes: where it has gone it, its end serves. */
function startsOf(metric: Metric, inPlane: Float64Array | null): readonly Start[] {
  const starts = startShapes(metric);
  if (!inPlane || !metric.ring.closed) return starts;
  return starts.map((start) => (start.name === 'flat' ? { ...start, positions: inPlane } : start));
}

/** Whether one of the starting shapes lies in the plane: where `inPlane` is given, it starts from that instead. */
export function startsInPlane(metric: Metric): boolean {
  return metric.ring.closed && startShapes(metric).some(({ name }) => name === 'flat');
}

interface State {
  name: string;
  outcome: SolveOutcome;
  positions: Float64Array;
}

class Search {
  private readonly metric: Metric;
  private readonly solver: SheetSolver;
  private readonly settings: RelaxOptions;
  private states: State[] = [];
  private spent = 0;
  private cancelled = false;

  constructor(metric: Metric, solver: SheetSolver, settings: RelaxOptions) {
    this.metric = metric;
    this.solver = solver;
    this.settings = settings;
  }

  follow(name: string, from: Float64Array, onTrial: boolean): void {
    if (this.cancelled) return;
    const outcome = onTrial
      ? this.solve(from, TRIAL_ITERATIONS, NEAR_REST)
      : this.solve(from, Number.POSITIVE_INFINITY);
    this.states.push({ name, outcome, positions: this.solver.x.slice() });
  }

  /** Follows the best starts to the end; leaves one state, the lowest. */
  finish(): void {
    // A start that ran off to not-a-number counts as infinitely high.
    const height = (s: State) =>
      Number.isFinite(s.outcome.energy) ? s.outcome.energy : Number.POSITIVE_INFINITY;
    // Energies fall below nothing where edges curl.
    const lowest = Math.min(...this.states.map(height));
    const limit = lowest + (STILL_IN - 1) * Math.abs(lowest);
    const kept = this.states.filter((s) => height(s) <= limit);
    if (kept.length > 1) {
      // Near rest their energies tell them apart; the last of the way is long, and one need go it.
      for (const state of kept) if (state.outcome.residual > NEAR_REST) this.goOn(state, NEAR_REST);
      kept.sort((a, b) => height(a) - height(b) || 0);
    }
    const [first, ...others] = kept;
    this.goOn(first);
    // The others are mirror images of it, or as good; what is lower already goes the way too.
    for (const state of others) if (height(state) < height(first)) this.goOn(state);
    kept.sort((a, b) => height(a) - height(b) || 0);
    this.states = kept.slice(0, 1);
  }

  /** To the end, or until near it. */
  private goOn(state: State, enough = 0): void {
    if (this.cancelled || state.outcome.reason !== 'iteration-limit') return;
    state.outcome = this.solve(state.positions, Number.POSITIVE_INFINITY, enough);
    state.positions.set(this.solver.x);
  }

  /** Goes down from a state that is balanced on a saddle of the energy: its softest mode says so. */
  leaveSaddles(): void {
    // The curl of a free edge is not in the Hessian at hand; its edges are off any saddle.
    if (this.metric.curl) return;
    const { solver, settings } = this;
    const noise = smoothNoise(settings.seed + 1, this.states[0].positions.length, solver);
    for (let tries = 0; tries < MOST_SADDLES; tries++) {
      const { name, outcome, positions } = this.states[0];
      if (this.cancelled || outcome.reason !== 'converged') return;
      const soft = solver.softest(positions, noise, MODE_ITERATIONS, UNSTABLE);
      if (!(soft.curvature < UNSTABLE)) return;
      let most = 0;
      for (const m of soft.mode) most = Math.max(most, Math.abs(m));
      const size = (PUSH * solver.sizeMm) / most;
      const from = positions.map((p, k) => p + size * soft.mode[k]);
      const next = this.solve(from, Number.POSITIVE_INFINITY);
      if (!(next.energy < outcome.energy * (1 - LOWER))) return;
      this.states = [{ name, outcome: next, positions: solver.x.slice() }];
    }
  }

  private solve(from: Float64Array, iterations: number, enough = 0): SolveOutcome {
    const { maxIterations, onProgress, tolerance } = this.settings;
    const outcome = this.solver.solve(from, {
      tolerance,
      maxIterations: Math.min(iterations, maxIterations - this.spent),
      onProgress,
      spent: this.spent,
      enough,
    });
    this.spent += outcome.iterations;
    if (outcome.reason === 'cancelled') this.cancelled = true;
    return outcome;
  }

  result(): RelaxedSheet {
    const { name, outcome, positions } = this.states[0];
    const reason: StopReason = this.cancelled ? 'cancelled' : outcome.reason;
    if (!positions.every(Number.isFinite)) return failed(this.metric, { name, positions });
    alignSheet(this.metric, positions);
    const relaxation: Relaxation = {
      converged: reason === 'converged',
      reason,
      iterations: this.spent,
      residual: outcome.residual,
      energy: outcome.energy,
      ...this.solver.energies(positions),
      start: name,
    };
    return { version: 1, positions, relaxation, lying: null };
  }

  /** On the table, from the shape in the air; null where that is not known. */
  lie({ positions, relaxation }: RelaxedSheet, load: Load): LyingSheet | null {
    const { from, lyingFrom, like } = this.settings;
    if (this.cancelled || relaxation.reason === 'not-a-number') return null;
    const before = from && lyingFrom && laidBefore(this.metric, positions, from, lyingFrom);
    const start = before ?? (like && laidAlike(positions, like));
    return settleSheet(this.metric, this.solver.tablePreconditioner(), positions, load, {
      start,
      onStep: this.watch(),
    });
  }

  private watch(): ((x: Float64Array) => boolean | undefined) | null {
    const { onProgress } = this.settings;
    if (onProgress === null) return null;
    const { residual, energy } = this.states[0].outcome;
    const iteration = this.spent;
    return (positions) => onProgress({ iteration, residual, energy, positions }) === true;
  }
}

/** Seeded field, smooth and of greatest component 1. */
function smoothNoise(seed: number, size: number, solver: SheetSolver): Float64Array {
  const random = createRandom(seed);
  const field = new Float64Array(size);
  // Three of four uniform numbers are near enough to a bell curve here.
  for (let k = 0; k < size; k++) field[k] = random() + random() + random() - 1.5;
  for (let d = 0; d < 3; d++) {
    // The mean would only carry the sheet away.
    let mean = 0;
    for (let k = d; k < size; k += 3) mean += (3 * field[k]) / size;
    for (let k = d; k < size; k += 3) field[k] -= mean;
  }
  solver.smooth(field);
  let most = 0;
  for (let k = 0; k < size; k++) most = Math.max(most, Math.abs(field[k]));
  return most > 0 ? field.map((f) => f / most) : field;
}

function finite(positions: Float64Array): Float64Array {
  return positions.map((p) => (Number.isFinite(p) ? p : 0));
}

function isFiniteMetric(metric: Metric): boolean {
  const { restMm, stiffness, hingeWeights, bendingMm, areaMm2 } = metric;
  return (
    Number.isFinite(bendingMm) &&
    [restMm, stiffness, hingeWeights, areaMm2].every((a) => a.every(Number.isFinite)) &&
    stiffness.every((k) => k >= 0)
  );
}

/** The start, made finite, with the record that says that nothing could be computed. */
function failed(metric: Metric, start: { name: string; positions: Float64Array }): RelaxedSheet {
  const positions = finite(start.positions);
  if (metric.areaMm2.every(Number.isFinite)) alignSheet(metric, positions);
  return {
    version: 1,
    positions: finite(positions),
    lying: null,
    relaxation: {
      converged: false,
      reason: 'not-a-number',
      iterations: 0,
      residual: Number.MAX_VALUE,
      energy: Number.MAX_VALUE,
      stretchEnergy: Number.MAX_VALUE,
      bendingEnergy: Number.MAX_VALUE,
      start: start.name,
    },
  };
}

/** Nothing to solve: it rests where it starts. */
function atRest({ name, positions }: { name: string; positions: Float64Array }): RelaxedSheet {
  return {
    version: 1,
    positions,
    lying: null,
    relaxation: {
      converged: true,
      reason: 'converged',
      iterations: 0,
      residual: 0,
      energy: 0,
      stretchEnergy: 0,
      bendingEnergy: 0,
      start: name,
    },
  };
}
