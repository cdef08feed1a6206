/**
 * The opening at the join of work in the round.
 *
 * Input: how the join is made, the slack in the running thread, loop length and yarn thickness in mm.
 * Output: the largest hole at the join beside that of ordinary stitches of the same fabric, seen square
 * on, in mm. The fabric above the join (join-patch.ts) is at rest from the start; the cast-on is laid on
 * it and brought to rest while friction holds the stitches (friction.ts), then the slack is let in by
 * steps. Far edges and top stay as in the fabric. Without friction the soft modes of the free patch
 * spread over all of it, so that even its far stitches are no longer ordinary ones.
 */

import { largestHole, type PlanarSegments } from './hole-size.ts';
import { buildJoinPatch, type JoinPatch, LEVELS, type RoundJoin } from './join-geometry.ts';
import { ordinaryGap, type StitchWindow } from './ordinary-gap.ts';
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
import { relaxSeam, type SeamBase, seamOpening } from './seam-opening.ts';
import { checkSlack, type JoinResult, type PatchRequest } from './slack.ts';
import type { SavedRun } from './yarn-run.ts';

/** Ways to join a round, and a piece worked flat and sewn up. */
export type JoinMethod = RoundJoin | 'flat';

export { ladderOpening } from './ladder-opening.ts';
export type { JoinResult, PatchShape, PatchYarn, WatchPatch } from './slack.ts';

export interface JoinRequest extends PatchRequest {
  readonly method: JoinMethod;
  /** Extra yarn in the running thread at the join, mm. Sewn flat it is shared by the rows of the seam. */
  readonly slackMm: number;
}

/** A join or a seam at rest without slack: the start for any slack. */
export type JoinBase = RoundBase | SeamBase;

interface RoundBase {
  readonly kind: 'round';
  readonly patch: JoinPatch;
  readonly loop: RelaxedLoop;
  readonly saved: SavedRun;
}

/**
 * Force at which the laid join is at rest before friction grips it, B/d². Chosen: four times of it moved openings by up to 0.01 d (48 segments).
 * At a hundred times of it yarn was gripped on its way: an extra stitch opened by 1.37 to 2.20 d as its segments grew finer, now by
 * 1.26 to 1.37.
 */
const GRIPPED_FORCE = 5e-4;
/** Rounds from the cast-on up in which the join is looked for. Chosen: slack stays within one or two. */
const JOIN_ROUNDS = 2;
/** How far to either side, stitches: between the columns; further out lies the inside of their own loops. */
const JOIN_REACH = 0.25;
/**
 * The corner below the step, where a slack strand hangs: how far out, stitches, and from where to where, rounds
 * above the cast-on's last stitch. Chosen: short of the inside of the loops beside it.
 */
const CORNER = { x: [-JOIN_REACH, 0.75], y: [-1.5, 0.25] } as const;
/** Rounds above the cast-on from which stitches are ordinary, and stitches between them and the join. */
const ORDINARY_ROUND = 4;
const ORDINARY_STITCH = 2;

/** `base`: the same join at rest, from `relaxJoin` with the same method, loop, yarn and friction. */
export function joinOpening(request: JoinRequest, base?: JoinBase): JoinResult {
  checkMethod(request.method);
  checkSlack(request.slackMm, request.loopMm);
  const from = base ?? relaxJoin(request);
  return from.kind === 'seam' ? seamOpening(request, from) : roundOpening(request, from);
}

function roundOpening(request: JoinRequest, { patch, loop, saved }: RoundBase): JoinResult {
  const join = startJoin(request, patch, loop);
  join.run.restore(saved);
  letSlackIn(join, join.system.rest.slice(), patch.thread, request.slackMm / request.yarnMm);
  const unlaid = patch.linksWrong > 0 ? 'a stitch could not be laid through the one below' : null;
  const windows = ordinaryWindows(loop);
  const measure = (planar: PlanarSegments) => measureJoin(planar, loop, windows);
  return measureOpening(join, request.method, request, measure, unlaid);
}

/** The holes at the join and in ordinary stitches, yarn diameters. */
function measureJoin(
  planar: PlanarSegments,
  { width, height }: RelaxedLoop,
  windows: readonly StitchWindow[],
): MeasuredHoles {
  const holeIn = (x: readonly [number, number], y: readonly [number, number]) =>
    largestHole(
      planar,
      0.5,
      { x: [x[0] * width, x[1] * width], y: [y[0] * height, y[1] * height] },
      3 * width,
    );
  const between = holeIn([-JOIN_REACH, JOIN_REACH], [0, JOIN_ROUNDS]);
  const corner = holeIn(CORNER.x, CORNER.y);
  const hole = corner.diameter > between.diameter ? corner : between;
  return { hole, ordinary: ordinaryGap(planar, 0.5, windows) };
}

/** Brings a join to rest without slack; a cancelled one stays cancelled. */
export function relaxJoin(request: Omit<JoinRequest, 'slackMm'>): JoinBase {
  const { method, loopMm, yarnMm, start, segments = PATCH_SEGMENTS } = request;
  checkMethod(method);
  if (method === 'flat') return relaxSeam(request);
  const loop = relaxedLoop(loopMm, yarnMm, segments);
  const patch = buildJoinPatch(method, loop);
  const { run, system, positions } = startJoin(request, patch, loop);
  if (start) shakePatch(positions, patch.heldAtFirst, start);
  run.held = patch.heldAtFirst;
  run.grow(true);
  run.relax(1, GRIPPED_FORCE, MAX_PATCH_STEPS);
  run.held = patch.held;
  run.letIn(system.rest.slice(), [], MAX_PATCH_STEPS);
  return { kind: 'round', patch, loop, saved: run.save() };
}

function startJoin(
  request: PatchRequest,
  { strands, held }: JoinPatch,
  loop: RelaxedLoop,
): PatchRun {
  return startPatch(request, { strands, period: [0, 0], held, loop });
}

export interface JoinOverStarts extends JoinResult {
  /** Largest less smallest opening of the starts, mm, and how many came to rest. */
  readonly spreadMm: number;
  readonly starts: number;
}

/** The middle one of several starts by its opening, with their spread: history decides where yarn with friction rests. */
export function joinOverStarts(request: JoinRequest, starts = 3): JoinOverStarts {
  const results: JoinResult[] = [];
  for (let start = 0; start < starts; start++) {
    const result = joinOpening({ ...request, start });
    if (result.relaxation.converged) results.push(result);
    else return { ...result, spreadMm: Number.NaN, starts: results.length };
  }
  results.sort((a, b) => a.openingMm - b.openingMm);
  const spreadMm = results[results.length - 1].openingMm - results[0].openingMm;
  return { ...results[(results.length - 1) >> 1], spreadMm, starts };
}

function checkMethod(method: string): void {
  if (['plain', 'crossed', 'extra', 'flat'].includes(method)) return;
  throw new RangeError(`unknown way to join: ${method}; known are plain, crossed, extra and flat`);
}

/** Stitches that no cast-on and no join disturbs, to both sides. */
function ordinaryWindows({ width, height }: RelaxedLoop): StitchWindow[] {
  const windows: StitchWindow[] = [];
  for (let level = ORDINARY_ROUND; level < LEVELS; level++) {
    for (const side of [-1, 1]) {
      windows.push({ x: side * (ORDINARY_STITCH + 0.5) * width, y: level * height, width, height });
    }
  }
  return windows;
}
