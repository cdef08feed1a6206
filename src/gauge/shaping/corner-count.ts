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

export function countCorners(found: ShapingLines, rings: Rings): CornerCount {
  const { courses } = rings;
  const outsideIn = ringSize(rings, 0) >= ringSize(rings, courses - 1);
  const c = outsideIn ? 0 : courses - 1;
  const places = rings.closed ? rimLines(found, courses, outsideIn, c) : [];
  const lines = places.length > 0 ? places.length : found.lines;
  const whole = { corners: lines, cutStitches: 0 };
  if (places.length < 6 || lines % 2 === 1) return whole;
  const n = ringSize(rings, c);
  const gaps = places.map((place, k) => (places[k + 1] ?? places[0] + n) - place);
  for (const first of [0, 1]) {
    const near = gaps.filter((_, k) => k % 2 === first);
    const far = gaps.filter((_, k) => k % 2 !== first);
    if (Math.max(...near) > NARROW * Math.min(...far)) continue;
    const cutStitches = near.reduce((sum, gap) => sum + gap, 0) / near.length;
    return { corners: lines / 2, cutStitches };
  }
  return whole;
}

/** Places on the widest course of the lines that turn it: a panel that is eaten in its middle has one near the centre alone. */
function rimLines(
  { lines, place, loss }: ShapingLines,
  courses: number,
  outsideIn: boolean,
  widest: number,
): number[] {
  const half = Math.ceil(courses / 2);
  return Array.from({ length: lines }, (_, k) => k).flatMap((k) => {
    const [from, to] = outsideIn ? [0, half] : [courses - half, courses];
    const turns = loss.subarray(k * courses + from, k * courses + to).some((lost) => lost !== 0);
    return turns ? [place[k * courses + widest]] : [];
  });
}
