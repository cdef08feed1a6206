/**
 * One loop of relaxed stockinette, to build larger pieces of ordinary fabric from: they are at rest from
 * the start, and their ordinary gaps are those of the fabric.
 *
 * Input: loop length and yarn thickness, mm. Output: in yarn diameters the size of the stitch and the
 * centre line of its loop about its middle, from left to right as seen from the right side.
 */
import { CONTACT_SAMPLES } from '../rod/yarn-material.ts';
import { relaxCell } from './relax-cell.ts';

/**
 * Segments of the cell that is relaxed, of which every second or fourth point is kept, so that a stitch is the same however
 * coarse the piece is. Its ordinary gap is that of 48 segments within 2 % (measured at 17, 21 and 24 diameters a loop).
 */
const FINE = 96;

export interface RelaxedLoop {
  readonly width: number;
  readonly height: number;
  /** Yarn in the loop. */
  readonly length: number;
  readonly segments: number;
  /** [3·segments] from sinker to sinker; the next loop's first point ends it. */
  readonly points: Float64Array;
}

/** Throws a RangeError with the limits for a loop or a thickness that cannot be. */
export function relaxedLoop(loopMm: number, yarnMm: number, segments: number): RelaxedLoop {
  const cell = relaxCell({
    stitch: 'stockinette',
    loopMm,
    yarnMm,
    segments: FINE,
    samples: CONTACT_SAMPLES,
  });
  const step = FINE / segments;
  if (!Number.isInteger(step)) throw new RangeError(`${segments} segments do not divide ${FINE}`);
  const points = Float64Array.from(
    { length: 3 * segments },
    (_, i) => cell.shape.points[3 * step * Math.floor(i / 3) + (i % 3)] / yarnMm,
  );
  for (const axis of [0, 1]) {
    let sum = 0;
    for (let i = axis; i < points.length; i += 3) sum += points[i];
    for (let i = axis; i < points.length; i += 3) points[i] -= sum / segments;
  }
  return {
    width: cell.stitchMm / yarnMm,
    height: cell.roundMm / yarnMm,
    length: loopMm / yarnMm,
    segments,
    points,
  };
}
