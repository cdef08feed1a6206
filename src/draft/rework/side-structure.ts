/**
 * Sides of a shaped piece: the stretches of its rim that the corners' shaping takes columns from, and what a
 * rim of another length is shaped by.
 *
 * In: the columns of a piece and its shaping rounds. Out: its sides, right to left, and the same shaping
 * rounds for another rim: kept towards the centre, added or left out at the rim. Null where the shaping is
 * not that of corners.
 */

import type { Plan } from '../../plan/plan.ts';
import type { WorkedItem } from './column-model.ts';
import type { Shaping, ShapingEvent } from './shaping.ts';

type Seam = NonNullable<Plan['seam']>;

/** One shaping round seen from the rim: columns before it are `outer`, those it leaves `inner`. */
export interface Step {
  readonly event: ShapingEvent;
  readonly outer: readonly number[];
  readonly inner: readonly number[];
  /** Columns of `outer` that are not in `inner`. */
  readonly lost: ReadonlySet<number>;
}

export interface SideStructure {
  /** True where the piece is worked from its rim to its centre. */
  readonly inwards: boolean;
  /** False for flat work without a seam: its two ends are edges. */
  readonly closed: boolean;
  /** Columns of the rim, right to left, and how many of them at its beginning the seam takes up. */
  readonly rim: readonly number[];
  readonly seamBegin: number;
  /**
   * Columns of each side, right to left: neighbours on the rim, the seam's left out. Half sides where a round
   * begins inside one.
   */
  readonly sides: readonly (readonly number[])[];
  /** Stitches that each side loses in the shaping round nearest to the rim. */
  readonly lostAtRim: readonly number[];
  /** Shaping rounds, from the rim inwards. */
  readonly steps: readonly Step[];
}

/** `seam`: stitches at the beginning and end of a row that are sewn up; null in the round and for open pieces. */
export function findSides(
  shaping: Shaping,
  closed: boolean,
  seam: Seam | null,
): SideStructure | null {
  const { events } = shaping;
  const change = events.reduce((sum, event) => sum + event.change, 0);
  if (events.length < 2 || change === 0) return null;
  const inwards = change < 0;
  const steps = stepsOf(shaping, inwards);
  if (!steps) return null;
  const rim = steps[0].outer;
  const sewn = new Set(rim.filter((_, i) => isSewn(i, rim.length, seam)));
  const bites = bitesOf(steps, rim, sewn);
  const sides = sidesBetween(rim, bites && asLines(bites, steps, rim))?.map((side) =>
    side.filter((column) => !sewn.has(column)),
  );
  if (!sides || sides.length === 0) return null;
  const lostAtRim = sides.map((side) => countIn(side, steps[0].lost));
  if (lostAtRim.some((lost) => lost === 0)) return null;
  return { inwards, closed, rim, seamBegin: seam?.begin ?? 0, sides, lostAtRim, steps };
}

/** Whether the seam takes up the stitch at this place of a rim of so many. */
export function isSewn(at: number, length: number, seam: Seam | null): boolean {
  return seam !== null && (at < seam.begin || at >= length - seam.end);
}

export function countIn(columns: readonly number[], set: ReadonlySet<number>): number {
  return columns.filter((column) => set.has(column)).length;
}

/** Null where a shaping round both loses and gains. */
function stepsOf({ start, events }: Shaping, inwards: boolean): Step[] | null {
  const lives: (readonly number[])[] = [start];
  for (const { items } of events) lives.push(items.flatMap(itemColumns));
  const steps = events.map((event, e): Step => {
    const [outer, inner] = inwards ? [lives[e], lives[e + 1]] : [lives[e + 1], lives[e]];
    const left = new Set(inner);
    return { event, outer, inner, lost: new Set(outer.filter((column) => !left.has(column))) };
  });
  if (steps.some(({ outer, inner, lost }) => outer.length - lost.size !== inner.length))
    return null;
  return inwards ? steps : steps.reverse();
}

/** Columns that a stitch leaves. */
export function itemColumns(item: WorkedItem): readonly number[] {
  return item.role === 'column' ? [item.column] : item.role === 'block' ? item.columns : item.after;
}

/** Columns taken together at the rim, and which way the next ones lie: +1 to the left, −1 to the right. */
interface Bite {
  readonly from: number;
  readonly to: number;
  readonly way: 1 | -1;
}

/** Null where it cannot be told which way a place of shaping moves. `sewn`: columns that the seam takes up. */
function bitesOf(
  [first, second]: readonly Step[],
  rim: readonly number[],
  sewn: ReadonlySet<number>,
): Bite[] | null {
  const at = new Map(rim.map((column, i) => [column, i] as const));
  const bites: Bite[] = [];
  const n = rim.length;
  /** Whether shaping goes on beyond a place: at the next column, or behind others that go in the same round. */
  const goesOn = (from: number, step: 1 | -1): 'on' | 'behind' | null => {
    let between = false;
    for (let k = 0, i = (from + n) % n; k < n; k++, i = (i + n + step) % n) {
      if (first.lost.has(rim[i])) between = true;
      else if (!sewn.has(rim[i]))
        return second.lost.has(rim[i]) ? (between ? 'behind' : 'on') : null;
    }
    return null;
  };
  for (const item of first.event.items) {
    if (item.role !== 'shape') continue;
    const lost = [...item.before, ...item.after]
      .filter((column) => first.lost.has(column))
      .map((column) => at.get(column) as number);
    for (let i = 0; i < lost.length; ) {
      let end = i + 1;
      while (end < lost.length && lost[end] === lost[end - 1] + 1) end++;
      const [from, to] = [lost[i], lost[end - 1] + 1];
      const [right, left] = [goesOn(from - 1, -1), goesOn(to, 1)];
      if (right === left) return null;
      const isLeft = right === null || left === 'on';
      bites.push({ from, to, way: isLeft ? 1 : -1 });
      i = end;
    }
  }
  return joined(bites.sort((a, b) => a.from - b.from));
}

/** Neighbours that go the same way are one. */
function joined(bites: readonly Bite[]): Bite[] {
  const all: Bite[] = [];
  for (const bite of bites) {
    const last = all.at(-1);
    if (last?.to === bite.from && last.way === bite.way)
      all[all.length - 1] = { ...last, to: bite.to };
    else all.push(bite);
  }
  return all;
}

/**
 * Two places of shaping a stitch or so apart (`m1l, k1, m1l`) soon run into one another: where all such stretches then go
 * on, by turns to the left and to the right, each is the one line at the end of a side. Otherwise the places as they are.
 */
function asLines(
  bites: readonly Bite[],
  steps: readonly Step[],
  rim: readonly number[],
): readonly Bite[] {
  const goneAt = new Map(steps.flatMap(({ lost }, s) => [...lost].map((column) => [column, s])));
  const n = rim.length;
  const gone = (place: number) => goneAt.get(rim[(place + n) % n]) ?? Number.POSITIVE_INFINITY;
  const lines: Bite[] = [];
  for (let k = 0; k < bites.length; k += 2) {
    const [before, behind] = [bites[k], bites[k + 1]];
    if (before.way !== 1 || behind?.way !== -1) return bites;
    let last = 0;
    for (let at = before.from; at < behind.to; at++) last = Math.max(last, gone(at));
    const [right, left] = [gone(before.from - 1) === last + 1, gone(behind.to) === last + 1];
    if (right === left) return bites;
    lines.push({ from: before.from, to: behind.to, way: left ? 1 : -1 });
  }
  const turns = lines.every(({ way }, k) => way !== lines[(k + 1) % lines.length].way);
  return turns ? asLines(lines, steps, rim) : bites;
}

function sidesBetween(rim: readonly number[], bites: readonly Bite[] | null): number[][] | null {
  if (!bites) return null;
  const sides: number[][] = [];
  const take = (before: Bite | undefined, behind: Bite | undefined) => {
    const from = before ? (before.way > 0 ? before.from : before.to) : 0;
    const to = behind ? (behind.way < 0 ? behind.to : behind.from) : rim.length;
    if (before?.way === 1 || behind?.way === -1) sides.push(rim.slice(from, to));
  };
  for (const [k, bite] of bites.entries()) take(bites[k - 1], bite);
  take(bites[bites.length - 1], undefined);
  return sides;
}

/**
 * Place of every column on its side, 0 at the right end. Where a round begins inside a side its first
 * stitches follow the last ones, on a side that is `rim` in all.
 */
export function placesOn(
  structure: SideStructure,
  sides: readonly (readonly number[])[],
): Map<number, number> {
  const before = beginsInside(structure) ? sides[sides.length - 1].length : 0;
  return new Map(
    sides.flatMap((side, k) =>
      side.map((column, i) => [column, i + (k === 0 ? before : 0)] as const),
    ),
  );
}

/** Whether the round begins inside a side: its first stitches are the first half, its last ones the last. */
export function beginsInside({ rim, seamBegin, sides, steps, closed }: SideStructure): boolean {
  const first = rim[seamBegin];
  return closed && sides.length > 1 && first === sides[0][0] && !steps[0].lost.has(first);
}

/** Columns that each side loses in the `count` shaping rounds nearest to the rim; null where others do too. */
export function lostNear({ sides, steps }: SideStructure, count: number): number[] | null {
  const lost = new Set(steps.slice(0, count).flatMap((step) => [...step.lost]));
  const perSide = sides.map((side) => countIn(side, lost));
  return perSide.reduce((a, b) => a + b, 0) === lost.size ? perSide : null;
}

/** The largest shaping round that takes no more than so many stitches of each side, and as many of all `sides`; null for none. */
export function minorStep(
  { steps, sides: own }: SideStructure,
  most: number,
  sides: number,
): Step | null {
  let best: Step | null = null;
  const onSides = new Set(own.flat());
  for (const step of steps) {
    const { size } = step.lost;
    const fits = size > 0 && size % sides === 0 && size <= most * sides;
    if (!fits || size <= (best?.lost.size ?? 0)) continue;
    const perSide = own.map((side) => countIn(side, step.lost));
    const whole = perSide.filter((lost) => lost > 0);
    const even = own.length === sides ? whole.every((lost) => lost === size / sides) : true;
    if (
      [...step.lost].every((column) => onSides.has(column)) &&
      whole.length === own.length &&
      even
    )
      best = step;
  }
  return best;
}
