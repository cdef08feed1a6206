/**
 * Brings laid yarn to rest, all of it or a chosen region, while it stays on its sheet.
 *
 * Input: YarnCurves, the graph, and which loops are free. Output: new YarnCurves with the same topology,
 * proved step by step and checked anew, and the record of the relaxation. Loops around the region are
 * held firmly and still push. Each free point is drawn weakly to where it was laid, which stands for the fabric
 * around; contact, bending and stretch do the rest. The yarn's diameter is the unit of length inside.
 */

import type { StitchGraph } from '../../fabric/stitch-graph.ts';
import { buildRodSystem, type Strand } from '../../rod/rod-system.ts';
import type { YarnRelaxation } from '../../rod/yarn-material.ts';
import { checkYarn } from '../check/check-yarn.ts';
import { polylineLength } from '../lay/lay-yarn.ts';
import { findKin } from '../lay/loop-links.ts';
import type { YarnCurves } from '../yarn-curves.ts';
import { relaxLocally } from './relax-local.ts';

export interface RelaxYarnOptions {
  /** [loops] 1 where yarn may move; null for all of it. */
  readonly free?: Uint8Array | null;
  /** Whether loops around the free ones give way a little, as by default, or stay where they are laid. */
  readonly around?: 'yields' | 'stays';
  /** [3·points] mm where the yarn starts; laid places still draw it. Where it is laid, by default. */
  readonly from?: ArrayLike<number> | null;
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

export interface RelaxedYarn {
  readonly curves: YarnCurves;
  readonly relaxation: YarnRelaxation;
}

/**
 * Stiffness of the spring from each point to its laid place, B/d⁴ per length of yarn. Chosen: with 0.1 some
 * loops of a crowded centre wander by three diameters and two stops a decade apart by 0.8.
 */
const HOLD = 0.3;
const HOLD_AROUND = 1;
/**
 * Largest force at rest, B/d². Against a stop at a tenth of it no point of a 12 × 12 patch moves by 1 % of
 * the yarn's diameter (tests/yarn/relax-yarn.test.ts), nor do 99 of 100 points of a cabled square of 4,688
 * stitches; a crowded loop near its drawn-up centre moves by half a diameter.
 */
export const REST_FORCE = 0.008;
/** A whole square takes about a thousand, most of them on small parts. */
const MAX_ITERATIONS = 4000;

export function relaxYarn(
  curves: YarnCurves,
  graph: StitchGraph,
  options: RelaxYarnOptions = {},
): RelaxedYarn {
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
      const stays = !moves && options.around === 'stays';
      held.push(k > from && k < to - 1 && !stays ? 0 : 7);
    }
  }
  if (strands.length === 0) throw new RangeError('the region to relax holds no yarn');
  const { system, positions } = buildRodSystem(strands);
  const laid = positions.slice();
  const start = options.from ?? null;
  if (start) {
    let at = 0;
    for (const [from, to] of runs) {
      for (let i = 3 * from; i < 3 * to; i++, at++) {
        if (!held[Math.floor(at / 3)]) positions[at] = start[i] / diameter;
      }
    }
  }
  /** All points of the curves, those that take part from `now`. */
  const pointsFrom = (now: Float64Array): Float32Array => {
    const points = curves.points.slice();
    let at = 0;
    for (const [from, to] of runs) {
      for (let i = 3 * from; i < 3 * to; i++) points[i] = now[at++] * diameter;
    }
    return points;
  };
  const onProgress = options.onProgress;
  const settled = relaxLocally(
    {
      system,
      positions,
      laid,
      grip: Float64Array.from(grip),
      held: Uint8Array.from(held),
    },
    options.tolerance ?? REST_FORCE,
    options.maxIterations ?? MAX_ITERATIONS,
    onProgress &&
      ((residual, iteration, now) => onProgress(residual, iteration, () => pointsFrom(now()))),
  );
  return {
    curves: movedYarn(curves, graph, pointsFrom(positions)),
    relaxation: {
      converged: settled.reason === 'converged' && settled.tunnelFree,
      reason: settled.reason,
      iterations: settled.iterations,
      evaluations: settled.evaluations,
      residual: settled.residual,
      changeBetweenStops: 0,
      closestDiameters: settled.closestAtRest,
      linksKept: settled.tunnelFree,
    },
  };
}

/** The same yarn with its points elsewhere, measured and checked anew. */
export function movedYarn(
  curves: YarnCurves,
  graph: StitchGraph,
  points: Float32Array,
): YarnCurves {
  const check = checkYarn(graph, findKin(graph), {
    points,
    strandStart: curves.strandStart,
    loopStart: curves.loopStart,
    segments: curves.segmentsPerStitch,
    diameter: 2 * curves.radiusMm,
  });
  return { ...curves, points, lengthMm: polylineLength(points), check };
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
