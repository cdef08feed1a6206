/**
 * What a join, a seam and a ladder set up alike: rods with friction on the table, their yarn for the picture, slack
 * let in by steps, the hole measured at two stopping points.
 * In: strands and periods in yarn diameters, lengths of the request in mm. Out: a run, and the opening's result in mm.
 */
import { createRandom } from '../math/random.ts';
import { YARN_FRICTION } from '../rod/friction.ts';
import { buildRodSystem, type RodSystem, type Strand } from '../rod/rod-system.ts';
import { CONTACT_SAMPLES } from '../rod/yarn-material.ts';
import type { Hole, PlanarSegments } from './hole-size.ts';
import { TABLE_STIFFNESS } from './relax-cell.ts';
import type { RelaxedLoop } from './relaxed-loop.ts';
import {
  type JoinResult,
  OPENING_AGREEMENT,
  OPENING_STOPS,
  openingResult,
  type PatchRequest,
  type PatchYarn,
  SHAKE,
  SLACK_STEP,
} from './slack.ts';
import { YarnRun } from './yarn-run.ts';

/**
 * Segments a stitch of a join, a ladder or a seam. Chosen: 96 change openings by up to 4 % to 21 diameters a loop and 8 % in looser yarn
 * (DEVELOPERS.md has 24, 48 and 96), in two and a half times the time.
 */
export const PATCH_SEGMENTS = 48;
/** Steps within which a patch, and each state of slack, comes to rest. Several times what is needed. */
export const MAX_PATCH_STEPS = 2000;
/** Copies to either side of a repeat that may bound its holes: along the courses, and across them. */
const COPIES: readonly (readonly number[])[] = [
  [-1, 0, 1],
  [-2, -1, 0, 1, 2],
];

export interface PatchSetup {
  readonly strands: readonly Strand[];
  /** Width and height of the repeat, d; 0 where the patch does not repeat that way. A width is an unknown. */
  readonly period: readonly [number, number];
  /** [nodes] 7 where held. */
  readonly held: Uint8Array | null;
  /** An ordinary stitch, d. */
  readonly loop: Pick<RelaxedLoop, 'width' | 'height'>;
}

export interface PatchRun {
  readonly run: YarnRun;
  readonly system: RodSystem;
  readonly positions: Float64Array;
  readonly period: Float64Array;
  /** Width of an ordinary stitch for the picture, d; may be measured anew. */
  stitch: number;
  readonly yarnNow: () => PatchYarn;
}

/** What was measured on a patch at rest, d. */
export interface MeasuredHoles {
  readonly hole: Hole;
  readonly ordinary: Hole;
}

export function startPatch(request: PatchRequest, setup: PatchSetup): PatchRun {
  const { yarnMm, onProgress } = request;
  const { system, positions } = buildRodSystem(setup.strands);
  const period = Float64Array.from(setup.period);
  // Strands worked from right to left find their next copy there.
  const along = system.turnX[0] < 0 ? -1 : 1;
  const yarnAt = (now: Float64Array, [width, height]: Float64Array): PatchYarn => ({
    points: now.map((v) => v * yarnMm),
    strandStart: system.nodeStart.slice(),
    radiusMm: yarnMm / 2,
    periodMm: [along * width * yarnMm, height * yarnMm],
    stitchMm: patch.stitch * yarnMm,
    roundMm: setup.loop.height * yarnMm,
  });
  const run = new YarnRun({
    system,
    positions,
    period,
    freePeriod: [setup.period[0] > 0, false],
    plane: TABLE_STIFFNESS,
    samples: CONTACT_SAMPLES,
    held: setup.held,
    friction: request.friction ?? YARN_FRICTION,
    onStep: onProgress
      ? (residual, now, nowPeriod) => onProgress(residual, () => yarnAt(now, nowPeriod))
      : undefined,
  });
  const patch: PatchRun = {
    run,
    system,
    positions,
    period,
    stitch: setup.loop.width,
    yarnNow: () => yarnAt(positions, period),
  };
  return patch;
}

/** Shakes the nodes that are not held by `SHAKE`; the same for the same seed. */
export function shakePatch(positions: Float64Array, held: Uint8Array | null, seed: number): void {
  const random = createRandom(seed);
  for (let i = 0; i < positions.length; i++) {
    const shift = SHAKE * (2 * random() - 1);
    if (!held?.[Math.floor(i / 3)]) positions[i] += shift;
  }
}

/** Steps of one size, so that more slack goes on from less. `slack` in d, over `rest` without any. */
export function letSlackIn(
  { run }: PatchRun,
  rest: Float64Array,
  segments: Int32Array,
  slack: number,
): void {
  for (let step = 1; (step - 1) * SLACK_STEP < slack || step === 1; step++) {
    run.letIn(rest, [{ segments, more: Math.min(slack, step * SLACK_STEP) }], MAX_PATCH_STEPS);
  }
}

/** Measures the hole until two stopping points agree. `failure`: why it could not be trusted even so. */
export function measureOpening(
  patch: PatchRun,
  method: string,
  request: { readonly slackMm: number; readonly yarnMm: number },
  measure: (planar: PlanarSegments) => MeasuredHoles,
  failure: string | null = null,
): JoinResult {
  const { run } = patch;
  const { measured, change } = run.measureAtStops(
    {
      measure: () => measure(planarCopies(patch)),
      changeOf: (early, late) => Math.abs(late.hole.diameter - early.hole.diameter),
      agreement: OPENING_AGREEMENT,
    },
    OPENING_STOPS,
    2 * MAX_PATCH_STEPS,
  );
  const { hole, ordinary } = measured;
  const relaxation = run.record(change, OPENING_AGREEMENT, failure);
  return openingResult(method, request, hole, ordinary, relaxation, patch.yarnNow());
}

/** The patch and its copies around it, seen square on. */
function planarCopies({ system, positions, period }: PatchRun): PlanarSegments {
  const { segments, tail, head, imageX, imageY } = system;
  const [across, up] = COPIES.map((copies, axis) => (period[axis] > 0 ? copies : [0]));
  const count = segments * across.length * up.length;
  const ends = new Float64Array(4 * count);
  let at = 0;
  for (const x of across) {
    for (const y of up) {
      for (let k = 0; k < segments; k++) {
        const a = 3 * tail[k];
        const b = 3 * head[k];
        ends[at++] = positions[a] + x * period[0];
        ends[at++] = positions[a + 1] + y * period[1];
        ends[at++] = positions[b] + (x + imageX[k]) * period[0];
        ends[at++] = positions[b + 1] + (y + imageY[k]) * period[1];
      }
    }
  }
  return { ends, count };
}
