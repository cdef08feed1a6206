/**
 * The opening at the join of work in the round.
 *
 * Input: how the join is made, the slack in the running thread, loop length and yarn thickness in mm.
 * Output: the largest hole at the join beside the largest between ordinary stitches of the same fabric,
 * seen square on, in mm. The patch (join-patch.ts) is relaxed without slack, then the slack is let in by
 * steps while friction holds the stitches (friction.ts); its far edges and top are held to the fabric.
 */
import { type Hole, largestHole, type PlanarSegments } from './hole-size.ts';
import { buildJoinPatch, type JoinMethod, LEVELS, SIDE } from './join-patch.ts';
import { INFLATION, relaxCell } from './relax-cell.ts';
import { buildRodSystem, type RodSystem } from './rod-system.ts';
import { checkSlack, type JoinResult, SLACK_STEPS } from './slack.ts';
import { SlackRun } from './slack-run.ts';

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
  const run = new SlackRun({
    system,
    positions,
    period: NO_PERIOD,
    freePeriod: [false, false],
    held: patch.held,
    coefficient: request.friction,
    onProgress: request.onProgress,
  });
  for (const diameter of [INFLATION[0] / 2, ...INFLATION]) run.relax(diameter, 0.05, 30);
  run.relax(1, 1e-2, 2000);
  const base = system.rest.slice();
  const slack = slackMm / yarnMm;
  // The join's own running thread; a seam's thread is one for all rows.
  const threads = method === 'flat' ? patch.threads : patch.threads.slice(0, 1);
  for (let step = 1; step <= SLACK_STEPS; step++) {
    const more = (slack * step) / SLACK_STEPS / threads.length;
    run.letIn(
      base,
      threads.map((segments) => ({ segments, more })),
      1000,
    );
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
  const { measured: late, change } = run.measureTwice(measure, (m) => m.join.diameter, 4000);
  const unlaid = patch.linksWrong > 0 ? 'a stitch could not be laid through the one below' : null;
  const hole = (h: Hole) => ({ x: h.x * yarnMm, y: h.y * yarnMm, diameter: h.diameter * yarnMm });
  return {
    openingMm: late.join.diameter * yarnMm,
    ordinaryGapMm: late.ordinary * yarnMm,
    relaxation: run.record(change, unlaid),
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
