/**
 * One loop of relaxed stockinette, to build larger pieces of ordinary fabric from: they are at rest from
 * the start, and their ordinary gaps are those of the fabric.
 *
 * Input: loop length and yarn thickness, mm. Output: in yarn diameters the size of the stitch and the
 * centre line of its loop about its middle, from left to right as seen from the right side.
 */
import { CELL_SEGMENTS, relaxCell } from './relax-cell.ts';

/**
 * Segments of the cell that is relaxed, of which every second or third point is kept. Coarse cells rest in
 * one of two shapes by chance of rounding, with ordinary gaps a fifth apart (measured); fine ones do not.
 */
const FINE = CELL_SEGMENTS;

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
  const cell = relaxCell({ stitch: 'stockinette', loopMm, yarnMm, segments: FINE });
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
