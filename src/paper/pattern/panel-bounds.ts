/**
 * Where a panel within a side stands in each round, so that the pattern can mark it.
 *
 * Input: a Plan and its number of equal sides. Output: per round the place of the panel within a side, as the right side
 * shows it from right to left, or null where there is no panel to mark or it is being eaten.
 */
import { decomposeColumns, type WorkedItem } from '../../draft/rework/column-model.ts';
import { hasShortRows, type Plan } from '../../plan/plan.ts';
import { consumes, insideSeam, makes, smallRepeat } from './marked-sides.ts';

/** Where a panel stands in a side: stitches consumed before it and behind its end. */
export interface PanelPlace {
  readonly before: number;
  readonly end: number;
}

/** Panels narrower than the side by less than this need no markers. Chosen. */
const LEAST_GROUND = 2;
/** Shaped rounds that markers pass at least: fewer are told by their figures as shortly. Chosen. */
const LEAST_SHAPED = 3;

/** A repeat is one where it comes so many times along a side. Chosen. */
const LEAST_TIMES = 2;

interface Span {
  readonly first: number;
  readonly end: number;
}

interface SideRound {
  /** Of the first side from the right; null where a stitch lies across its edge. */
  readonly items: readonly WorkedItem[] | null;
  readonly shaped: boolean;
  /** A small repeat is no panel, wherever it changes. */
  readonly running: boolean;
}

export function panelBounds(plan: Plan, sides: number): readonly (PanelPlace | null)[] | null {
  if (sides < 2 || plan.rounds.length < 4 || hasShortRows(plan)) return null;
  const { begin, end } = plan.seam ?? { begin: 0, end: 0 };
  const perSide = (plan.castOn - begin - end) / sides;
  const rounds = decomposeColumns(plan).rounds.map(({ items, change }, i): SideRound => {
    const names = insideSeam(plan, plan.rounds[i]);
    const side = itemsOfNames(items, begin, names.length / sides);
    return {
      items: side,
      shaped: change !== 0,
      running: smallRepeat(names) > 0 || runsBetweenShaping(side ?? []),
    };
  });
  const columns = Array.from({ length: perSide }, (_, i) => begin + i);
  for (const span of spansFromRim(rounds, columns)) {
    const { first } = span;
    if (first - begin < LEAST_GROUND || begin + perSide - span.end < LEAST_GROUND) continue;
    const places = placesOf(rounds, columns, span);
    stopWhereTheyShift(plan, sides, places);
    const shaped = places.filter((place, i) => place !== null && rounds[i].shaped).length;
    if (shaped >= LEAST_SHAPED) return places;
  }
  return null;
}

/** Whether a side is one small repeat from the shaping at one end to that at the other, as in a border shaped at its corners. */
function runsBetweenShaping(items: readonly WorkedItem[]): boolean {
  const first = items.findIndex(({ role }) => role === 'shape');
  const last = items.findLastIndex(({ role }) => role === 'shape');
  const inside = items.slice(first + 1, last);
  const names = inside.map((item) => (item.role === 'column' ? item.name : ''));
  return [2, 4].some(
    (period) =>
      names.length >= LEAST_TIMES * period &&
      names.every((name, i) => name !== '' && name === (names[i + period] ?? name)),
  );
}

/**
 * Columns that are worked otherwise than the ground from a round on, for one round after another: a border of some
 * rounds at the rim may lie over a panel that goes on, or be all there is.
 */
function spansFromRim(rounds: readonly SideRound[], columns: readonly number[]): Span[] {
  const spans: Span[] = [];
  let span: Span | null = null;
  const told = rounds.flatMap(({ items, running }) =>
    running || items === null ? [] : (workedColumns(items, columns) ?? []),
  );
  const seed = told.some(isSeed);
  for (const round of told.toReversed()) {
    const own = unlikeGround(round, seed);
    if (own === null) continue;
    const wider: Span = span
      ? { first: Math.min(span.first, own.first), end: Math.max(span.end, own.end) }
      : own;
    if (wider.first !== span?.first || wider.end !== span?.end) spans.push(wider);
    span = wider;
  }
  return spans.reverse();
}

interface WorkedColumns {
  readonly columns: readonly number[];
  /** What each is worked as. */
  readonly names: readonly string[];
}

/** The columns of a side that a round still has; null near the centre. */
function workedColumns(
  items: readonly WorkedItem[],
  columns: readonly number[],
): WorkedColumns | null {
  const names = new Map<number, string>();
  for (const item of items) {
    if (item.role === 'column') names.set(item.column, item.name);
    if (item.role === 'block') for (const column of item.columns) names.set(column, 'crossed');
  }
  const cast = columns.filter((column) => names.has(column));
  // Near the centre the panel is most of what is left: only wide rounds tell the ground.
  if (cast.length < columns.length / 2) return null;
  return { columns: cast, names: cast.map((column) => names.get(column) ?? '') };
}

/** Columns of a side that are not worked as its ground, in seed stitch or as most of them: from the first to the last. */
function unlikeGround({ columns, names }: WorkedColumns, seed: boolean): Span | null {
  const ground = commonest(names);
  const first = seed ? seedAtEdge(names) : names.findIndex((name) => name !== ground);
  const behind = seed
    ? seedAtEdge(names.toReversed())
    : names.toReversed().findIndex((name) => name !== ground);
  if (first < 0 || first + behind >= names.length) return null;
  return { first: columns[first], end: columns[names.length - 1 - behind] + 1 };
}

/** So many stitches from the edge are in seed stitch, beside which the stitch of a corner may go its own way. */
function seedAtEdge(names: readonly string[]): number {
  const from = names[0] === names[1] ? 1 : 0;
  let i = from;
  while (i + 1 < names.length && isPlain(names[i + 1]) && names[i + 1] !== names[i]) i++;
  return i + 1 - from < SEED_BESIDE ? 0 : i + 1;
}

/** A purl edge and the first stitch beside it are no ground; so many by turns are. Chosen. */
const SEED_BESIDE = 3;

const isPlain = (name: string) => name === 'k' || name === 'p';

/** Shortest run of knit and purl by turns that is taken for seed, or moss, stitch. Chosen. */
const LEAST_SEED = 4;

function isSeed({ names }: WorkedColumns): boolean {
  return 2 * alternating(names).filter(Boolean).length > names.length;
}

/** Which stitches lie in a run of knit and purl by turns: of a ground in seed stitch each differs from the next. */
function alternating(names: readonly string[]): boolean[] {
  const within = names.map(() => false);
  for (let from = 0; from < names.length; ) {
    let end = from + 1;
    while (isPlain(names[from]) && isPlain(names[end]) && names[end] !== names[end - 1]) end++;
    if (end - from >= LEAST_SEED) within.fill(true, from, end);
    from = end;
  }
  return within;
}

/** From the first round to the last that shows the panel, as long as nothing takes a stitch of it. */
function placesOf(
  rounds: readonly SideRound[],
  columns: readonly number[],
  { first, end }: Span,
): (PanelPlace | null)[] {
  const places: (PanelPlace | null)[] = rounds.map(() => null);
  let live: readonly number[] = columns;
  let lastShown = -1;
  for (const [i, { items }] of rounds.entries()) {
    if (items === null) break;
    const before = live.indexOf(first);
    const whole = before >= 0 && live.indexOf(end - 1) - before === end - 1 - first;
    if (!whole || items.some((item) => item.role === 'shape' && takesOf(item.before, first, end)))
      break;
    places[i] = { before, end: before + end - first };
    if (showsPanel(items, first, end)) lastShown = i;
    live = items.flatMap((item) =>
      item.role === 'column'
        ? [item.column]
        : item.role === 'block'
          ? [...item.columns]
          : [...item.after],
    );
  }
  return places.fill(null, lastShown + 1);
}

function takesOf(columns: readonly number[], first: number, end: number): boolean {
  return columns.some((column) => column >= first && column < end);
}

/** Whether the columns of the panel are worked otherwise than those beside it. */
function showsPanel(items: readonly WorkedItem[], first: number, end: number): boolean {
  const [inside, beside] = [new Set<string>(), new Set<string>()];
  for (const item of items) {
    if (item.role === 'shape') continue;
    const columns = item.role === 'column' ? [item.column] : item.columns;
    const name = item.role === 'column' ? item.name : 'crossed';
    for (const column of columns) (column >= first && column < end ? inside : beside).add(name);
  }
  return inside.size > 1 || [...inside].some((name) => !beside.has(name) && beside.size > 0);
}

/**
 * Markers come off in a round that leaves other stitches between them than the next one tells, and in the one before a
 * round that has a stitch or a crossing across them.
 */
function stopWhereTheyShift(plan: Plan, sides: number, places: (PanelPlace | null)[]): void {
  for (let i = 0; i < places.length; i++) {
    const place = placeInWork(plan, sides, places, i);
    if (!place) continue;
    const names = insideSeam(plan, plan.rounds[i]);
    const side = names.slice(0, names.length / sides);
    if (splitAtPanel(side, place.now, place.next)) continue;
    places.fill(null, i + (splitAtPanel(side, place.now, null) ? 1 : 0));
    return;
  }
}

/** The panel's place in a round and in the one after, in the order in which this round is worked. */
export function placeInWork(
  plan: Plan,
  sides: number,
  places: readonly (PanelPlace | null)[],
  i: number,
): { readonly now: PanelPlace; readonly next: PanelPlace | null } | null {
  const now = places[i];
  if (!now) return null;
  const { wrongSide, before, after } = plan.rounds[i];
  const { begin, end } = plan.seam ?? { begin: 0, end: 0 };
  const turned = (place: PanelPlace, count: number): PanelPlace => {
    const side = (count - begin - end) / sides;
    return wrongSide ? { before: side - place.end, end: side - place.before } : place;
  };
  const next = places[i + 1] ?? null;
  return { now: turned(now, before), next: next && turned(next, after) };
}

/**
 * Stitches of a side before its panel, of the panel and behind it. What is made between two stitches at an edge of the
 * panel goes to the side of the marker where the next round has it. Null where a stitch or a count lies across a marker.
 */
export function splitAtPanel(
  block: readonly string[],
  { before: from, end: to }: PanelPlace,
  after: PanelPlace | null,
): [string[], string[], string[]] | null {
  const parts: [string[], string[], string[]] = [[], [], []];
  const made = [0, 0, 0];
  const wanted = after && [after.before, after.end - after.before];
  let worked = 0;
  let part = 0;
  for (const name of block) {
    const end = worked + consumes(name);
    const edge = part < 2 && worked === [from, to][part];
    const stays = edge && end === worked && wanted !== null && made[part] < wanted[part];
    if (edge && !stays) part++;
    if (part < 2 && end > [from, to][part]) return null;
    parts[part].push(name);
    made[part] += makes(name);
    worked = end;
  }
  return wanted?.some((stitches, i) => made[i] !== stitches) ? null : parts;
}

/** What so many names of a round are, behind others; null where a group lies across either end. */
function itemsOfNames(
  items: readonly WorkedItem[],
  from: number,
  count: number,
): readonly WorkedItem[] | null {
  const ends = [0];
  for (const item of items)
    ends.push(ends[ends.length - 1] + (item.role === 'block' ? item.names.length : 1));
  const [first, end] = [ends.indexOf(from), ends.indexOf(from + count)];
  return first < 0 || end < 0 ? null : items.slice(first, end);
}

function commonest(names: readonly string[]): string | undefined {
  const counts = new Map<string, number>();
  for (const name of names)
    if (name && name !== 'crossed') counts.set(name, (counts.get(name) ?? 0) + 1);
  let best: string | undefined;
  for (const [name, count] of counts) if (count > (counts.get(best ?? '') ?? 0)) best = name;
  return best;
}
