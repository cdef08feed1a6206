/**
 * The relaxation that the join and the ladder share: rods with friction, inflated, given slack by
 * steps, then measured at two stopping points. In: a rod system and what holds it. Lengths in yarn
 * diameters; `positions` and `period` are worked on in place.
 */
import { type SavedGrips, YARN_FRICTION, YarnFriction } from '../rod/friction.ts';
import { type RodMaterial, type RodRun, relaxRods } from '../rod/relax-rods.ts';
import type { RodSystem } from '../rod/rod-system.ts';
import { fibreSmooth, YARN, type YarnRelaxation } from '../rod/yarn-material.ts';
import { FACTOR_EVERY } from './cell-run.ts';
import { TABLE_STIFFNESS } from './relax-cell.ts';
import { AGREEMENT, addYarn, refreshArc } from './slack.ts';

/** Residuals at which the hole is measured, one after the other until two measurements agree. */
const STOPS: readonly number[] = [1e-2, 1e-3, 1e-4];
/** Share of the friction springs that may still slip when a step counts as settled. Chosen. */
const STILL_SLIPPING = 0.02;

export interface SlackRunSetting {
  readonly system: RodSystem;
  readonly positions: Float64Array;
  readonly period: Float64Array;
  readonly freePeriod: [boolean, boolean];
  /** [nodes] 7 where held; may be changed between relaxations. */
  held: Uint8Array | null;
  /** Coefficient of friction; `YARN_FRICTION` by default. */
  readonly coefficient: number | undefined;
  /** Positions and period are right during the call only. */
  readonly onProgress:
    | ((residual: number, positions: Float64Array, period: Float64Array) => boolean | undefined)
    | undefined;
}

/** A state to go on from, as often as wanted. */
export interface SavedRun {
  readonly positions: Float64Array;
  readonly period: Float64Array;
  readonly grips: SavedGrips;
  readonly iterations: number;
  readonly evaluations: number;
  readonly tunnelFree: boolean;
  readonly cancelled: boolean;
}

/** Yarn added to some segments, in yarn diameters (negative: pulled out). */
export interface YarnChange {
  readonly segments: Int32Array;
  readonly more: number;
}

export class SlackRun {
  readonly friction: YarnFriction;
  private readonly setting: SlackRunSetting;
  private readonly material: RodMaterial = { ...YARN, plane: TABLE_STIFFNESS };
  private readonly coefficient: number;
  private iterations = 0;
  private evaluations = 0;
  private tunnelFree = true;
  private cancelled = false;
  private last: RodRun | null = null;

  constructor(setting: SlackRunSetting) {
    this.setting = setting;
    this.coefficient = setting.coefficient ?? YARN_FRICTION;
    this.friction = new YarnFriction(setting.system, this.material, this.coefficient);
  }

  save(): SavedRun {
    const { positions, period } = this.setting;
    const { iterations, evaluations, tunnelFree, cancelled } = this;
    return {
      positions: positions.slice(),
      period: period.slice(),
      grips: this.friction.save(),
      iterations,
      evaluations,
      tunnelFree,
      cancelled,
    };
  }

  /** Goes back to a state of a run with the same yarn; rest lengths are the caller's. */
  restore(saved: SavedRun): void {
    this.setting.positions.set(saved.positions);
    this.setting.period.set(saved.period);
    this.friction.restore(saved.grips);
    this.iterations = saved.iterations;
    this.evaluations = saved.evaluations;
    this.tunnelFree = saved.tunnelFree;
    this.cancelled = saved.cancelled;
  }

  /** Relaxes at a share of the yarn's thickness to a residual, within a number of iterations. */
  relax(share: number, tolerance: number, limit: number): void {
    const { system, positions, period, freePeriod, held, onProgress } = this.setting;
    const rubs = this.coefficient > 0 && this.friction.count > 0;
    const result = relaxRods(
      {
        system,
        positions,
        period,
        freePeriod,
        held,
        load: null,
        extra: rubs ? this.friction.energy : null,
      },
      {
        material: { ...this.material, diameter: share * YARN.diameter },
        tolerance,
        maxIterations: this.cancelled ? 0 : limit,
        maxMove: share < 1 ? Math.min(share / 6, 0.12) : 0.12,
        smooth: fibreSmooth(system.rest[0]),
        factorEvery: FACTOR_EVERY,
        onIteration: onProgress
          ? (_k, residual, _energy, now, nowPeriod) => onProgress(residual, now, nowPeriod)
          : undefined,
      },
    );
    this.iterations += result.iterations;
    this.evaluations += result.evaluations;
    this.tunnelFree &&= result.tunnelFree;
    this.cancelled ||= result.reason === 'cancelled';
    this.last = result;
  }

  /**
   * Sets the segments' lengths to `base` and the changes, and lets the yarn find its place. Springs
   * that pull too hard slip; then it finds its place anew.
   */
  letIn(base: Float64Array, changes: readonly YarnChange[], limit: number): void {
    const { system, positions, period } = this.setting;
    this.friction.settle(positions, period);
    system.rest.set(base);
    for (const { segments, more } of changes) addYarn(system.rest, base, segments, more);
    refreshArc(system);
    for (let pass = 0; pass < 3; pass++) {
      this.relax(1, STOPS[0], limit);
      if (this.friction.settle(positions, period) < STILL_SLIPPING) return;
    }
  }

  /** Measures, relaxes tighter and measures again until two diameters agree. */
  measureTwice<T>(
    measure: () => T,
    diameterOf: (measured: T) => number,
    limit: number,
  ): { measured: T; change: number } {
    let measured = measure();
    let change = Number.POSITIVE_INFINITY;
    for (const tolerance of STOPS.slice(1)) {
      if (change < AGREEMENT) break;
      const early = diameterOf(measured);
      this.relax(1, tolerance, limit);
      measured = measure();
      change = Math.abs(diameterOf(measured) - early);
    }
    return { measured, change };
  }

  /** The record; `failure` is a reason of the caller's own why the result cannot be trusted. */
  record(change: number, failure: string | null): YarnRelaxation {
    const last = this.last;
    if (!last) throw new RangeError('nothing has been relaxed yet');
    const agrees = change < AGREEMENT;
    const reason = this.cancelled
      ? 'cancelled'
      : (failure ?? (last.converged && !agrees ? 'two stopping points differ' : last.reason));
    return {
      converged: last.converged && agrees && this.tunnelFree && failure === null,
      reason,
      iterations: this.iterations,
      evaluations: this.evaluations,
      residual: last.residual,
      changeBetweenStops: change,
      closestDiameters: last.closestAtRest,
      linksKept: this.tunnelFree,
    };
  }
}
