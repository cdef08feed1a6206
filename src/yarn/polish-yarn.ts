/**
 * Brings laid yarn to rest, all of it or a chosen region, while it stays on its sheet.
 *
 * Input: YarnCurves, the graph, and which loops are free. Output: new YarnCurves with the same topology,
 * proved step by step and checked anew, and the record of the relaxation. Loops around the region are
 * held firmly and still push. Each free point is drawn weakly to where it was laid, which stands for the fabric
 * around; contact, bending and stretch do the rest. The yarn's diameter is the unit of length inside.
 */
import type { StitchGraph } from '../fabric/stitch-graph.ts';
import { checkYarn } from './check-yarn.ts';
import { polylineLength } from './lay-yarn.ts';
import { findKin } from './loop-kin.ts';
import { CONTACT_STIFFNESS, STRETCH_STIFFNESS, type YarnRelaxation } from './relax-cell.ts';
import { type ExtraEnergy, type RodRun, relaxRods } from './relax-rods.ts';
import { buildRodSystem, type Strand } from './rod-system.ts';
import type { YarnCurves } from './yarn-curves.ts';

export interface PolishOptions {
  /** [loops] 1 where yarn may move; null for all of it. */
  readonly free?: Uint8Array | null;
  /** Largest force at which to stop, B/d². */
  readonly tolerance?: number;
  readonly maxIterations?: number;
  /**
   * Called at every step; return true to cancel: the yarn is then returned as far as it came. `pointsNow`
   * gives all centre-line points as they are now, mm, laid out like those of the curves.
   */
  readonly onProgress?: (
    residual: number,
    iteration: number,
    pointsNow: () => Float32Array,
  ) => boolean | undefined;
}

export interface PolishResult {
  readonly curves: YarnCurves;
  readonly relaxation: YarnRelaxation;
}

/** Stiffness of the spring from each point to its laid place, B/d⁴ per length of yarn. Chosen. */
const HOLD = 0.1;
const HOLD_AROUND = 1;
/** Diameters of growth: laid yarn may start nearly touching. */
const GROWTH: readonly number[] = [0.1, 0.2, 0.4, 0.6, 0.8, 0.9];
const GROWTH_STEPS = 8;

export function polishYarn(
  curves: YarnCurves,
  graph: StitchGraph,
  options: PolishOptions = {},
): PolishResult {
  const free = options.free ?? null;
  if (free && free.length !== graph.loops) {
    throw new RangeError(`free has ${free.length} entries for ${graph.loops} loops`);
  }
  const diameter = 2 * curves.radiusMm;
  const included = free ? withNeighbours(graph, free) : null;
  // Runs of points that take part, and which of them are held.
  const runs = collectRuns(curves, included);
  const strands: Strand[] = [];
  const held: number[] = [];
  const grip: number[] = [];
  for (const [from, to] of runs) {
    const points = new Float64Array(3 * (to - from));
    for (let i = 0; i < points.length; i++) points[i] = curves.points[3 * from + i] / diameter;
    strands.push({ points, closed: false });
    for (let k = from; k < to; k++) {
      const loop = curves.loop[k];
      const moves = !free || (loop >= 0 && free[loop] === 1);
      // Loops around the region give way a little: laid yarn may overlap there too.
      grip.push(moves ? HOLD : HOLD_AROUND);
      held.push(k > from && k < to - 1 ? 0 : 7);
    }
  }
  if (strands.length === 0) throw new RangeError('the region to polish holds no yarn');
  const { system, positions } = buildRodSystem(strands);
  const laid = positions.slice();
  const hold: ExtraEnergy = (x, _period, gradient) => {
    let energy = 0;
    for (let node = 0; node < system.nodes; node++) {
      const k = grip[node] * system.share[node];
      for (let i = 3 * node; i < 3 * node + 3; i++) {
        const d = x[i] - laid[i];
        energy += 0.5 * k * d * d;
        gradient[i] += k * d;
      }
    }
    return energy;
  };
  /** All points of the curves, those that take part from `now`. */
  const pointsFrom = (now: Float64Array): Float32Array => {
    const points = curves.points.slice();
    let at = 0;
    for (const [from, to] of runs) {
      for (let i = 3 * from; i < 3 * to; i++) points[i] = now[at++] * diameter;
    }
    return points;
  };
  let iterations = 0;
  let evaluations = 0;
  let tunnelFree = true;
  let cancelled = false;
  const run = (size: number, tolerance: number, limit: number): RodRun => {
    const base = iterations;
    const result = relaxRods(
      {
        system,
        positions,
        period: new Float64Array(2),
        freePeriod: [false, false],
        held: Uint8Array.from(held),
        load: null,
        extra: hold,
      },
      {
        material: {
          stretch: STRETCH_STIFFNESS,
          bending: 1,
          contact: CONTACT_STIFFNESS,
          diameter: size,
          plane: 0,
        },
        tolerance,
        maxIterations: cancelled ? 0 : limit,
        maxMove: size < 1 ? size / 6 : 0.12,
        skin: 0.4,
        onIteration: (k, residual, _energy, now) =>
          options.onProgress?.(residual, base + k, () => pointsFrom(now)),
      },
    );
    iterations += result.iterations;
    evaluations += result.evaluations;
    tunnelFree &&= result.tunnelFree;
    cancelled ||= result.reason === 'cancelled';
    return result;
  };
  // Held by its springs, the yarn is well enough conditioned without factoring its stiffness.
  for (const size of GROWTH) run(size, 0.3, GROWTH_STEPS);
  const tolerance = options.tolerance ?? 0.05;
  const last = run(1, tolerance, options.maxIterations ?? 600);
  const points = pointsFrom(positions);
  const check = checkYarn(graph, findKin(graph), {
    points,
    strandStart: curves.strandStart,
    loopStart: curves.loopStart,
    segments: curves.segmentsPerStitch,
    diameter,
  });
  return {
    curves: { ...curves, points, lengthMm: polylineLength(points), check },
    relaxation: {
      converged: last.converged && tunnelFree,
      reason: cancelled ? 'cancelled' : last.reason,
      iterations,
      evaluations,
      residual: last.residual,
      changeBetweenStops: 0,
      closestDiameters: last.closestAtRest,
      linksKept: tunnelFree,
    },
  };
}

/** The free loops and two steps of their neighbours along the yarn and across the courses. */
function withNeighbours(graph: StitchGraph, free: Uint8Array): Uint8Array {
  let now = free.slice();
  for (let step = 0; step < 2; step++) {
    const next = now.slice();
    for (let i = 0; i < graph.loops; i++) {
      if (!now[i]) continue;
      if (i > 0) next[i - 1] = 1;
      if (i + 1 < graph.loops) next[i + 1] = 1;
      for (let k = graph.parentStart[i]; k < graph.parentStart[i + 1]; k++)
        next[graph.parents[k]] = 1;
      for (let k = graph.childStart[i]; k < graph.childStart[i + 1]; k++)
        next[graph.children[k]] = 1;
    }
    now = next;
  }
  return now;
}

/** [from, to) ranges of points that take part, strand by strand. */
function collectRuns(curves: YarnCurves, included: Uint8Array | null): [number, number][] {
  const runs: [number, number][] = [];
  for (let s = 0; s + 1 < curves.strandStart.length; s++) {
    let from = -1;
    for (let k = curves.strandStart[s]; k <= curves.strandStart[s + 1]; k++) {
      const loop = k < curves.strandStart[s + 1] ? curves.loop[k] : -2;
      const takes = loop !== -2 && (!included || (loop >= 0 && included[loop] === 1));
      if (takes && from < 0) from = k;
      if (!takes && from >= 0) {
        if (k - from > 1) runs.push([from, k]);
        from = -1;
      }
    }
  }
  return runs;
}
