/**
 * One relaxation of yarn, periodic or not: grown from thin yarn, given slack where wanted, then measured at ever
 * tighter tolerances until two stopping points agree, as soft modes make an early stop look like a result.
 * In: a rod system and what holds it, in yarn diameters. Out: positions and period at rest, in place, and the record.
 */
import { type SavedGrips, YarnFriction } from '../rod/friction.ts';
import { type RodMaterial, type RodRun, relaxRods } from '../rod/relax-rods.ts';
import type { RodSystem } from '../rod/rod-system.ts';
import {
  fibreSmooth,
  INFLATION,
  SUMMED_CONTACT,
  YARN,
  type YarnRelaxation,
} from '../rod/yarn-material.ts';
import { addYarn, refreshArc } from './slack.ts';

/** Steps between two factorings of the stiffness. Chosen by timing: flat between 10 and 30. */
export const FACTOR_EVERY = 15;
/** Largest change of a coordinate in a step, d: full yarn, and as a share of the yarn while it grows. */
const MAX_MOVE = 0.12;
const GROWING_MOVE = 1 / 6;
/** Force at which a stage of growth ends, B/d², and its most steps. Chosen: it only leads the way. */
export const GROWN_FORCE = 0.05;
const GROWTH_STEPS = 30;
/** The same of a cable's panel. Chosen by the steps to rest: four fifths at 24 diameters a loop, as many at 20, energies alike. */
export const CABLE_GROWTH_STEPS = 20;
/** Force to which yarn finds its place after its lengths changed, B/d². */
const RESETTLED_FORCE = 1e-2;
/** Share of the friction springs that may still slip when a step counts as settled. Chosen. */
const STILL_SLIPPING = 0.02;

export interface YarnRunSetting {
  readonly system: RodSystem;
  /** [3·nodes] and [x, y], changed in place. */
  readonly positions: Float64Array;
  readonly period: Float64Array;
  readonly freePeriod: readonly [boolean, boolean];
  /** Stiffness towards the table, B/d⁴. */
  readonly plane: number;
  /** [nodes] 7 where held; null: nowhere. */
  readonly held?: Uint8Array | null;
  /** Coefficient of friction; 0, as by default: none. */
  readonly friction?: number;
  /** Points a segment over which the contact of full yarn is summed; 0, as by default: between closest points. */
  readonly samples?: number;
  /** Return true to cancel; positions and period are right during the call only. */
  readonly onStep?: (
    residual: number,
    positions: Float64Array,
    period: Float64Array,
  ) => boolean | undefined;
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

/** What is measured at the stopping points, and how near two of them must be. */
export interface StopMeasure<T> {
  readonly measure: () => T;
  readonly changeOf: (early: T, late: T) => number;
  readonly agreement: number;
}

export class YarnRun {
  readonly friction: YarnFriction;
  /** [nodes] 7 where held; may be changed between relaxations. */
  held: Uint8Array | null;
  private readonly setting: YarnRunSetting;
  private readonly material: RodMaterial;
  private iterations = 0;
  private evaluations = 0;
  private tunnelFree = true;
  private cancelled = false;
  private last: RodRun | null = null;

  constructor(setting: YarnRunSetting) {
    this.setting = setting;
    this.held = setting.held ?? null;
    const contact = setting.samples ? SUMMED_CONTACT : YARN.contact;
    this.material = { ...YARN, contact, plane: setting.plane };
    this.friction = new YarnFriction(setting.system, this.material, setting.friction ?? 0);
  }

  /** Elastic energy where the run ended, B/d. */
  get energy(): number {
    return this.last?.energy ?? Number.NaN;
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

  /**
   * From thin yarn to nearly full. `finer` begins at half the usual thickness, where strands start close;
   * `before` is called ahead of each stage with its share of the thickness; a stage ends after so many `steps`.
   */
  grow(finer: boolean, before?: (share: number) => void, steps = GROWTH_STEPS): void {
    const shares = finer ? [INFLATION[0] / 2, ...INFLATION] : INFLATION;
    for (const share of shares) {
      before?.(share);
      this.relax(share, GROWN_FORCE, steps);
      if (this.cancelled) break;
    }
  }

  /** Relaxes at a share of the yarn's thickness to a residual, within a number of iterations. */
  relax(share: number, tolerance: number, limit: number): void {
    const { system, positions, period, freePeriod, friction = 0, onStep } = this.setting;
    // Thin strands could slip between points.
    const samples = share < 1 ? 0 : (this.setting.samples ?? 0);
    const contact = samples > 0 ? SUMMED_CONTACT : YARN.contact;
    const rubs = friction > 0 && this.friction.count > 0;
    const result = relaxRods(
      {
        system,
        positions,
        period,
        freePeriod,
        held: this.held,
        load: null,
        extra: rubs ? this.friction.energy : null,
      },
      {
        material: { ...this.material, contact, diameter: share * YARN.diameter },
        tolerance,
        maxIterations: this.cancelled ? 0 : limit,
        maxMove: Math.min(MAX_MOVE, GROWING_MOVE * share),
        factorEvery: FACTOR_EVERY,
        // As small beside thin yarn as beside full: else its strands pass into each other at their joints and stay caught.
        smooth: share * share * fibreSmooth(system.rest[0]),
        samples,
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
      this.relax(1, RESETTLED_FORCE, limit);
      if (this.friction.settle(positions, period) < STILL_SLIPPING) return;
    }
  }

  /** Measures, relaxes to the next of the stops and measures again until two measurements agree. */
  measureAtStops<T>(
    { measure, changeOf, agreement }: StopMeasure<T>,
    stops: readonly number[],
    limit: number,
  ): { measured: T; change: number } {
    let measured = measure();
    let change = Number.POSITIVE_INFINITY;
    for (const tolerance of stops) {
      if (change < agreement) break;
      const early = measured;
      this.relax(1, tolerance, limit);
      measured = measure();
      change = changeOf(early, measured);
    }
    return { measured, change };
  }

  /**
   * The record. `change` of what was measured at the last two stops must be below `agreement`; `failure` is a
   * reason of the caller's own why the result cannot be trusted.
   */
  record(
    change: number,
    agreement: number,
    failure: string | null,
    linksKept = true,
  ): YarnRelaxation {
    const { last, cancelled } = this;
    if (!last) throw new RangeError('nothing has been relaxed yet');
    const agrees = change < agreement;
    const kept = linksKept && this.tunnelFree;
    let reason: string = last.reason;
    if (last.converged && !agrees) reason = 'two stopping points differ';
    if (!kept) reason = 'yarn passed through yarn';
    if (failure) reason = failure;
    if (cancelled) reason = 'cancelled';
    return {
      converged: last.converged && agrees && kept && failure === null && !cancelled,
      reason,
      iterations: this.iterations,
      evaluations: this.evaluations,
      residual: last.residual,
      changeBetweenStops: change,
      closestDiameters: last.closestAtRest,
      linksKept: kept,
    };
  }
}
