/**
 * Relaxes a RodSystem to rest without dynamics: stretch, bending, contact, a soft plane, dead loads,
 * held nodes, and periods that may be unknowns.
 *
 * Input: a RodSystem with start positions. Output: positions and periods at rest with the record of
 * how far the solver came. Lengths are in yarn diameters and B = 1 in the cells, but any unit works.
 * Every accepted step moves touching yarns relative to each other by less than their distance before it,
 * so no yarn can have passed through another.
 */
import { closestTouching, contactEnergy, emptyContactState } from './contact.ts';
import type { ContactLaw } from './contact-law.ts';
import { ContactPairs } from './contact-pairs.ts';
import { type MinimizeResult, minimize } from './minimize.ts';
import { elasticEnergy } from './rod-elasticity.ts';
import { RodPreconditioner } from './rod-preconditioner.ts';
import type { RodSystem } from './rod-system.ts';
import { StrandPreconditioner } from './strand-preconditioner.ts';

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
  const { system, positions, period, held, load, extra, freePeriod } = problem;
  const { material } = options;
  const law = options.soft ? 'springs' : (material.law ?? 'shell');
  const count = 3 * system.nodes;
  // Affine unknowns: actual x = X·(1 + e), period = start period·(1 + e). e is scaled so that a unit
  // of it moves the nodes by a unit vector in all.
  const start = Float64Array.from(period);
  const axes: number[] = [];
  if (freePeriod[0]) axes.push(0);
  if (freePeriod[1]) axes.push(1);
  const scale = axes.map((axis) => {
    let square = 1e-12;
    for (let i = axis; i < count; i += 3) square += positions[i] * positions[i];
    return Math.sqrt(square);
  });
  const x = new Float64Array(count + axes.length);
  x.set(positions);
  // Without unknown periods the unknowns are the positions themselves.
  let actual: Float64Array = axes.length > 0 ? new Float64Array(count) : x;
  let nodeGradient: Float64Array = new Float64Array(axes.length > 0 ? count : 0);
  const periodGradient = new Float64Array(2);
  const tangents = new Float64Array(4 * system.segments);
  const stretchFactor = new Float64Array([1, 1, 1]);

  const touch = material.contact > 0 && material.diameter > 0;
  const lists = new ContactPairs(
    system,
    held,
    material.diameter,
    options.skin ?? 0.5 * material.diameter,
  );
  const pairs = lists.near;
  const state = emptyContactState();
  state.closest = material.diameter;

  const expand = (v: Float64Array) => {
    stretchFactor[0] = 1;
    stretchFactor[1] = 1;
    axes.forEach((axis, k) => {
      stretchFactor[axis] = 1 + v[count + k] / scale[k];
      period[axis] = start[axis] * stretchFactor[axis];
    });
    if (axes.length === 0) {
      actual = v;
      return;
    }
    for (let i = 0; i < count; i += 3) {
      actual[i] = v[i] * stretchFactor[0];
      actual[i + 1] = v[i + 1] * stretchFactor[1];
      actual[i + 2] = v[i + 2];
    }
  };

  const evaluate = (v: Float64Array, gradient: Float64Array): number => {
    expand(v);
    if (axes.length === 0) nodeGradient = gradient;
    nodeGradient.fill(0);
    periodGradient.fill(0);
    let energy = elasticEnergy(
      system,
      material.stretch,
      material.bending,
      actual,
      period,
      nodeGradient,
      periodGradient,
      tangents,
    );
    if (touch) {
      lists.update(actual, period);
      energy += contactEnergy(
        system,
        pairs,
        material.contact,
        material.diameter,
        actual,
        period,
        nodeGradient,
        periodGradient,
        tangents,
        state,
        law,
        options.smooth,
      );
    }
    if (material.plane > 0) {
      for (let i = 0; i < system.nodes; i++) {
        const z = actual[3 * i + 2];
        const k = material.plane * system.share[i];
        energy += 0.5 * k * z * z;
        nodeGradient[3 * i + 2] += k * z;
      }
    }
    if (load) {
      for (let i = 0; i < count; i++) {
        energy -= load[i] * actual[i];
        nodeGradient[i] -= load[i];
      }
    }
    if (extra) energy += extra(actual, period, nodeGradient, periodGradient);
    if (held) {
      for (let i = 0; i < system.nodes; i++) {
        const bits = held[i];
        if (bits & 1) nodeGradient[3 * i] = 0;
        if (bits & 2) nodeGradient[3 * i + 1] = 0;
        if (bits & 4) nodeGradient[3 * i + 2] = 0;
      }
    }
    if (axes.length === 0) return energy;
    for (let i = 0; i < count; i += 3) {
      gradient[i] = nodeGradient[i] * stretchFactor[0];
      gradient[i + 1] = nodeGradient[i + 1] * stretchFactor[1];
      gradient[i + 2] = nodeGradient[i + 2];
    }
    axes.forEach((axis, k) => {
      let virial = periodGradient[axis] * start[axis];
      for (let i = axis; i < count; i += 3) virial += nodeGradient[i] * v[i];
      gradient[count + k] = virial / scale[k];
    });
    return energy;
  };

  let closest = material.diameter;
  // Distance between yarns at the accepted point from which the next step starts.
  let gap = material.diameter;
  let tunnelFree = true;
  let touching = 0;
  const spread = new Float64Array(2);
  const stepLimit = (v: Float64Array, direction: Float64Array): number => {
    let coordinate = 0;
    let square = 0;
    spread.fill(0);
    axes.forEach((axis, k) => {
      spread[axis] = direction[count + k] / scale[k];
    });
    for (let i = 0; i < count; i += 3) {
      const mx = direction[i] * stretchFactor[0] + v[i] * spread[0];
      const my = direction[i + 1] * stretchFactor[1] + v[i + 1] * spread[1];
      const mz = direction[i + 2];
      const m = mx * mx + my * my + mz * mz;
      if (m > square) square = m;
      const c = Math.max(Math.abs(mx), Math.abs(my), Math.abs(mz));
      if (c > coordinate) coordinate = c;
    }
    let limit = options.maxMove / Math.max(coordinate, 1e-300);
    if (!touch) return limit;
    // Yarns that do not touch approach each other by at most twice the largest move (and copies of the
    // cell by the change of period): below a diameter they cannot meet.
    const stretch = Math.abs(spread[0]) * start[0] + Math.abs(spread[1]) * start[1];
    limit = Math.min(limit, (0.9 * material.diameter) / (2 * Math.sqrt(square) + stretch + 1e-300));
    // For those that touch the relative move of their ends decides.
    const { tail, head } = system;
    const fastest = 2 * Math.sqrt(square) + stretch + 1e-300;
    for (let t = 0; t < state.touching; t++) {
      // Even head on they would not meet.
      if (axes.length === 0 && 0.9 * state.distance[t] >= limit * fastest) continue;
      const k = state.pair[t];
      const i = pairs.first[k];
      const j = pairs.second[k];
      // In soft contact only what brings them nearer along the normal counts: the plane across the
      // closest points parts the segments as long as no two ends come nearer by their distance.
      const nx = state.normal[3 * t];
      const ny = state.normal[3 * t + 1];
      const nz = state.normal[3 * t + 2];
      let nearer = 0;
      for (let end = 0; end < 4; end++) {
        const a = 3 * (end & 1 ? head[i] : tail[i]);
        const b = 3 * (end & 2 ? head[j] : tail[j]);
        const x = (direction[b] - direction[a]) * stretchFactor[0] + (v[b] - v[a]) * spread[0];
        const y =
          (direction[b + 1] - direction[a + 1]) * stretchFactor[1] +
          (v[b + 1] - v[a + 1]) * spread[1];
        const z = direction[b + 2] - direction[a + 2];
        nearer = Math.max(
          nearer,
          options.soft ? -(x * nx + y * ny + z * nz) : x * x + y * y + z * z,
        );
      }
      if (!options.soft) nearer = Math.sqrt(nearer);
      const images =
        Math.abs(spread[0]) * start[0] * (Math.abs(pairs.imageX[k]) + 1) +
        Math.abs(spread[1]) * start[1] * (Math.abs(pairs.imageY[k]) + 1);
      limit = Math.min(limit, (0.9 * state.distance[t]) / (nearer + images + 1e-300));
    }
    return limit;
  };

  const every = options.factorEvery ?? 0;
  const stiff = every > 0 ? new RodPreconditioner(system, material, held, axes, scale) : null;
  const bandEvery = options.bandEvery ?? 0;
  const bands =
    bandEvery > 0
      ? new StrandPreconditioner(system, material, held, options.springs ?? null, options.bandShift)
      : null;
  const result = minimize(
    {
      size: x.length,
      evaluate,
      stepLimit,
      precondition:
        stiff || bands
          ? (v) => {
              if (bands) bands.apply(v);
              else if (stiff?.ready) stiff.apply(v);
              else return false;
              return true;
            }
          : undefined,
      accepted: (v, energy, residual, iteration) => {
        if (axes.length === 0) actual = v;
        gap = state.closest;
        touching = state.touching;
        if (gap < closest) closest = gap;
        if (!(gap > 0)) tunnelFree = false;
        if (stiff && iteration % every === 0) {
          stiff.refresh(actual, period, touch ? pairs : null, tangents);
        }
        if (bands && iteration % bandEvery === 0)
          bands.refresh(tangents, touch ? pairs : null, state, law);
        return options.onIteration?.(iteration, residual, energy, actual, period) === true;
      },
    },
    x,
    options.tolerance,
    options.maxIterations,
    options.memory,
  );
  expand(x);
  positions.set(actual);
  const closestAtRest = touch
    ? closestTouching(system, pairs, state, actual, period, material.diameter)
    : material.diameter;
  return { ...result, closest, closestAtRest, tunnelFree, touching };
}
