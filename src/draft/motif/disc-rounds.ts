/**
 * Rounds of one sector of a disc: decreases spread over the sector and staggered from one decrease
 * round to the next, so that no spoke shows.
 *
 * Input: sector stitches, pattern and the pairs-free schedule (one decrease a sector at a time).
 * Output: live wales after every round from the rim inwards, and the stitches of each round.
 */

import { MAX_DRAWN_UP } from '../spec/draft-spec.ts';
import {
  bestSpacing,
  dueIn,
  headStart,
  type RoundsPreferred,
  type Timing,
} from './decrease-schedule.ts';
import type { CableColumns, CrossedRounds, CrossingRounds, SidePattern } from './side-pattern.ts';
import { cableName, crossesIn, groundPurls, orphanWales, stitchOn } from './side-pattern.ts';

export interface DiscInput {
  readonly sectors: number;
  readonly pattern: SidePattern;
  /** Stitches the whole round loses per round, on average. */
  readonly rate: number;
  /** Null keeps to the rate throughout. */
  readonly timing: Timing | null;
  readonly prefer: RoundsPreferred;
  /** [columns] width of each wale in ground stitches. */
  readonly widths: readonly number[];
}

/** Fractional part of the golden ratio: its multiples fall evenly and never line up. */
export const GOLDEN = 0.618033988749895;

/** Live wales of one sector after each course, course 0 = rim. A gathered sector has wale −1 … */
export type SectorCourse =
  | { readonly kind: 'wales'; readonly wales: readonly number[] }
  | { readonly kind: 'gathered'; readonly stitches: number };

export function sectorStitches(course: SectorCourse): number {
  return course.kind === 'wales' ? course.wales.length : course.stitches;
}

export function scheduleSector(input: DiscInput): SectorCourse[] {
  if (input.timing) return spaceSector(input, input.timing.shift);
  return bestSpacing(input.rate, (shift) => {
    const courses = spaceSector(input, shift);
    return { value: courses, widths: courses.map((c) => sectorWidth(c, input)) };
  });
}

/** Width of the whole round in ground stitches. */
function sectorWidth(course: SectorCourse, { sectors, widths }: DiscInput): number {
  if (course.kind === 'gathered') return sectors * course.stitches;
  return sectors * course.wales.reduce((sum, wale) => sum + widths[wale], 0);
}

function spaceSector(input: DiscInput, shift: number): SectorCourse[] {
  const { sectors, pattern, rate, prefer } = input;
  // In seed stitch two columns go at a time: one would put like stitches side by side.
  const single = pattern.ground === 'seed' ? 2 : 1;
  let course: SectorCourse = { kind: 'wales', wales: pattern.columns.map((_, wale) => wale) };
  const courses: SectorCourse[] = [course];
  const total = sectorWidth(course, input);
  let step = 0;
  const mostRounds = Math.ceil((4 * total) / rate) + 50;
  const first =
    (rate / sectors / single) * (input.timing?.rateProfile[sectorStitches(course)] ?? 1);
  let line = -sectors * single * headStart(first, prefer);
  for (let round = 1; round < mostRounds; round++) {
    const count: number = sectors * sectorStitches(course);
    const left = sectorWidth(course, input);
    const now = rate * (input.timing?.rateProfile[sectorStitches(course)] ?? 1);
    line += now;
    if (count <= MAX_DRAWN_UP && line >= total - 0.6 * left) break;
    const lag = (line - (total - left)) / sectors;
    const take = dueIn(round, lag / single, now / sectors / single, prefer, shift);
    if (count > MAX_DRAWN_UP) {
      for (let i = 0; i < Math.min(take, 2); i++) {
        const next = takeOne(course, pattern, step, single);
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

/** Removes one or two wales, ground first; null where too few stitches are left for it. */
function takeOne(
  course: SectorCourse,
  pattern: SidePattern,
  step: number,
  columns: number,
): SectorCourse | null {
  if (course.kind === 'gathered' || course.wales.length < columns + 2) return null;
  const { wales } = course;
  // The removed wales must have a live neighbour on each side of them in the sector, and what they
  // are worked together with must not be part of a panel while ground is left.
  const free: number[] = [];
  const all: number[] = [];
  for (let i = 1; i + columns < wales.length; i++) {
    all.push(i);
    if (wales.slice(i, i + columns + 1).every((wale) => isGround(pattern, wale))) free.push(i);
  }
  const places = free.length > 0 ? free : all;
  const at = places[Math.floor((((step + 0.5) * GOLDEN) % 1) * places.length)];
  return { kind: 'wales', wales: wales.filter((_, i) => i < at || i >= at + columns) };
}

function isGround(pattern: SidePattern, wale: number): boolean {
  return pattern.columns[wale] === 'ground';
}

/** Stitches of each round, RS order; `courses` in working order (reverse it for a disc grown out). */
export function sectorRounds(
  courses: readonly SectorCourse[],
  pattern: SidePattern,
  crossing: CrossingRounds,
): CrossedRounds {
  const rounds: string[][] = [];
  const crossed = new Map<CableColumns, number>();
  for (let round = 1; round < courses.length; round++)
    rounds.push(sectorRound(courses, round, pattern, crossing, crossed));
  return { rounds, crossed };
}

function sectorRound(
  courses: readonly SectorCourse[],
  round: number,
  pattern: SidePattern,
  crossing: CrossingRounds,
  crossed: Map<CableColumns, number>,
): string[] {
  const before = courses[round - 1];
  const after = courses[round];
  const purl = groundPurls(pattern, round);
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
  const orphans = orphanWales(pattern, (wale) => had.has(wale));
  const all = before.wales.length >= after.wales.length ? before.wales : after.wales;
  for (let i = 0; i < all.length; ) {
    const wale = all[i];
    if (pattern.ground === 'seed' && !had.has(wale)) {
      // Two columns are born in the stitch behind them, in pattern.
      const first = stitchOn(pattern, wale, round);
      names.push(first === 'k' ? '(k1, p1, k1) in 1 st' : '(p1, k1, p1) in 1 st');
      i += 3;
      continue;
    }
    if (!had.has(wale)) {
      names.push(purl ? 'm1lp' : 'm1l');
      i++;
      continue;
    }
    if (pattern.ground === 'seed' && !alive.has(wale)) {
      names.push(stitchOn(pattern, wale, round) === 'k' ? 'k3tog' : 'p3tog');
      i += 3;
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
      crossesIn(cable, round, crossing) &&
      round > 1 &&
      all.slice(i, i + cable.width).every((w, k) => w === wale + k && alive.has(w) && had.has(w)) &&
      restsAfter(courses, round, wale, cable.width);
    if (cable && whole) {
      names.push(cableName(cable));
      crossed.set(cable, (crossed.get(cable) ?? 0) + 1);
      i += cable.width;
    } else {
      names.push(stitchOn(pattern, wale, round, orphans));
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
