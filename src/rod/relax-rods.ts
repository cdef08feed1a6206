/**
 * Relaxes a RodSystem to rest without dynamics: stretch, bending, contact, a soft plane, dead loads,
 * held nodes, and periods that may be unknowns.
 *
 * Input: a RodSystem with start positions. Output: positions and periods at rest with the record of
 * how far the solver came. Lengths are in yarn diameters and B = 1 in the cells, but any unit works.
 * Every accepted step moves touching yarns relative to each other by less than their distance before it,
 * so no yarn can have passed through another.
 */
import { AffineUnknowns } from './affine-unknowns.ts';
import { type ContactState, closestTouching, contactEnergy, emptyContactState } from './contact.ts';
import type { ContactLaw } from './contact-law.ts';
import { ContactPairs } from './contact-pairs.ts';
import { type MinimizeResult, minimize } from './minimize.ts';
import { elasticEnergy } from './rod-elasticity.ts';
import { RodPreconditioner } from './rod-preconditioner.ts';
import type { RodSystem } from './rod-system.ts';
import { StepLimit } from './step-limit.ts';
import { StrandPreconditioner } from './strand-preconditioner.ts';
import { summedContactEnergy } from './summed-contact.ts';

export interface RodMaterial {
  /** EA and B, in units of force and force × length². */
  readonly stretch: number;
  readonly bending: number;
  /** Contact stiffness k (energy per length²) and distance D at which contact begins. */
  readonly contact: number;
  readonly diameter: number;
  /** How contact pushes back (contact-law.ts); a shell by default. */
  readonly law?: ContactLaw;
  /** Stiffness towards the plane z = 0, force per length of yarn and per distance. */
  readonly plane: number;
}

/** An extra energy, e.g. friction; adds to the gradients and returns its energy. */
export type ExtraEnergy = (
  positions: Float64Array,
  period: Float64Array,
  gradient: Float64Array,
  periodGradient: Float64Array,
) => number;

export interface RodProblem {
  readonly system: RodSystem;
  readonly positions: Float64Array;
  /** x and y periods; 0 where not periodic. */
  readonly period: Float64Array;
  /** Periods that are unknowns. */
  readonly freePeriod: readonly [boolean, boolean];
  /** [nodes] bits 1, 2, 4: x, y, z held. */
  readonly held: Uint8Array | null;
  /** [3·nodes] dead forces. */
  readonly load: Float64Array | null;
  readonly extra: ExtraEnergy | null;
}

export interface RodRun extends MinimizeResult {
  /** No yarns were nearer than this over the whole run; least distance where it ended. */
  readonly closest: number;
  readonly closestAtRest: number;
  /** Whether each step kept below what yarn was apart. */
  readonly tunnelFree: boolean;
  readonly touching: number;
}

export interface RodRunOptions {
  readonly material: RodMaterial;
  readonly tolerance: number;
  readonly maxIterations: number;
  /** Largest change of one coordinate in one step. */
  readonly maxMove: number;
  /** Reach of the pair list beyond the diameter; half a diameter by default. Thin yarn wants more. */
  readonly skin?: number;
  /** Steps between two factorings of the stiffness; 0: none. */
  readonly factorEvery?: number;
  /** Steps between two factorings of each yarn's own stiffness (strand-preconditioner.ts). */
  readonly bandEvery?: number;
  /** What is added to that stiffness everywhere, B/d³; `BAND_SHIFT` by default. */
  readonly bandShift?: number;
  /** [nodes] stiffness of the springs in `extra`, for that factoring. */
  readonly springs?: Float64Array;
  /** Steps that the solver remembers. */
  readonly memory?: number;
  /**
   * Share of the segments' lengths, squared, by which contact prefers their middles: without it the force
   * jumps from end to end as segments turn past parallel, and crowded yarn never comes to rest. 0: none.
   */
  readonly smooth?: number;
  /** Points a segment over which contact is summed (summed-contact.ts); 0, as by default: it is between closest points. */
  readonly samples?: number;
  /** Contact as plain springs, finite at any depth: for starts whose yarns overlap. */
  readonly soft?: boolean;
  /** Positions and period are the solver's own: right during the call only. */
  readonly onIteration?: (
    iteration: number,
    residual: number,
    energy: number,
    positions: Float64Array,
    period: Float64Array,
  ) => boolean | undefined;
}

/** Minimises the energy; changes `problem.positions` and `problem.period` in place. */
export function relaxRods(problem: RodProblem, options: RodRunOptions): RodRun {
  return new Relaxing(problem, options).run();
}

class Relaxing {
  private readonly problem: RodProblem;
  private readonly options: RodRunOptions;
  private readonly law: ContactLaw;
  private readonly contact: Parameters<typeof contactEnergy>[2];
  private readonly touches: boolean;
  private readonly unknowns: AffineUnknowns;
  private readonly periodGradient = new Float64Array(2);
  /** [4·segments] direction and length. */
  private readonly tangents: Float64Array;
  private readonly lists: ContactPairs;
  private readonly state: ContactState = emptyContactState();
  private readonly stepLimit: StepLimit;
  private readonly stiff: RodPreconditioner | null;
  private readonly bands: StrandPreconditioner | null;
  /** Whether the stiffness is to be factored before the next step. */
  private due = false;
  private closest: number;
  private tunnelFree = true;
  private touching = 0;

  constructor(problem: RodProblem, options: RodRunOptions) {
    const { system, positions, period, held, freePeriod } = problem;
    const { material, skin = 0.5 * material.diameter, factorEvery = 0, bandEvery = 0 } = options;
    const { diameter } = material;
    this.problem = problem;
    this.options = options;
    this.law = options.soft ? 'springs' : (material.law ?? 'shell');
    this.contact = { contact: material.contact, diameter, law: this.law, smooth: options.smooth };
    this.touches = material.contact > 0 && diameter > 0;
    this.unknowns = new AffineUnknowns(positions, period, freePeriod);
    this.tangents = new Float64Array(4 * system.segments);
    this.lists = new ContactPairs(system, held, diameter, skin);
    this.state.closest = diameter;
    this.closest = diameter;
    const { axes, scale } = this.unknowns;
    this.stepLimit = new StepLimit(system, this.unknowns, this.lists.near, this.state, {
      maxMove: options.maxMove,
      diameter: this.touches ? diameter : 0,
      soft: options.soft ?? false,
    });
    this.stiff =
      factorEvery > 0 ? new RodPreconditioner(system, material, held, axes, scale) : null;
    const springs = options.springs ?? null;
    this.bands =
      bandEvery > 0
        ? new StrandPreconditioner(system, material, held, springs, options.bandShift)
        : null;
  }

  run(): RodRun {
    const { unknowns, problem, options, stiff, bands } = this;
    const { tolerance, maxIterations, memory } = options;
    const start = unknowns.x;
    const result = minimize(
      {
        size: start.length,
        evaluate: (v, gradient) => this.evaluate(v, gradient),
        stepLimit: (v, direction) => this.stepLimit.of(v, direction),
        precondition: stiff || bands ? (v) => this.precondition(v) : undefined,
        accepted: (v, energy, residual, iteration) => this.accepted(v, energy, residual, iteration),
      },
      start,
      tolerance,
      maxIterations,
      memory,
    );
    unknowns.take(start);
    problem.positions.set(unknowns.actual);
    const { closest, tunnelFree, touching } = this;
    return { ...result, closest, closestAtRest: this.closestNow(), tunnelFree, touching };
  }

  private evaluate(v: Float64Array, gradient: Float64Array): number {
    const { unknowns, problem, periodGradient, tangents, lists } = this;
    const { system, period, extra } = problem;
    const { material } = this.options;
    unknowns.take(v);
    const { actual } = unknowns;
    const nodeGradient = unknowns.openGradient(gradient);
    periodGradient.fill(0);
    const place = { positions: actual, period, gradient: nodeGradient, periodGradient, tangents };
    let energy = elasticEnergy(system, material, place);
    if (this.touches) {
      lists.update(actual, period);
      const { samples = 0 } = this.options;
      energy +=
        samples > 0
          ? summedContactEnergy(system, lists.near, { ...this.contact, samples }, place, this.state)
          : contactEnergy(system, lists.near, this.contact, place, this.state);
    }
    energy = this.outside(energy, actual, nodeGradient);
    if (extra) energy += extra(actual, period, nodeGradient, periodGradient);
    this.release(nodeGradient);
    unknowns.closeGradient(v, periodGradient, gradient);
    return energy;
  }

  /** `before` and the energy of the plane and the dead loads; adds to the gradient. */
  private outside(before: number, actual: Float64Array, gradient: Float64Array): number {
    const { system, load } = this.problem;
    const { plane } = this.options.material;
    let energy = before;
    if (plane > 0) {
      for (let i = 0; i < system.nodes; i++) {
        const z = actual[3 * i + 2];
        const k = plane * system.share[i];
        energy += 0.5 * k * z * z;
        gradient[3 * i + 2] += k * z;
      }
    }
    if (load) {
      for (let i = 0; i < load.length; i++) {
        energy -= load[i] * actual[i];
        gradient[i] -= load[i];
      }
    }
    return energy;
  }

  /** No force on what is held. */
  private release(gradient: Float64Array): void {
    const { held } = this.problem;
    if (!held) return;
    for (let i = 0; i < held.length; i++) {
      const bits = held[i];
      if (bits & 1) gradient[3 * i] = 0;
      if (bits & 2) gradient[3 * i + 1] = 0;
      if (bits & 4) gradient[3 * i + 2] = 0;
    }
  }

  private precondition(v: Float64Array): boolean {
    const { stiff, bands } = this;
    if (this.due) this.refresh();
    if (bands) bands.apply(v);
    else if (stiff?.ready) stiff.apply(v);
    else return false;
    return true;
  }

  /** Factors where the run is now: only once a step is to be taken from there. */
  private refresh(): void {
    const { stiff, bands, unknowns, state, tangents } = this;
    this.due = false;
    const pairs = this.touches ? this.lists.near : null;
    stiff?.refresh(unknowns.actual, this.problem.period, pairs, tangents);
    bands?.refresh(tangents, pairs, state, this.law);
  }

  private accepted(v: Float64Array, energy: number, residual: number, iteration: number): boolean {
    const { unknowns, state, options, stiff } = this;
    const { period } = this.problem;
    if (unknowns.axes.length === 0) unknowns.actual = v;
    const { actual } = unknowns;
    this.touching = state.touching;
    if (state.closest < this.closest) this.closest = state.closest;
    if (!(state.closest > 0)) this.tunnelFree = false;
    const every = stiff ? options.factorEvery : options.bandEvery;
    this.due = iteration % (every ?? 0) === 0;
    return options.onIteration?.(iteration, residual, energy, actual, period) === true;
  }

  /** Least distance of yarns where the run ended. */
  private closestNow(): number {
    const { problem, state, lists, unknowns } = this;
    const { diameter } = this.options.material;
    if (!this.touches) return diameter;
    const { system, period } = problem;
    return closestTouching(system, lists.near, state, unknowns.actual, period, diameter);
  }
}
