/**
 * What the join and the ladder share: their result, and letting slack into part of a yarn.
 */
import type { YarnRelaxation } from './relax-cell.ts';
import type { RodSystem } from './rod-system.ts';

export interface JoinResult {
  readonly method: string;
  readonly slackMm: number;
  /** Largest hole at the join, and between ordinary stitches: diameters of the visible gap, mm. */
  readonly openingMm: number;
  readonly ordinaryGapMm: number;
  readonly relaxation: YarnRelaxation;
  readonly shape: PatchShape;
}

/** Centre lines of the patch, for drawing. */
export interface PatchShape {
  /** [3·points] mm; the join is at x = 0, the cast-on at the bottom. */
  readonly points: Float64Array;
  readonly strandStart: Int32Array;
  readonly radiusMm: number;
  /** Where the hole is, mm. */
  readonly hole: { readonly x: number; readonly y: number; readonly diameter: number };
}

/** Steps in which slack is let in. Chosen: each under a yarn diameter for usual slack. */
export const SLACK_STEPS = 4;
/** Holes at two stopping points agree within this, yarn diameters: a hair of the yarn. Chosen. */
export const AGREEMENT = 0.05;
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
