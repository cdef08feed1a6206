/**
 * Rounds of one sector of a disc: decreases spread over the sector and staggered from one decrease
 * round to the next, so that no spoke shows.
 *
 * Input: sector stitches, pattern and the pairs-free schedule (one decrease a sector at a time).
 * Output: live wales after every round from the rim inwards, and the stitches of each round.
 */
import type { SidePattern } from './side-pattern.ts';
import { cableName, crossesIn, fabricStitch, stitchOn } from './side-pattern.ts';
import { MOST_DRAWN_UP } from './wishes.ts';

export interface DiscInput {
  readonly sectors: number;
  readonly pattern: SidePattern;
  /** Stitches the whole round loses per round, on average. */
  readonly rate: number;
  readonly preferOdd: boolean;
}

/** Fractional part of the golden ratio: its multiples fall evenly and never line up. */
const GOLDEN = 0.618033988749895;

/** Live wales of one sector after each course, course 0 = rim. A gathered sector has wale −1 … */
export type SectorCourse =
  | { readonly kind: 'wales'; readonly wales: readonly number[] }
  | { readonly kind: 'gathered'; readonly stitches: number };

export function sectorStitches(course: SectorCourse): number {
  return course.kind === 'wales' ? course.wales.length : course.stitches;
}

export function scheduleSector(input: DiscInput): SectorCourse[] {
  const { sectors, pattern, rate, preferOdd } = input;
  const total = sectors * pattern.columns.length;
  const perRound = rate / sectors;
  const ahead = Math.min(0.5, Math.max(0, 1 - perRound - 1e-9));
  let course: SectorCourse = { kind: 'wales', wales: pattern.columns.map((_, wale) => wale) };
  const courses: SectorCourse[] = [course];
  let step = 0;
  const mostRounds = Math.ceil((2 * total) / rate) + 50;
  for (let round = 1; round < mostRounds; round++) {
    const count: number = sectors * sectorStitches(course);
    if (count <= MOST_DRAWN_UP && rate * round >= total - 0.6 * count) break;
    const lag = (rate * round - (total - count)) / sectors;
    let take = Math.floor(lag + ahead + 1e-9);
    if (preferOdd && perRound < 1)
      take = (round % 2 === 1 ? lag >= 0.25 : lag > (perRound <= 0.5 ? 1.001 : 0.75)) ? 1 : 0;
    if (round === 1 && perRound < 1) take = 0;
    if (count > MOST_DRAWN_UP) {
      for (let i = 0; i < Math.min(take, 2); i++) {
        const next = takeOne(course, pattern, step);
        if (next) {
          course = next;
          step++;
          if (i === 0 && take > 1 && sectorStitches(course) < 8) break;
        } else if (lag >= Math.floor(sectorStitches(course) / 2) / 2) {
          const stitches: number = sectorStitches(course);
          course = { kind: 'gathered', stitches: Math.ceil(stitches / 2) };
          break;
        }
      }
    }
    courses.push(course);
  }
  return courses;
}

/** Removes one wale, ground first; null where fewer than three stitches are left. */
function takeOne(course: SectorCourse, pattern: SidePattern, step: number): SectorCourse | null {
  if (course.kind === 'gathered' || course.wales.length < 3) return null;
  const { wales } = course;
  // The removed wale must have a live neighbour on each side of it in the sector, and the stitch it
  // is worked together with must not be part of a panel while ground is left.
  const free: number[] = [];
  for (let i = 1; i + 1 < wales.length; i++)
    if (isGround(pattern, wales[i]) && isGround(pattern, wales[i + 1])) free.push(i);
  const places = free.length > 0 ? free : wales.slice(1, -1).map((_, i) => i + 1);
  const at = places[Math.floor((((step + 0.5) * GOLDEN) % 1) * places.length)];
  return { kind: 'wales', wales: wales.filter((_, i) => i !== at) };
}

function isGround(pattern: SidePattern, wale: number): boolean {
  return pattern.columns[wale] === 'ground';
}

/** Stitches of each round, RS order; `courses` in working order (reverse it for a disc grown out). */
export function sectorRounds(
  courses: readonly SectorCourse[],
  pattern: SidePattern,
  rightSideOnly: boolean,
): string[][] {
  const rounds: string[][] = [];
  for (let round = 1; round < courses.length; round++)
    rounds.push(sectorRound(courses, round, pattern, rightSideOnly));
  return rounds;
}

function sectorRound(
  courses: readonly SectorCourse[],
  round: number,
  pattern: SidePattern,
  rightSideOnly: boolean,
): string[] {
  const before = courses[round - 1];
  const after = courses[round];
  const purl = pattern.ground !== 'seed' && fabricStitch(pattern.ground, 0, round) === 'p';
  if (before.kind === 'gathered' || after.kind === 'gathered') {
    const from = sectorStitches(before);
    const to = sectorStitches(after);
    const fewer = Math.max(0, from - to);
    const more = Math.max(0, to - from);
    const names: string[] = [];
    for (let i = 0; i < fewer; i++) names.push(purl ? 'p2tog' : 'k2tog');
    for (let i = 0; i < more; i++) names.push(purl ? 'pfb' : 'kfb');
    while (names.length < from - fewer) names.push(purl ? 'p' : 'k');
    return names;
  }
  const names: string[] = [];
  const alive = new Set(after.wales);
  const had = new Set(before.wales);
  const all = before.wales.length >= after.wales.length ? before.wales : after.wales;
  for (let i = 0; i < all.length; ) {
    const wale = all[i];
    if (!had.has(wale)) {
      names.push(purl ? 'm1p' : 'm1l');
      i++;
      continue;
    }
    if (!alive.has(wale)) {
      names.push(purl ? 'p2tog' : 'k2tog');
      i += 2;
      continue;
    }
    const cable = pattern.cables.find((c) => c.first === wale);
    const whole =
      cable &&
      crossesIn(cable, round, rightSideOnly) &&
      round > 1 &&
      all.slice(i, i + cable.width).every((w, k) => w === wale + k && alive.has(w) && had.has(w)) &&
      restsAfter(courses, round, wale, cable.width);
    if (cable && whole) {
      names.push(cableName(cable));
      i += cable.width;
    } else {
      names.push(stitchOn(pattern, wale, round));
      i++;
    }
  }
  return names;
}

/** Two plain rounds stay between a crossing and the round that breaks into the cable (or made it). */
function restsAfter(
  courses: readonly SectorCourse[],
  round: number,
  first: number,
  width: number,
): boolean {
  for (const other of [round - 2, round + 2]) {
    const course = courses[Math.max(0, Math.min(courses.length - 1, other))];
    if (course.kind !== 'wales') return false;
    const live = new Set(course.wales);
    for (let k = 0; k < width; k++) if (!live.has(first + k)) return false;
  }
  return true;
}
