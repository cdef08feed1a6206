/**
 * Corners as a knitter counts them. A panel along a corner parts its shaping into two lines, one at each of its edges, and
 * cuts the corner off: where such lines stand by turns near and far apart on the widest course, each near pair is one corner.
 * In: shaping lines and rings. Out: the count, and stitches that the panels between have. A side's own two ends, as those of a
 * strip, are no pair: fewer than six lines are counted as they are.
 */
import { type Rings, ringSize } from '../layout/rings.ts';
import type { ShapingLines } from './shaping-lines.ts';

export interface CornerCount {
  readonly corners: number;
  /** Mean stitches of the widest course between the two lines of a corner; 0 where it is one line. */
  readonly cutStitches: number;
}

/** The widest near pair over the narrowest side between pairs: beyond it the panel is a side. Chosen. */
const NARROW = 3 / 4;

export function countCorners({ lines, place }: ShapingLines, rings: Rings): CornerCount {
  const whole = { corners: lines, cutStitches: 0 };
  if (!rings.closed || lines < 6 || lines % 2 === 1) return whole;
  const { courses } = rings;
  const outsideIn = ringSize(rings, 0) >= ringSize(rings, courses - 1);
  const c = outsideIn ? 0 : courses - 1;
  const n = ringSize(rings, c);
  const gaps = Array.from({ length: lines }, (_, k) =>
    k + 1 < lines
      ? place[(k + 1) * courses + c] - place[k * courses + c]
      : place[c] + n - place[k * courses + c],
  );
  for (const first of [0, 1]) {
    const near = gaps.filter((_, k) => k % 2 === first);
    const far = gaps.filter((_, k) => k % 2 !== first);
    if (Math.max(...near) > NARROW * Math.min(...far)) continue;
    const cutStitches = near.reduce((sum, gap) => sum + gap, 0) / near.length;
    return { corners: lines / 2, cutStitches };
  }
  return whole;
}
