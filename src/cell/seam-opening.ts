/**
 * The seam of a piece worked flat: two edges sewn together and drawn up, endless up and down and repeated
 * sideways, so that nothing is held but the rows' height.
 *
 * Input: slack in the thread, loop length and yarn thickness in mm. Output: the largest hole in the seam beside
 * that of ordinary stitches, seen square on, in mm. The thread runs freely while it is drawn up; then friction
 * holds it and the slack is let in by steps.
 */
import { createRandom } from '../math/random.ts';
import { YARN_FRICTION } from '../rod/friction.ts';
import { buildRodSystem, type RodSystem } from '../rod/rod-system.ts';
import { largestHole, type PlanarSegments } from './hole-size.ts';
import { ordinaryGap } from './ordinary-gap.ts';
import { TABLE_STIFFNESS } from './relax-cell.ts';
import { type RelaxedLoop, relaxedLoop } from './relaxed-loop.ts';
import { buildSeamPatch, SEAM_ROWS, SEAM_WALES, type SeamPatch } from './seam-geometry.ts';
import {
  checkSlack,
  type JoinResult,
  OPENING_AGREEMENT,
  OPENING_STOPS,
  openingResult,
  type PatchRequest,
  type PatchYarn,
  SHAKE,
  SLACK_STEP,
} from './slack.ts';
import { type SavedRun, YarnRun } from './yarn-run.ts';

/** A seam drawn up, without slack: the start for any slack. */
export interface SeamBase {
  readonly kind: 'seam';
  readonly patch: SeamPatch;
  readonly loop: RelaxedLoop;
  readonly saved: SavedRun;
  /** [segments] rest lengths, drawn up. */
  readonly rest: Float64Array;
}

const SEGMENTS = 24;
/** Steps in which the thread is drawn up. Chosen: each under a yarn diameter from bar to bar. */
const DRAWING_STEPS = 16;
/** Rows of a seam that share the slack in its thread, as many as a join's patch has. Chosen. */
const SHARING_ROWS = 6;
/** How far from the thread the seam is looked for, stitches; as at a join, further out is the inside of loops. */
const SEAM_REACH = 0.25;
/** Stitches in the middle between two seams, counted from 0. */
const ORDINARY: readonly number[] = [4, 5];
const MOST_STEPS = 2000;

export function relaxSeam(request: PatchRequest): SeamBase {
  const { loopMm, yarnMm, start } = request;
  const loop = relaxedLoop(loopMm, yarnMm, SEGMENTS);
  const patch = buildSeamPatch(loop);
  const { run, system, positions } = startSeam(request, patch, loop);
  if (start) {
    const random = createRandom(start);
    for (let i = 0; i < positions.length; i++) positions[i] += SHAKE * (2 * random() - 1);
  }
  run.grow(true);
  run.relax(1, 0.05, 200);
  const { thread } = patch;
  run.friction.free = new Set(thread);
  const laid = system.rest.slice();
  const slack = lengthOf(laid, thread) - patch.drawnUp;
  for (let step = 1; step <= DRAWING_STEPS; step++) {
    run.letIn(laid, [{ segments: thread, more: (-slack * step) / DRAWING_STEPS }], 200);
  }
  const rest = system.rest.slice();
  run.friction.free = new Set();
  run.letIn(rest, [], MOST_STEPS);
  return { kind: 'seam', patch, loop, saved: run.save(), rest };
}

/** `base`: the same seam from `relaxSeam`. */
export function seamOpening(
  request: PatchRequest & { readonly slackMm: number },
  base?: SeamBase,
): JoinResult {
  const { slackMm, loopMm, yarnMm } = request;
  checkSlack(slackMm, loopMm);
  const { patch, loop, saved, rest } = base ?? relaxSeam(request);
  const { run, system, positions, period, yarnAt } = startSeam(request, patch, loop);
  system.rest.set(rest);
  run.restore(saved);
  const slack = ((slackMm / yarnMm) * SEAM_ROWS) / SHARING_ROWS;
  for (let step = 1; (step - 1) * SLACK_STEP < slack || step === 1; step++) {
    const more = Math.min(slack, step * SLACK_STEP);
    run.letIn(rest, [{ segments: patch.thread, more }], MOST_STEPS);
  }
  const measure = () => measureSeam(system, positions, period, loop);
  const { measured, change } = run.measureAtStops(
    {
      measure,
      changeOf: (early, late) => Math.abs(late.seam.diameter - early.seam.diameter),
      agreement: OPENING_AGREEMENT,
    },
    OPENING_STOPS,
    2 * MOST_STEPS,
  );
  const { seam, ordinary } = measured;
  const relaxation = run.record(change, OPENING_AGREEMENT, null);
  return openingResult('flat', request, seam, ordinary, relaxation, yarnAt(positions, period));
}

function startSeam(request: PatchRequest, patch: SeamPatch, loop: RelaxedLoop) {
  const { yarnMm, friction, onProgress } = request;
  const { system, positions } = buildRodSystem(patch.strands);
  const period = patch.period.slice();
  const yarnAt = (now: Float64Array, nowPeriod: Float64Array): PatchYarn => ({
    points: now.map((v) => v * yarnMm),
    strandStart: system.nodeStart.slice(),
    radiusMm: yarnMm / 2,
    periodMm: [nowPeriod[0] * yarnMm, nowPeriod[1] * yarnMm],
    stitchMm: loop.width * yarnMm,
    roundMm: loop.height * yarnMm,
  });
  const run = new YarnRun({
    system,
    positions,
    period,
    freePeriod: [true, false],
    plane: TABLE_STIFFNESS,
    friction: friction ?? YARN_FRICTION,
    onStep: onProgress
      ? (residual, now, nowPeriod) => onProgress(residual, () => yarnAt(now, nowPeriod))
      : undefined,
  });
  return { run, system, positions, period, yarnAt };
}

function lengthOf(rest: Float64Array, segments: Int32Array): number {
  let sum = 0;
  for (const s of segments) sum += rest[s];
  return sum;
}

/** The holes in the seam and in ordinary stitches, yarn diameters. */
function measureSeam(
  system: RodSystem,
  positions: Float64Array,
  period: Float64Array,
  { width, height }: RelaxedLoop,
) {
  const planar = copiesOf(system, positions, period);
  const { segments, nodes } = system;
  // The thread, the second strand, runs up the seam.
  const first = system.nodeStart[1];
  let x = 0;
  for (let k = first; k < nodes; k++) x += positions[3 * k] / (nodes - first);
  const y = positions[1];
  const rows = [y, y + SEAM_ROWS * height] as const;
  const reach = 3 * width;
  const seam = largestHole(
    planar,
    0.5,
    { x: [x - SEAM_REACH * width, x + SEAM_REACH * width], y: rows },
    reach,
  );
  const perWale = (segments - (nodes - first)) / SEAM_ROWS / SEAM_WALES;
  const windows = ORDINARY.map((k) => ({
    x: positions[3 * Math.round((k + 0.5) * perWale)],
    y: y + height,
    width,
    height,
  }));
  return { seam, ordinary: ordinaryGap(planar, 0.5, windows) };
}

/** The repeat and those around it, seen square on. */
function copiesOf(
  system: RodSystem,
  positions: Float64Array,
  period: Float64Array,
): PlanarSegments {
  const copies = [-1, 0, 1].flatMap((cx) => [-2, -1, 0, 1, 2].map((cy) => [cx, cy] as const));
  const ends = new Float64Array(4 * system.segments * copies.length);
  let at = 0;
  for (const [cx, cy] of copies) {
    for (let k = 0; k < system.segments; k++) {
      const a = 3 * system.tail[k];
      const b = 3 * system.head[k];
      ends[at++] = positions[a] + cx * period[0];
      ends[at++] = positions[a + 1] + cy * period[1];
      ends[at++] = positions[b] + (cx + system.imageX[k]) * period[0];
      ends[at++] = positions[b + 1] + (cy + system.imageY[k]) * period[1];
    }
  }
  return { ends, count: system.segments * copies.length };
}
