/**
 * The shaping of sides at another rim: kept towards the centre, added or left out at the rim.
 *
 * In: the structure of a plan's sides, the columns of the new ones and the shaping rounds added. Out: the shaping of
 * the new rim. A side that has stitches more than its rounds take keeps them in its middle, to the centre.
 */
import type { WorkedItem } from './column-model.ts';
import type { Shaping, ShapingEvent } from './shaping.ts';
import { beginsInside, type SideStructure, type Step } from './side-structure.ts';

/**
 * `sides[k]` are the new columns of side k, at least as many as its rounds take; `minor` is worked once more at the rim,
 * where whole rounds like the one there would take too many. Throws a RangeError where a decrease
 * reaches over the middle of a side.
 */
export function reshape(
  structure: SideStructure,
  sides: readonly (readonly number[])[],
  added: number,
  minor: Step | null = null,
): Pick<Shaping, 'start' | 'events'> {
  const { steps, inwards } = structure;
  const rim = newRim(structure, sides);
  const events: ShapingEvent[] = [];
  const freshSide = sideOf(sides);
  let outer = rim;
  const apply = (step: Step) => {
    const places = placesIn(structure, step, outer, freshSide);
    const lost = new Set(
      step.outer.flatMap((column, i) => (step.lost.has(column) ? [outer[places[i]]] : [])),
    );
    const inner = outer.filter((column) => !lost.has(column));
    const items = mapItems(step, inwards, outer, places);
    if (!joins(items, inwards ? outer : inner, inwards ? inner : outer))
      throw new RangeError(OVER_MIDDLE);
    events.push({ items, change: step.event.change });
    outer = inner;
  };
  if (minor) apply(minor);
  for (let j = 0; j < added; j++) apply(steps[0]);
  for (const step of steps.slice(Math.max(0, -added))) apply(step);
  return inwards ? { start: rim, events } : { start: outer, events: events.reverse() };
}

/**
 * A shaping round of its own at the centre that takes (grown outwards: makes) one stitch of each of these sides, so that
 * no more stitches are drawn up or cast on there than the plan has; null where a side has none left. `rest`: columns
 * at the end of the round of a first side that begins inside.
 */
export function singlesAtCentre(
  { start, events }: Pick<Shaping, 'start' | 'events'>,
  sides: readonly (readonly number[])[],
  inwards: boolean,
  rest: readonly number[],
): Pick<Shaping, 'start' | 'events'> | null {
  const centre = inwards ? events[events.length - 1].items.flatMap(leftBy) : [...start];
  const taken = columnsAlike(sides, centre, rest);
  if (!taken) return null;
  const inner = centre.filter((column) => !taken.has(column));
  if (inner.length < sides.length) return null;
  const items: WorkedItem[] = [];
  for (let i = 0; i < centre.length; i++) {
    const column = centre[i];
    if (!taken.has(column)) items.push({ role: 'column', name: 'k', column });
    else if (!inwards) items.push({ role: 'shape', name: 'm1l', before: [], after: [column] });
    else {
      const next = centre[++i];
      if (next === undefined || taken.has(next)) return null;
      items.push({ role: 'shape', name: 'k2tog', before: [column, next], after: [next] });
    }
  }
  const change = inwards ? -sides.length : sides.length;
  const event = { items, change };
  return inwards
    ? { start, events: [...events, event] }
    : { start: inner, events: [event, ...events] };
}

/** A column of every side, at the same place of each where that can be worked; null where a side has none left. */
function columnsAlike(
  [first, ...others]: readonly (readonly number[])[],
  centre: readonly number[],
  rest: readonly number[],
): ReadonlySet<number> | null {
  const at = new Map(centre.map((column, i) => [column, i]));
  const live = [[...rest, ...first], ...others].map((side) =>
    side.filter((column) => at.has(column)),
  );
  const follows = (side: readonly number[], place: number) => {
    const next = (at.get(side[place]) as number) + 1;
    return place + 1 < side.length ? at.get(side[place + 1]) === next : next < centre.length;
  };
  const shortest = Math.min(...live.map((side) => side.length));
  if (shortest === 0) return null;
  for (let place = 0; place < shortest; place++)
    if (live.every((side) => follows(side, place))) return new Set(live.map((side) => side[place]));
  const starts = [first, ...others].map((side) => side.find((column) => at.has(column)));
  return starts.includes(undefined) ? null : new Set(starts as number[]);
}

const OVER_MIDDLE =
  'This plan cannot be graded to this size: its shaping reaches over the middle of a side.';

/** Whether a round works these columns and leaves those. */
function joins(
  items: readonly WorkedItem[],
  before: readonly number[],
  after: readonly number[],
): boolean {
  const same = (a: readonly number[], b: readonly number[]) =>
    a.length === b.length && a.every((column, i) => column === b[i]);
  return same(items.flatMap(workedBy), before) && same(items.flatMap(leftBy), after);
}

const workedBy = (item: WorkedItem): readonly number[] =>
  item.role === 'column' ? [item.column] : item.role === 'block' ? item.columns : item.before;

const leftBy = (item: WorkedItem): readonly number[] =>
  item.role === 'column' ? [item.column] : item.role === 'block' ? item.columns : item.after;

const sideOf = (sides: readonly (readonly number[])[]) =>
  new Map(sides.flatMap((side, k) => side.map((column) => [column, k] as const)));

function newRim({ rim, sides }: SideStructure, fresh: readonly (readonly number[])[]): number[] {
  const ownSide = sideOf(sides);
  const out: number[] = [];
  for (let i = 0; i < rim.length; i++) {
    const k = ownSide.get(rim[i]);
    if (k === undefined) out.push(rim[i]);
    else {
      out.push(...fresh[k]);
      i += sides[k].length - 1;
    }
  }
  return out;
}

/**
 * Where each column that a round of the plan finds stands among those that are there now: sides that are longer now have
 * the rest in their middle, halves of a side where the round begins.
 */
function placesIn(
  structure: SideStructure,
  { outer: own, event }: Step,
  now: readonly number[],
  freshSide: ReadonlyMap<number, number>,
): number[] {
  const ownSide = sideOf(structure.sides);
  const halves = beginsInside(structure);
  const last = structure.sides.length - 1;
  const shapes = spansOf(event, own, structure.inwards);
  const places: number[] = [];
  let at = 0;
  for (let i = 0; i < own.length; ) {
    const k = ownSide.get(own[i]);
    // Columns of a side of which the plan has none left.
    while (at < now.length && freshSide.has(now[at]) && freshSide.get(now[at]) !== k) at++;
    if (k === undefined) {
      places.push(at++);
      i++;
      continue;
    }
    let length = 0;
    while (i + length < own.length && ownSide.get(own[i + length]) === k) length++;
    let room = 0;
    while (at + room < now.length && freshSide.get(now[at + room]) === k) room++;
    const part = halves && k === 0 ? 'first half' : halves && k === last ? 'last half' : 'whole';
    const split = room === length ? length : splitOf(i, length, part, shapes);
    for (let j = 0; j < length; j++) places.push(at + j + (j >= split ? room - length : 0));
    at += room;
    i += length;
  }
  return places;
}

interface Span {
  readonly from: number;
  readonly to: number;
}

/** Places of a round's shaping among the columns that it finds (grown outwards: leaves). */
function spansOf({ items }: ShapingEvent, own: readonly number[], inwards: boolean): Span[] {
  const at = new Map(own.map((column, i) => [column, i] as const));
  return items.flatMap((item) => {
    if (item.role !== 'shape') return [];
    const wide = inwards ? item.before : item.after;
    const from = at.get(wide[0]) as number;
    return [{ from, to: from + wide.length }];
  });
}

/** Where a side, or a half of one, is parted: as near to its middle as no decrease stands. */
function splitOf(
  from: number,
  length: number,
  part: 'first half' | 'last half' | 'whole',
  shapes: readonly Span[],
): number {
  if (part === 'first half') return 0;
  if (part === 'last half') return length;
  const free = (split: number) =>
    !shapes.some((span) => span.from < from + split && from + split < span.to);
  const half = length >> 1;
  for (let off = 0; off <= length; off++)
    for (const split of [half - off, half + off])
      if (split > 0 && split < length && free(split)) return split;
  // All of it is taken together, as where stitches are gathered: beside that.
  for (const split of [length, 0]) if (free(split)) return split;
  throw new RangeError(OVER_MIDDLE);
}

/** The step's stitches on other columns, by their places among those before it and those it leaves. */
function mapItems(
  step: Step,
  inwards: boolean,
  outer: readonly number[],
  places: readonly number[],
): WorkedItem[] {
  const outerAt = new Map(step.outer.map((column, i) => [column, places[i]] as const));
  const renamed = new Map(step.outer.map((column, i) => [column, outer[places[i]]] as const));
  const all = (columns: readonly number[]) =>
    columns.map((column) => renamed.get(column) as number);
  const items: WorkedItem[] = [];
  const covered = new Uint8Array(outer.length);
  const plain = (column: number): WorkedItem => ({ role: 'column', name: 'k', column });
  const shapes = new Map<number, WorkedItem>();
  const spans = new Map<number, number>();
  for (const item of step.event.items) {
    if (item.role !== 'shape') continue;
    const wide = inwards ? item.before : item.after;
    const from = outerAt.get(wide[0]) as number;
    const to = (outerAt.get(wide[wide.length - 1]) as number) + 1;
    if (to - from !== wide.length)
      throw new RangeError(`"${item.name}" at the rim reaches over the middle of a side.`);
    for (let i = from; i < to; i++) covered[i] = 1;
    spans.set(from, to);
    shapes.set(from, {
      ...item,
      before: all(item.before),
      after: all(item.after),
    });
  }
  for (let i = 0; i < outer.length; ) {
    const shape = shapes.get(i);
    if (shape) {
      items.push(shape);
      i = spans.get(i) as number;
    } else items.push(plain(outer[i++]));
  }
  return items;
}
