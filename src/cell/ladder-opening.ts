/**
 * The ladder between two needles: the same running thread is slack in every round.
 *
 * Input: slack a round, loop length and yarn thickness in mm, and a stitch after the gap that is tugged
 * tight. Output: the hole at the gap beside that of ordinary stitches, and how much wider the gap makes
 * the fabric. One row of relaxed stitches, periodic both ways: its width is free, its height held by the
 * rounds.
 */

import { YARN_FRICTION } from '../rod/friction.ts';
import { buildRodSystem, type RodSystem } from '../rod/rod-system.ts';
import { largestHole, type PlanarSegments } from './hole-size.ts';
import { ordinaryGap } from './ordinary-gap.ts';
import { TABLE_STIFFNESS } from './relax-cell.ts';
import { relaxedLoop } from './relaxed-loop.ts';
import {
  checkSlack,
  type JoinResult,
  OPENING_AGREEMENT,
  OPENING_STOPS,
  openingResult,
  type PatchYarn,
  SLACK_STEPS,
  type WatchPatch,
} from './slack.ts';
import { YarnRun } from './yarn-run.ts';

export type { PatchShape, PatchYarn } from './slack.ts';

export interface LadderRequest {
  /** Extra yarn in the running thread between the needles, in every round, mm. */
  readonly slackMm: number;
  readonly loopMm: number;
  readonly yarnMm: number;
  /** Stitch after the gap that is tugged tight, 1 or 2, and how much yarn that takes out, mm. */
  readonly tighten?: { readonly stitch: 1 | 2; readonly byMm: number } | null;
  readonly friction?: number;
  readonly onProgress?: WatchPatch;
}

export interface LadderResult extends JoinResult {
  /** How much wider the row became, mm. */
  readonly widerMm: number;
}

/** Stitches in the repeat: far enough apart that the gaps do not feel each other. */
const WALES = 8;
const SEGMENTS = 24;
/** Largest force of the row without slack, B/d², from which widening is measured. */
const SETTLED = 1e-4;
/** Stitches two from the gap, after and before it, counted from 0: slack does not reach them (measured). */
const ORDINARY: readonly number[] = [2, 5];

export function ladderOpening(request: LadderRequest): LadderResult {
  const { slackMm, loopMm, yarnMm } = request;
  const tighten = request.tighten ?? null;
  checkSlack(slackMm, loopMm);
  if (tighten && !(tighten.byMm >= 0 && tighten.byMm <= loopMm / 2)) {
    throw new RangeError(
      `a stitch of ${loopMm} mm can be tightened by 0 to ${loopMm / 2} mm, got ${tighten.byMm}`,
    );
  }
  const loop = relaxedLoop(loopMm, yarnMm, SEGMENTS);
  const { system, positions } = buildRodSystem([
    {
      points: Float64Array.from({ length: 3 * WALES * SEGMENTS }, (_, i) => {
        const wale = Math.floor(i / (3 * SEGMENTS));
        const v = loop.points[i % (3 * SEGMENTS)];
        // Worked from right to left; the relaxed loop runs the other way.
        return i % 3 === 0 ? -v - (wale + 0.5) * loop.width : v;
      }),
      closed: true,
      image: [-1, 0],
      rest: new Float64Array(WALES * SEGMENTS).fill(loop.length / SEGMENTS),
    },
  ]);
  const period = Float64Array.from([WALES * loop.width, loop.height]);
  let stitch = loop.width;
  const yarnAt = (now: Float64Array, nowPeriod: Float64Array): PatchYarn => ({
    points: now.map((v) => v * yarnMm),
    strandStart: system.nodeStart.slice(),
    radiusMm: yarnMm / 2,
    periodMm: [-nowPeriod[0] * yarnMm, nowPeriod[1] * yarnMm],
    stitchMm: stitch * yarnMm,
    roundMm: loop.height * yarnMm,
  });
  const { onProgress } = request;
  const run = new YarnRun({
    system,
    positions,
    period,
    freePeriod: [true, false],
    plane: TABLE_STIFFNESS,
    friction: request.friction ?? YARN_FRICTION,
    onStep: onProgress
      ? (residual, now, nowPeriod) => onProgress(residual, () => yarnAt(now, nowPeriod))
      : undefined,
  });
  // The gap lies between the last and the first stitch of the row.
  const quarter = SEGMENTS / 4;
  const total = WALES * SEGMENTS;
  const gap = Int32Array.from({ length: 2 * quarter }, (_, k) => (total - quarter + k) % total);
  const stitchAt = (n: number) =>
    Int32Array.from({ length: SEGMENTS }, (_, k) => (n - 1) * SEGMENTS + k);
  const base = system.rest.slice();
  // The loops are those of a finer cell: they settle a little.
  run.letIn(base, [], 1500);
  run.relax(1, SETTLED, 1500);
  const before = period[0];
  stitch = before / WALES;
  const letIn = (slack: number, tug: number) => {
    const changes = [{ segments: gap, more: slack / yarnMm }];
    if (tighten) changes.push({ segments: stitchAt(tighten.stitch), more: -tug / yarnMm });
    run.letIn(base, changes, 1500);
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
  const measure = () => measureGap(system, positions, period);
  const { measured, change } = run.measureAtStops(
    {
      measure,
      changeOf: (early, late) => Math.abs(late.gap.diameter - early.gap.diameter),
      agreement: OPENING_AGREEMENT,
    },
    OPENING_STOPS,
    3000,
  );
  const { gap: hole, ordinary } = measured;
  const relaxation = run.record(change, OPENING_AGREEMENT, null);
  const yarn = yarnAt(positions, period);
  return {
    ...openingResult('ladder', request, hole, ordinary, relaxation, yarn),
    widerMm: (period[0] - before) * yarnMm,
  };
}

/** The holes at the gap and in ordinary stitches, yarn diameters. */
function measureGap(system: RodSystem, positions: Float64Array, period: Float64Array) {
  const copies: readonly (readonly [number, number])[] = [-1, 0, 1].flatMap((x) =>
    [-2, -1, 0, 1, 2].map((y) => [x, y] as const),
  );
  const ends = new Float64Array(4 * system.segments * copies.length);
  let at = 0;
  for (const [cx, cy] of copies) {
    for (let k = 0; k < system.segments; k++) {
      const a = 3 * system.tail[k];
      const b = 3 * system.head[k];
      ends[at++] = positions[a] + cx * period[0];
      ends[at++] = positions[a + 1] + cy * period[1];
      ends[at++] = positions[b] + (cx + system.imageX[k]) * period[0];
      ends[at++] = positions[b + 1] + cy * period[1];
    }
  }
  const planar: PlanarSegments = { ends, count: system.segments * copies.length };
  const width = period[0] / WALES;
  const height = period[1];
  // The sinker between last and first stitch is the strand's first node.
  const x = positions[0];
  const gap = largestHole(
    planar,
    0.5,
    { x: [x - 0.75 * width, x + 0.75 * width], y: [-0.5 * height, 0.5 * height] },
    3 * width,
  );
  const windows = ORDINARY.map((k) => ({ x: x + (k + 0.5) * width, y: 0, width, height }));
  return { gap, ordinary: ordinaryGap(planar, 0.5, windows) };
}
