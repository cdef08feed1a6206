/**
 * The ordinary gap of a fabric: the largest hole of each of several ordinary stitches, and of these the
 * one in the middle, so that neither the number of stitches looked at nor one odd stitch decides.
 *
 * Input: the segments of the fabric in its plane, the yarn's radius, the size of a stitch and the middles
 * of the stitches to look at. Output: the hole. Same unit throughout.
 */
import { type Hole, largestHole, type PlanarSegments } from './hole-size.ts';

export interface StitchWindow {
  /** Middle of a stitch, and its size. */
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

export function ordinaryGap(
  segments: PlanarSegments,
  radius: number,
  windows: readonly StitchWindow[],
): Hole {
  const holes = windows.map(({ x, y, width, height }) =>
    largestHole(
      segments,
      radius,
      { x: [x - width / 2, x + width / 2], y: [y - height / 2, y + height / 2] },
      3 * width,
    ),
  );
  holes.sort((a, b) => a.diameter - b.diameter);
  if (holes.length === 0) throw new RangeError('there is no ordinary stitch to look at');
  return holes[(holes.length - 1) >> 1];
}
