/**
 * The ladder between two needles: the same running thread is slack in every round.
 *
 * Input: slack a round, loop length and yarn thickness in mm, and a stitch after the gap that is tugged
 * tight. Output: the hole at the gap beside that of ordinary stitches, and how much wider the gap makes
 * the fabric. One row of relaxed stitches, periodic both ways: its width is free, its height held by the
 * rounds.
 */

import { largestHole, type PlanarSegments } from './hole-size.ts';
import { ordinaryGap } from './ordinary-gap.ts';
import {
  MAX_PATCH_STEPS,
  type MeasuredHoles,
  measureOpening,
  PATCH_SEGMENTS,
  type PatchRun,
  startPatch,
} from './patch-run.ts';
import { type RelaxedLoop, relaxedLoop } from './relaxed-loop.ts';
import { checkSlack, type JoinResult, SLACK_STEPS, type WatchPatch } from './slack.ts';

export type { PatchShape, PatchYarn } from './slack.ts';

export interface LadderRequest {
  /** Extra yarn in the running thread between the needles, in every round, mm. */
  readonly slackMm: number;
  readonly loopMm: number;
  readonly yarnMm: number;
  /** Stitch after the gap that is tugged tight, 1 or 2, and how much yarn that takes out, mm. */
  readonly tighten?: { readonly stitch: 1 | 2; readonly byMm: number } | null;
  readonly friction?: number;
  /** Polyline segments a stitch; `PATCH_SEGMENTS` by default. */
  readonly segments?: number;
  readonly onProgress?: WatchPatch;
}

export interface LadderResult extends JoinResult {
  /** How much wider the row became, mm. */
  readonly widerMm: number;
}

/** Stitches in the repeat: far enough apart that the gaps do not feel each other. */
const WALES = 8;
/** Largest force of the row without slack, B/d², from which widening is measured. */
const SETTLED = 1e-4;
/** Stitches two from the gap, after and before it, counted from 0: slack does not reach them (measured). */
const ORDINARY: readonly number[] = [2, 5];

export function ladderOpening(request: LadderRequest): LadderResult {
  const { slackMm, loopMm, yarnMm, segments = PATCH_SEGMENTS } = request;
  const tighten = request.tighten ?? null;
  checkSlack(slackMm, loopMm);
  if (tighten && !(tighten.byMm >= 0 && tighten.byMm <= loopMm / 2)) {
    throw new RangeError(
      `a stitch of ${loopMm} mm can be tightened by 0 to ${loopMm / 2} mm, got ${tighten.byMm}`,
    );
  }
  const loop = relaxedLoop(loopMm, yarnMm, segments);
  const ladder = startLadder(request, loop);
  const { run, system, period } = ladder;
  // The gap lies between the last and the first stitch of the row.
  const quarter = segments / 4;
  const total = WALES * segments;
  const gap = Int32Array.from({ length: 2 * quarter }, (_, k) => (total - quarter + k) % total);
  const stitchAt = (n: number) =>
    Int32Array.from({ length: segments }, (_, k) => (n - 1) * segments + k);
  const base = system.rest.slice();
  // The loops are those of a finer cell: they settle a little.
  run.letIn(base, [], MAX_PATCH_STEPS);
  run.relax(1, SETTLED, MAX_PATCH_STEPS);
  const before = period[0];
  ladder.stitch = before / WALES;
  const letIn = (slack: number, tug: number) => {
    const changes = [{ segments: gap, more: slack / yarnMm }];
    if (tighten) changes.push({ segments: stitchAt(tighten.stitch), more: -tug / yarnMm });
    run.letIn(base, changes, MAX_PATCH_STEPS);
  };
  for (let step = 1; step <= SLACK_STEPS; step++) letIn((slackMm * step) / SLACK_STEPS, 0);
  if (tighten) {
    // While tugged, the stitches from the gap to that one are still on the needle: yarn runs freely.
    run.friction.free = new Set([...gap, ...stitchAt(1), ...stitchAt(tighten.stitch)]);
    for (let step = 1; step <= SLACK_STEPS; step++) {
      letIn(slackMm, (tighten.byMm * step) / SLACK_STEPS);
    }
    run.friction.free = new Set();
    letIn(slackMm, tighten.byMm);
  }
  const opening = measureOpening(ladder, 'ladder', request, (planar) => measureGap(planar, ladder));
  return { ...opening, widerMm: (period[0] - before) * yarnMm };
}

function startLadder(request: LadderRequest, loop: RelaxedLoop): PatchRun {
  const { segments } = loop;
  const points = Float64Array.from({ length: 3 * WALES * segments }, (_, i) => {
    const wale = Math.floor(i / (3 * segments));
    const v = loop.points[i % (3 * segments)];
    // Worked from right to left; the relaxed loop runs the other way.
    return i % 3 === 0 ? -v - (wale + 0.5) * loop.width : v;
  });
  const rest = new Float64Array(WALES * segments).fill(loop.length / segments);
  return startPatch(request, {
    strands: [{ points, closed: true, image: [-1, 0], rest }],
    period: [WALES * loop.width, loop.height],
    held: null,
    loop,
  });
}

/** The holes at the gap and in ordinary stitches, yarn diameters. */
function measureGap(planar: PlanarSegments, { positions, period }: PatchRun): MeasuredHoles {
  const width = period[0] / WALES;
  const height = period[1];
  // The sinker between last and first stitch is the strand's first node.
  const x = positions[0];
  const hole = largestHole(
    planar,
    0.5,
    { x: [x - 0.75 * width, x + 0.75 * width], y: [-0.5 * height, 0.5 * height] },
    3 * width,
  );
  const windows = ORDINARY.map((k) => ({ x: x + (k + 0.5) * width, y: 0, width, height }));
  return { hole, ordinary: ordinaryGap(planar, 0.5, windows) };
}
