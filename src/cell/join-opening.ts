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

import { createRandom } from '../math/random.ts';
import { YARN_FRICTION } from '../rod/friction.ts';
import { buildRodSystem, type RodSystem } from '../rod/rod-system.ts';
import { largestHole, type PlanarSegments } from './hole-size.ts';
import { buildJoinPatch, type JoinPatch, LEVELS, type RoundJoin } from './join-geometry.ts';
import { ordinaryGap, type StitchWindow } from './ordinary-gap.ts';
import { TABLE_STIFFNESS } from './relax-cell.ts';
import { type RelaxedLoop, relaxedLoop } from './relaxed-loop.ts';
import { relaxSeam, type SeamBase, seamOpening } from './seam-opening.ts';
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

/** As for the ladder: at 16 chords cut the curves so much that gaps read a seventh wider (measured). */
const SEGMENTS = 24;
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
/** Steps within which the cast-on, and each state of slack, comes to rest. Several times what is needed. */
const MOST_STEPS = 2000;

/** `base`: the same join at rest, from `relaxJoin` with the same method, loop, yarn and friction. */
export function joinOpening(request: JoinRequest, base?: JoinBase): JoinResult {
  checkMethod(request.method);
  checkSlack(request.slackMm, request.loopMm);
  const from = base ?? relaxJoin(request);
  return from.kind === 'seam' ? seamOpening(request, from) : roundOpening(request, from);
}

function roundOpening(request: JoinRequest, { patch, loop, saved }: RoundBase): JoinResult {
  const { method, yarnMm, slackMm } = request;
  const { run, system, positions, yarnAt } = startRun(request, patch, loop);
  run.restore(saved);
  const rest = system.rest.slice();
  // Steps of one size, so that more slack goes on from less.
  const slack = slackMm / yarnMm;
  for (let step = 1; (step - 1) * SLACK_STEP < slack || step === 1; step++) {
    run.letIn(
      rest,
      [{ segments: patch.thread, more: Math.min(slack, step * SLACK_STEP) }],
      MOST_STEPS,
    );
  }
  const { width, height } = loop;
  const windows = ordinaryWindows(loop);
  const measure = () => {
    const planar = flatten(system, positions);
    const holeIn = (x: readonly [number, number], y: readonly [number, number]) =>
      largestHole(
        planar,
        0.5,
        { x: [x[0] * width, x[1] * width], y: [y[0] * height, y[1] * height] },
        3 * width,
      );
    const between = holeIn([-JOIN_REACH, JOIN_REACH], [0, JOIN_ROUNDS]);
    const corner = holeIn(CORNER.x, CORNER.y);
    const join = corner.diameter > between.diameter ? corner : between;
    return { join, ordinary: ordinaryGap(planar, 0.5, windows) };
  };
  const { measured, change } = run.measureAtStops(
    {
      measure,
      changeOf: (early, late) => Math.abs(late.join.diameter - early.join.diameter),
      agreement: OPENING_AGREEMENT,
    },
    OPENING_STOPS,
    2 * MOST_STEPS,
  );
  const unlaid = patch.linksWrong > 0 ? 'a stitch could not be laid through the one below' : null;
  const { join, ordinary } = measured;
  const relaxation = run.record(change, OPENING_AGREEMENT, unlaid);
  return openingResult(method, request, join, ordinary, relaxation, yarnAt(positions));
}

/** Brings a join to rest without slack; a cancelled one stays cancelled. */
export function relaxJoin(request: Omit<JoinRequest, 'slackMm'>): JoinBase {
  const { method, loopMm, yarnMm } = request;
  checkMethod(method);
  if (method === 'flat') return relaxSeam(request);
  const loop = relaxedLoop(loopMm, yarnMm, SEGMENTS);
  const laid = buildJoinPatch(method, loop);
  const patch = request.start ? shaken(laid, request.start) : laid;
  const { run, system } = startRun(request, patch, loop);
  run.held = patch.heldAtFirst;
  run.grow(true);
  run.relax(1, 0.05, MOST_STEPS);
  run.held = patch.held;
  run.letIn(system.rest.slice(), [], MOST_STEPS);
  return { kind: 'round', patch, loop, saved: run.save() };
}

function shaken(patch: JoinPatch, seed: number): JoinPatch {
  const random = createRandom(seed);
  let node = 0;
  const strands = patch.strands.map((strand) => {
    const points = Float64Array.from(strand.points, (v, i) => {
      const shift = SHAKE * (2 * random() - 1);
      return patch.heldAtFirst[node + Math.floor(i / 3)] ? v : v + shift;
    });
    node += points.length / 3;
    return { ...strand, points };
  });
  return { ...patch, strands };
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

function startRun(
  { yarnMm, friction, onProgress }: Omit<JoinRequest, 'slackMm'>,
  patch: JoinPatch,
  loop: RelaxedLoop,
) {
  const { system, positions } = buildRodSystem(patch.strands);
  const yarnAt = (now: Float64Array): PatchYarn => ({
    points: now.map((v) => v * yarnMm),
    strandStart: system.nodeStart.slice(),
    radiusMm: yarnMm / 2,
    periodMm: [0, 0],
    stitchMm: loop.width * yarnMm,
    roundMm: loop.height * yarnMm,
  });
  const run = new YarnRun({
    system,
    positions,
    period: new Float64Array(2),
    freePeriod: [false, false],
    plane: TABLE_STIFFNESS,
    held: patch.held,
    friction: friction ?? YARN_FRICTION,
    onStep: onProgress ? (residual, now) => onProgress(residual, () => yarnAt(now)) : undefined,
  });
  return { run, system, positions, yarnAt };
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
