/**
 * The ladder between two needles: the same running thread is slack in every round.
 *
 * Input: slack a round, loop length and yarn thickness in mm, and a stitch after the gap that is tugged
 * tight. Output: the hole at the gap beside the largest elsewhere, and how much wider the gap makes the
 * fabric. One row of stitches, periodic both ways: its width is free, its height held by the rounds.
 */
import { largestHole, type PlanarSegments } from './hole-size.ts';
import { type FaceGrid, startLoops } from './loop-start.ts';
import { INFLATION, relaxCell } from './relax-cell.ts';
import { buildRodSystem, type RodSystem } from './rod-system.ts';
import { checkSlack, type JoinResult, SLACK_STEPS } from './slack.ts';
import { SlackRun } from './slack-run.ts';

export interface LadderRequest {
  /** Extra yarn in the running thread between the needles, in every round, mm. */
  readonly slackMm: number;
  readonly loopMm: number;
  readonly yarnMm: number;
  /** Stitch after the gap that is tugged tight, 1 or 2, and how much yarn that takes out, mm. */
  readonly tighten?: { readonly stitch: 1 | 2; readonly byMm: number } | null;
  readonly friction?: number;
  readonly onProgress?: (residual: number) => boolean | undefined;
}

export interface LadderResult extends JoinResult {
  /** How much wider the row became, mm. */
  readonly widerMm: number;
}

/** Stitches in the repeat: far enough apart that the gaps do not feel each other. */
const WALES = 8;
const SEGMENTS = 24;

export function ladderOpening(request: LadderRequest): LadderResult {
  const { slackMm, loopMm, yarnMm } = request;
  const tighten = request.tighten ?? null;
  checkSlack(slackMm, loopMm);
  if (tighten && !(tighten.byMm >= 0 && tighten.byMm <= loopMm / 2)) {
    throw new RangeError(
      `a stitch of ${loopMm} mm can be tightened by 0 to ${loopMm / 2} mm, got ${tighten.byMm}`,
    );
  }
  // Also checks loop length and thickness, with the limits in its message.
  const cell = relaxCell({ stitch: 'stockinette', loopMm, yarnMm, segments: SEGMENTS });
  const row: FaceGrid = [new Array<1>(WALES).fill(1)];
  const start = startLoops(row, loopMm / yarnMm, SEGMENTS);
  const { system, positions } = buildRodSystem(start.strands);
  const period = Float64Array.from([start.width, start.height]);
  const run = new SlackRun({
    system,
    positions,
    period,
    freePeriod: [true, false],
    held: null,
    coefficient: request.friction,
    onProgress: request.onProgress,
  });
  const height = cell.roundMm / yarnMm;
  const stretchTo = (share: number) => {
    const factor = (height / period[1]) ** share;
    for (let i = 1; i < positions.length; i += 3) positions[i] *= factor;
    period[1] *= factor;
  };
  for (const diameter of INFLATION) {
    stretchTo(0.5);
    run.relax(diameter, 0.05, 30);
  }
  stretchTo(1);
  run.relax(1, 1e-3, 3000);
  const before = period[0];
  // The gap lies between the last and the first stitch of the row.
  const quarter = SEGMENTS / 4;
  const total = WALES * SEGMENTS;
  const gap = Int32Array.from({ length: 2 * quarter }, (_, k) => (total - quarter + k) % total);
  const stitch = (n: number) =>
    Int32Array.from({ length: SEGMENTS }, (_, k) => (n - 1) * SEGMENTS + k);
  const base = system.rest.slice();
  const letIn = (slack: number, tug: number) => {
    const changes = [{ segments: gap, more: slack / yarnMm }];
    if (tighten) changes.push({ segments: stitch(tighten.stitch), more: -tug / yarnMm });
    run.letIn(base, changes, 1500);
  };
  for (let step = 1; step <= SLACK_STEPS; step++) letIn((slackMm * step) / SLACK_STEPS, 0);
  if (tighten) {
    // While tugged, the stitches from the gap to that one are still on the needle: yarn runs freely.
    run.friction.free = new Set([...gap, ...stitch(1), ...stitch(tighten.stitch)]);
    for (let step = 1; step <= SLACK_STEPS; step++) {
      letIn(slackMm, (tighten.byMm * step) / SLACK_STEPS);
    }
    run.friction.free = new Set();
    letIn(slackMm, tighten.byMm);
  }
  const measure = () => measureGap(system, positions, period);
  const { measured: late, change } = run.measureTwice(measure, (m) => m.opening, 3000);
  return {
    method: 'ladder',
    slackMm,
    openingMm: late.opening * yarnMm,
    ordinaryGapMm: late.ordinary * yarnMm,
    widerMm: (period[0] - before) * yarnMm,
    relaxation: run.record(change, null),
    shape: {
      points: positions.map((v) => v * yarnMm),
      strandStart: system.nodeStart.slice(),
      radiusMm: yarnMm / 2,
      hole: { x: late.x * yarnMm, y: late.y * yarnMm, diameter: late.opening * yarnMm },
    },
  };
}

/** Largest holes at the gap (x near 0) and at the sinkers farthest from it, yarn diameters. */
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
  const wide = period[0] / WALES;
  const y = [-0.5 * period[1], 0.5 * period[1]] as const;
  const holeAt = (x: number) =>
    largestHole(planar, 0.5, { x: [x - 0.75 * wide, x + 0.75 * wide], y }, 3 * wide);
  // The sinker between last and first stitch is the strand's first node.
  const origin = positions[0];
  const hole = holeAt(origin);
  return {
    opening: hole.diameter,
    x: hole.x,
    y: hole.y,
    ordinary: holeAt(origin + period[0] / 2).diameter,
  };
}
