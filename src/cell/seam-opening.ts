/**
 * The seam of a piece worked flat: two edges sewn together and drawn up, endless up and down and repeated
 * sideways, so that nothing is held but the rows' height.
 *
 * Input: slack in the thread, loop length and yarn thickness in mm. Output: the largest hole in the seam beside
 * that of ordinary stitches, seen square on, in mm. The thread runs freely while it is drawn up; then friction
 * holds it and the slack is let in by steps.
 */
import { largestHole, type PlanarSegments } from './hole-size.ts';
import { ordinaryGap } from './ordinary-gap.ts';
import {
  letSlackIn,
  MAX_PATCH_STEPS,
  type MeasuredHoles,
  measureOpening,
  PATCH_SEGMENTS,
  type PatchRun,
  shakePatch,
  startPatch,
} from './patch-run.ts';
import { type RelaxedLoop, relaxedLoop } from './relaxed-loop.ts';
import { buildSeamPatch, SEAM_ROWS, SEAM_WALES, type SeamPatch } from './seam-geometry.ts';
import { checkSlack, type JoinResult, type PatchRequest } from './slack.ts';
import { GROWN_FORCE, type SavedRun } from './yarn-run.ts';

/** A seam drawn up, without slack: the start for any slack. */
export interface SeamBase {
  readonly kind: 'seam';
  readonly patch: SeamPatch;
  readonly loop: RelaxedLoop;
  readonly saved: SavedRun;
  /** [segments] rest lengths, drawn up. */
  readonly rest: Float64Array;
}

/** Steps in which the thread is drawn up. Chosen: each under a yarn diameter from bar to bar. */
const DRAWING_STEPS = 16;
/** Rows of a seam that share the slack in its thread, as many as a join's patch has. Chosen. */
const SHARING_ROWS = 6;
/** How far from the thread the seam is looked for, stitches; as at a join, further out is the inside of loops. */
const SEAM_REACH = 0.25;
/** Stitches in the middle between two seams, counted from 0. */
const ORDINARY: readonly number[] = [4, 5];

export function relaxSeam(request: PatchRequest): SeamBase {
  const { loopMm, yarnMm, start, segments = PATCH_SEGMENTS } = request;
  const loop = relaxedLoop(loopMm, yarnMm, segments);
  const patch = buildSeamPatch(loop);
  const { run, system, positions } = startSeam(request, patch, loop);
  if (start) shakePatch(positions, null, start);
  run.grow(true);
  run.relax(1, GROWN_FORCE, 200);
  const { thread } = patch;
  run.friction.free = new Set(thread);
  const laid = system.rest.slice();
  const slack = lengthOf(laid, thread) - patch.drawnUp;
  for (let step = 1; step <= DRAWING_STEPS; step++) {
    run.letIn(laid, [{ segments: thread, more: (-slack * step) / DRAWING_STEPS }], 200);
  }
  const rest = system.rest.slice();
  run.friction.free = new Set();
  run.letIn(rest, [], MAX_PATCH_STEPS);
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
  const seam = startSeam(request, patch, loop);
  seam.system.rest.set(rest);
  seam.run.restore(saved);
  const slack = ((slackMm / yarnMm) * SEAM_ROWS) / SHARING_ROWS;
  letSlackIn(seam, rest, patch.thread, slack);
  return measureOpening(seam, 'flat', request, (planar) => measureSeam(planar, seam, loop));
}

function startSeam(
  request: PatchRequest,
  { strands, period }: SeamPatch,
  loop: RelaxedLoop,
): PatchRun {
  return startPatch(request, { strands, period, held: null, loop });
}

function lengthOf(rest: Float64Array, segments: Int32Array): number {
  let sum = 0;
  for (const s of segments) sum += rest[s];
  return sum;
}

/** The holes in the seam and in ordinary stitches, yarn diameters. */
function measureSeam(
  planar: PlanarSegments,
  { system, positions }: PatchRun,
  { width, height }: RelaxedLoop,
): MeasuredHoles {
  const { segments, nodes } = system;
  // The thread, the second strand, runs up the seam.
  const first = system.nodeStart[1];
  let x = 0;
  for (let k = first; k < nodes; k++) x += positions[3 * k] / (nodes - first);
  const y = positions[1];
  const rows = [y, y + SEAM_ROWS * height] as const;
  const reach = 3 * width;
  const hole = largestHole(
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
  return { hole, ordinary: ordinaryGap(planar, 0.5, windows) };
}
