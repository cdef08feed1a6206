/**
 * What the join and the ladder share: their result, and letting slack into part of a yarn.
 */

import type { RodSystem } from '../rod/rod-system.ts';
import type { YarnRelaxation } from '../rod/yarn-material.ts';
import type { Hole } from './hole-size.ts';

export interface JoinResult {
  readonly method: string;
  readonly slackMm: number;
  /** Largest hole at the join, and the usual one of ordinary stitches: diameters of the visible gap, mm. */
  readonly openingMm: number;
  readonly ordinaryGapMm: number;
  readonly relaxation: YarnRelaxation;
  readonly shape: PatchShape;
}

/** Centre lines of the patch, for drawing, at rest or on the way there. */
export interface PatchYarn {
  /** [3·points] mm; the join is at x = 0, the cast-on at the bottom. */
  readonly points: Float64Array;
  readonly strandStart: Int32Array;
  readonly radiusMm: number;
  /** From a point of a strand to its next copy along the yarn, and from round to round, mm; 0: none. */
  readonly periodMm: readonly [number, number];
  /** Width of an ordinary stitch and height of a round, mm. */
  readonly stitchMm: number;
  readonly roundMm: number;
}

export interface PatchShape extends PatchYarn {
  /** Where the holes are, mm. */
  readonly hole: Hole;
  readonly ordinary: Hole;
}

/** Hears of every step of a relaxation, can ask where the yarn is, and cancels by returning true. */
export type WatchPatch = (residual: number, yarn: () => PatchYarn) => boolean | undefined;

/** What every patch with a join or a seam is made of. */
export interface PatchRequest {
  readonly loopMm: number;
  readonly yarnMm: number;
  /** Coefficient of friction; `YARN_FRICTION` by default. 0 lets slack run away. */
  readonly friction?: number;
  /** Polyline segments a stitch, 24, 32, 48 or 96; `PATCH_SEGMENTS` by default. */
  readonly segments?: number;
  /** Number of the start: 0 as laid, others with the laid yarn shaken by `SHAKE`, the same each time. */
  readonly start?: number;
  readonly onProgress?: WatchPatch;
}

/** Largest shift of a laid point, d. Chosen: well within the thin yarn that is grown first. */
export const SHAKE = 0.03;
/** Slack let in at a join at a time, yarn diameters. Chosen: a small share of a loop. */
export const SLACK_STEP = 0.8;
/** Steps in which a ladder's slack is let in. Chosen: each under a yarn diameter for usual slack. */
export const SLACK_STEPS = 4;
/** Forces at which a hole is measured, B/d², until two agree within so many yarn diameters: a hair of it. Chosen. */
export const OPENING_STOPS: readonly number[] = [1e-3, 1e-4, 1e-5];
export const OPENING_AGREEMENT = 0.05;
/** More slack than this many loop lengths is no longer a stitch. Chosen. */
const MOST_SLACK = 2;

export function checkSlack(slackMm: number, loopMm: number): void {
  if (!Number.isFinite(slackMm) || slackMm < 0 || slackMm > MOST_SLACK * loopMm) {
    throw new RangeError(
      `slack must be from 0 to ${MOST_SLACK * loopMm} mm (twice a stitch's yarn), got ${slackMm}`,
    );
  }
}

/** Spreads `more` yarn over segments in proportion to what they had. */
export function addYarn(
  rest: Float64Array,
  base: Float64Array,
  segments: Int32Array,
  more: number,
): void {
  let total = 0;
  for (const s of segments) total += base[s];
  for (const s of segments) rest[s] += (more * base[s]) / total;
}

/** Arc lengths follow changed rest lengths; they decide which neighbours along the yarn may touch. */
export function refreshArc(system: RodSystem): void {
  for (let s = 0; s < system.strands; s++) {
    let arc = 0;
    for (let k = system.segmentStart[s]; k < system.segmentStart[s + 1]; k++) {
      system.arc[k] = arc;
      arc += system.rest[k];
    }
    system.length[s] = arc;
  }
}

/** The result from what was measured in yarn diameters: the hole at the join, and that of ordinary stitches. */
export function openingResult(
  method: string,
  { slackMm, yarnMm }: { readonly slackMm: number; readonly yarnMm: number },
  hole: Hole,
  ordinary: Hole,
  relaxation: YarnRelaxation,
  yarn: PatchYarn,
): JoinResult {
  const inMm = (h: Hole) => ({ x: h.x * yarnMm, y: h.y * yarnMm, diameter: h.diameter * yarnMm });
  return {
    method,
    slackMm,
    openingMm: hole.diameter * yarnMm,
    ordinaryGapMm: ordinary.diameter * yarnMm,
    relaxation,
    shape: { ...yarn, hole: inMm(hole), ordinary: inMm(ordinary) },
  };
}
