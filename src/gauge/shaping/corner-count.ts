/**
 * Corners as a knitter counts them. A panel along a corner parts its shaping into two lines, one at each of its edges, and
 * cuts the corner off: where such lines stand by turns near and far apart on the widest course, or by turns keep their
 * distance while what lies between the pairs is taken away, each pair is one corner.
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
/** What a pair that keeps its distance may lose of it, for every stitch that the sides between lose. Chosen. */
const KEPT = 1 / 4;
/** How far in, as a share of the courses, the sides are compared: farther in they may be gone. Chosen. */
const NEAR_RIM = 1 / 3;

export function countCorners(found: ShapingLines, rings: Rings): CornerCount {
  const { courses } = rings;
  const outsideIn = ringSize(rings, 0) >= ringSize(rings, courses - 1);
  const c = outsideIn ? 0 : courses - 1;
  const turning = rings.closed ? rimLines(found, courses, outsideIn) : [];
  const lines = turning.length > 0 ? turning.length : found.lines;
  const whole = { corners: lines, cutStitches: 0 };
  if (turning.length < 6 || lines % 2 === 1) return whole;
  const gaps = gapsAt(found, rings, turning, c);
  const [outer, inner] = shapedNearRim(found, courses, turning, outsideIn).map((course) =>
    gapsAt(found, rings, turning, course),
  );
  for (const first of [0, 1]) {
    const [near, far] = byTurns(gaps, first);
    const [lost, taken] = [0, 1].map(
      (turn) => mean(byTurns(outer, first)[turn]) - mean(byTurns(inner, first)[turn]),
    );
    const kept = taken >= 1 && Math.abs(lost) <= KEPT * taken;
    if (kept || Math.max(...near) <= NARROW * Math.min(...far))
      return { corners: lines / 2, cutStitches: mean(near) };
  }
  return whole;
}

/**
 * The first and the last course near the rim at which all these lines shape: there a line stands on its shaping stitch,
 * elsewhere beside it. Where they do not shape together, the rim and a quarter of the way in.
 */
function shapedNearRim(
  { loss }: ShapingLines,
  courses: number,
  turning: readonly number[],
  outsideIn: boolean,
): [number, number] {
  const quarter = courses >> 2;
  const fromRim = Array.from({ length: courses }, (_, i) => (outsideIn ? i : courses - 1 - i));
  const shaped = fromRim.filter((c) => turning.every((k) => loss[k * courses + c] !== 0));
  if (shaped.length < 2) return [fromRim[0], fromRim[quarter]];
  const near = shaped.filter((c) => fromRim[c] <= courses * NEAR_RIM);
  return [shaped[0], near.length < 2 ? shaped[1] : near[near.length - 1]];
}

/** Lines that turn the widest course: a panel that is eaten in its middle has one near the centre alone. */
function rimLines({ lines, loss }: ShapingLines, courses: number, outsideIn: boolean): number[] {
  const half = Math.ceil(courses / 2);
  const [from, to] = outsideIn ? [0, half] : [courses - half, courses];
  return Array.from({ length: lines }, (_, k) => k).filter((k) =>
    loss.subarray(k * courses + from, k * courses + to).some((lost) => lost !== 0),
  );
}

/** Stitches from each of these lines to the next, round the course. */
function gapsAt(
  { place }: ShapingLines,
  rings: Rings,
  lines: readonly number[],
  course: number,
): number[] {
  const places = lines.map((k) => place[k * rings.courses + course]);
  const n = ringSize(rings, course);
  return places.map((at, k) => (places[k + 1] ?? places[0] + n) - at);
}

function byTurns(gaps: readonly number[], first: number): [number[], number[]] {
  return [gaps.filter((_, k) => k % 2 === first), gaps.filter((_, k) => k % 2 !== first)];
}

function mean(values: readonly number[]): number {
  return values.reduce((sum, value) => sum + value, 0) / values.length;
}
