/**
 * The opening at the join of work in the round.
 *
 * Input: how the join is made, the slack in the running thread, loop length and yarn thickness in mm.
 * Output: the largest hole at the join beside the largest between ordinary stitches of the same fabric,
 * seen square on, in mm. The patch (join-patch.ts) is relaxed without slack, then the slack is let in by
 * steps while friction holds the stitches (friction.ts); its far edges and top are held to the fabric.
 */
import { YARN_FRICTION, YarnFriction } from './friction.ts';
import { type Hole, largestHole, type PlanarSegments } from './hole-size.ts';
import { buildJoinPatch, type JoinMethod, LEVELS, SIDE } from './join-patch.ts';
import {
  CONTACT_STIFFNESS,
  FACTOR_EVERY,
  INFLATION,
  relaxCell,
  STRETCH_STIFFNESS,
  TABLE_STIFFNESS,
} from './relax-cell.ts';
import { type RodMaterial, type RodRun, relaxRods } from './relax-rods.ts';
import { buildRodSystem, type RodSystem } from './rod-system.ts';
import {
  AGREEMENT,
  addYarn,
  checkSlack,
  type JoinResult,
  refreshArc,
  SLACK_STEPS,
} from './slack.ts';

export type { JoinMethod } from './join-patch.ts';
export { ladderOpening } from './ladder-opening.ts';
export type { JoinResult, PatchShape } from './slack.ts';

export interface JoinRequest {
  readonly method: JoinMethod;
  /** Extra yarn in the running thread at the join, mm. Sewn flat it is shared by all rows of the seam. */
  readonly slackMm: number;
  readonly loopMm: number;
  readonly yarnMm: number;
  /** Coefficient of friction; `YARN_FRICTION` by default. 0 lets slack run away. */
  readonly friction?: number;
  readonly onProgress?: (residual: number) => boolean | undefined;
}

const SEGMENTS = 16;
const STOPS: readonly number[] = [1e-2, 1e-3, 1e-4];

export function joinOpening(request: JoinRequest): JoinResult {
  const { method } = request;
  if (!['plain', 'crossed', 'extra', 'flat'].includes(method)) {
    throw new RangeError(
      `unknown way to join: ${method}; known are plain, crossed, extra and flat`,
    );
  }
  return { method, slackMm: request.slackMm, ...openPatch(request) };
}

function openPatch(request: JoinRequest): Omit<JoinResult, 'method' | 'slackMm'> {
  const { method, loopMm, yarnMm, slackMm } = request;
  checkSlack(slackMm, loopMm);
  // Also checks loop length and thickness, with the limits in its message.
  const cell = relaxCell({ stitch: 'stockinette', loopMm, yarnMm, segments: SEGMENTS });
  const width = cell.stitchMm / yarnMm;
  const height = cell.roundMm / yarnMm;
  const patch = buildJoinPatch(method, width, height, loopMm / yarnMm, SEGMENTS);
  const { system, positions } = buildRodSystem(patch.strands);
  const material: RodMaterial = {
    stretch: STRETCH_STIFFNESS,
    bending: 1,
    contact: CONTACT_STIFFNESS,
    diameter: 1,
    plane: TABLE_STIFFNESS,
  };
  const coefficient = request.friction ?? YARN_FRICTION;
  const friction = new YarnFriction(system, material, coefficient);
  let iterations = 0;
  let evaluations = 0;
  let tunnelFree = true;
  let cancelled = false;
  const run = (diameter: number, tolerance: number, limit: number): RodRun => {
    const result = relaxRods(
      {
        system,
        positions,
        period: NO_PERIOD,
        freePeriod: [false, false],
        held: patch.held,
        load: null,
        extra: coefficient > 0 && friction.count > 0 ? friction.energy : null,
      },
      {
        material: { ...material, diameter },
        tolerance,
        maxIterations: cancelled ? 0 : limit,
        maxMove: diameter < 1 ? diameter / 6 : 0.12,
        factorEvery: FACTOR_EVERY,
        onIteration: (_k, residual) => request.onProgress?.(residual),
      },
    );
    iterations += result.iterations;
    evaluations += result.evaluations;
    tunnelFree &&= result.tunnelFree;
    cancelled ||= result.reason === 'cancelled';
    return result;
  };
  for (const diameter of [INFLATION[0] / 2, ...INFLATION]) run(diameter, 0.05, 30);
  let last = run(1, STOPS[0], 2000);
  const base = system.rest.slice();
  const slack = slackMm / yarnMm;
  // The join's own running thread; a seam's thread is one for all rows.
  const threads = method === 'flat' ? patch.threads : patch.threads.slice(0, 1);
  for (let step = 1; step <= SLACK_STEPS; step++) {
    friction.settle(positions, NO_PERIOD);
    const ratio = step / SLACK_STEPS;
    system.rest.set(base);
    for (const thread of threads) {
      addYarn(system.rest, base, thread, (slack * ratio) / threads.length);
    }
    refreshArc(system);
    // Springs that pull too hard slip; then the yarn finds its place anew.
    for (let pass = 0; pass < 3; pass++) {
      last = run(1, STOPS[0], 1000);
      if (friction.settle(positions, NO_PERIOD) < 0.02) break;
    }
  }
  const measure = () => {
    const planar = flatten(system, positions);
    const join = largestHole(
      planar,
      0.5,
      { x: [-0.5 * width, 0.5 * width], y: [0, (LEVELS - 2) * height] },
      3 * width,
    );
    const far = { y: [1.5 * height, (LEVELS - 1) * height] } as const;
    const right = largestHole(
      planar,
      0.5,
      { x: [1.5 * width, (SIDE - 1.5) * width], ...far },
      3 * width,
    );
    const left = largestHole(
      planar,
      0.5,
      { x: [-(SIDE - 1.5) * width, -1.5 * width], ...far },
      3 * width,
    );
    return { join, ordinary: Math.max(right.diameter, left.diameter) };
  };
  let late = measure();
  let change = Infinity;
  for (const tolerance of STOPS.slice(1)) {
    if (change < AGREEMENT) break;
    const early = late.join.diameter;
    last = run(1, tolerance, 4000);
    late = measure();
    change = Math.abs(late.join.diameter - early);
  }
  const agrees = change < AGREEMENT;
  const hole = (h: Hole) => ({ x: h.x * yarnMm, y: h.y * yarnMm, diameter: h.diameter * yarnMm });
  return {
    openingMm: late.join.diameter * yarnMm,
    ordinaryGapMm: late.ordinary * yarnMm,
    relaxation: {
      converged: last.converged && agrees && tunnelFree && patch.linksWrong === 0,
      reason: cancelled
        ? 'cancelled'
        : patch.linksWrong > 0
          ? 'a stitch could not be laid through the one below'
          : last.converged && !agrees
            ? 'two stopping points differ'
            : last.reason,
      iterations,
      evaluations,
      residual: last.residual,
      changeBetweenStops: change,
      closestDiameters: last.closestAtRest,
      linksKept: tunnelFree,
    },
    shape: {
      points: positions.map((v) => v * yarnMm),
      strandStart: system.nodeStart.slice(),
      radiusMm: yarnMm / 2,
      hole: hole(late.join),
    },
  };
}

const NO_PERIOD = new Float64Array(2);

function flatten(system: RodSystem, positions: Float64Array): PlanarSegments {
  const ends = new Float64Array(4 * system.segments);
  for (let k = 0; k < system.segments; k++) {
    ends[4 * k] = positions[3 * system.tail[k]];
    ends[4 * k + 1] = positions[3 * system.tail[k] + 1];
    ends[4 * k + 2] = positions[3 * system.head[k]];
    ends[4 * k + 3] = positions[3 * system.head[k] + 1];
  }
  return { ends, count: system.segments };
}
