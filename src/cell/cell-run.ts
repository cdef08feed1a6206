/**
 * One relaxation of a periodic repeat: grown from thin yarn, then relaxed at ever tighter tolerances until
 * two stopping points agree.
 *
 * Input: a RodSystem with start positions and periods, in yarn diameters. Output: both at rest, in place,
 * and the record. Soft modes make an early stop look like a result: hence the two stops.
 */
import { type RodRun, relaxRods } from '../rod/relax-rods.ts';
import type { RodSystem } from '../rod/rod-system.ts';
import { fibreSmooth, INFLATION, YARN, type YarnRelaxation } from '../rod/yarn-material.ts';

/** Steps between two factorings of the stiffness. Chosen by timing: flat between 10 and 30. */
export const FACTOR_EVERY = 15;
/** Tolerances on the largest force, B/d², and how well two of them must agree (YARN.md: 1 %). */
const STOPS: readonly number[] = [1e-3, 1e-4, 1e-5];
const AGREEMENT = 0.01;
/** Largest change of a coordinate in a step, d: full yarn, and as a share of the yarn while it grows. */
const MAX_MOVE = 0.12;
const GROWING_MOVE = 1 / 6;
/** Force at which a stage of growth ends, and its most steps. Chosen: it only leads the way. */
const GROWN = 0.05;
const GROWTH_STEPS = 30;

export interface CellRunSetting {
  readonly system: RodSystem;
  /** [3·nodes] and [x, y], changed in place. */
  readonly positions: Float64Array;
  readonly period: Float64Array;
  /** Stiffness towards the table, B/d⁴. */
  readonly plane: number;
  /** Height of the whole repeat held at this, d; 0: an unknown. */
  readonly heldHeight: number;
  readonly stops?: readonly number[];
  readonly maxIterations?: number;
  /** Return true to cancel; positions and period are right during the call only. */
  readonly onStep?: (
    residual: number,
    positions: Float64Array,
    period: Float64Array,
  ) => boolean | undefined;
}

export class CellRun {
  private readonly setting: CellRunSetting;
  private iterations = 0;
  private evaluations = 0;
  private tunnelFree = true;
  private cancelled = false;
  private change = Infinity;
  private last: RodRun | null = null;

  constructor(setting: CellRunSetting) {
    this.setting = setting;
  }

  /** Elastic energy where the run ended, B/d. */
  get energy(): number {
    return this.last?.energy ?? Number.NaN;
  }

  get passedNothing(): boolean {
    return this.tunnelFree;
  }

  /** From thin yarn to full; `finer` begins at half the usual thickness, where strands start close. */
  grow(finer: boolean): void {
    const shares = finer ? [INFLATION[0] / 2, ...INFLATION] : INFLATION;
    for (const share of shares) {
      this.approachHeight(0.5);
      this.relax(share, GROWN, GROWTH_STEPS);
      if (this.cancelled) break;
    }
  }

  /** A decade tighter at a time until two stops agree. */
  settle(): void {
    const { period, stops = STOPS, maxIterations = 40000 } = this.setting;
    this.approachHeight(1);
    this.relax(1, stops[0], maxIterations);
    for (let stop = 1; stop < stops.length && this.change >= AGREEMENT; stop++) {
      const [width, height] = period;
      this.relax(1, stops[stop], maxIterations);
      this.change = Math.max(Math.abs(period[0] / width - 1), Math.abs(period[1] / height - 1));
    }
  }

  /** `linksKept`: every loop is still drawn through the one below. */
  record(linksKept: boolean): YarnRelaxation {
    const { last, change, cancelled } = this;
    if (!last) throw new RangeError('nothing has been relaxed yet');
    const agrees = change < AGREEMENT;
    const kept = linksKept && this.tunnelFree;
    let reason: string = last.reason;
    if (last.converged && !agrees) reason = 'two stopping points differ';
    if (!kept) reason = 'yarn passed through yarn';
    if (cancelled) reason = 'cancelled';
    return {
      converged: last.converged && agrees && kept && !cancelled,
      reason,
      iterations: this.iterations,
      evaluations: this.evaluations,
      residual: last.residual,
      changeBetweenStops: change,
      closestDiameters: last.closestAtRest,
      linksKept: kept,
    };
  }

  /** The held height is approached while the yarn is still thin. */
  private approachHeight(share: number): void {
    const { heldHeight, positions, period } = this.setting;
    if (heldHeight === 0) return;
    const factor = (heldHeight / period[1]) ** share;
    for (let i = 1; i < positions.length; i += 3) positions[i] *= factor;
    period[1] *= factor;
  }

  private relax(share: number, tolerance: number, limit: number): void {
    const { system, positions, period, plane, heldHeight, onStep } = this.setting;
    const diameter = share * YARN.diameter;
    const result = relaxRods(
      {
        system,
        positions,
        period,
        freePeriod: [true, heldHeight === 0],
        held: null,
        load: null,
        extra: null,
      },
      {
        material: { ...YARN, diameter, plane },
        tolerance,
        maxIterations: this.cancelled ? 0 : limit,
        maxMove: Math.min(MAX_MOVE, GROWING_MOVE * share),
        factorEvery: FACTOR_EVERY,
        smooth: fibreSmooth(system.rest[0]),
        onIteration: onStep
          ? (_k, residual, _energy, now, nowPeriod) => onStep(residual, now, nowPeriod)
          : undefined,
      },
    );
    this.iterations += result.iterations;
    this.evaluations += result.evaluations;
    this.tunnelFree &&= result.tunnelFree;
    this.cancelled ||= result.reason === 'cancelled';
    this.last = result;
  }
}
