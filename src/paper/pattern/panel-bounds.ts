/**
 * Where a panel in the middle of a side stands in each round, so that the pattern can mark it.
 *
 * Input: a Plan worked in the round and its number of equal sides. Output: per round the place of the
 * panel within a side, or null where there is no panel or it is being eaten.
 */
import { decomposeColumns, type WorkedItem } from '../../draft/rework/column-model.ts';
import type { Plan } from '../../plan/plan.ts';
import { consumes, makes, namesOf, smallRepeat } from './marked-sides.ts';

/** Where a panel stands in a block: stitches consumed before it and behind its end. */
export interface PanelPlace {
  readonly before: number;
  readonly end: number;
  /** Markers at both edges of the panel are there after this round. */
  readonly markers: 'place' | 'slip' | 'remove';
}

/** Panels narrower than the side by less than this need no markers. Chosen. */
const LEAST_GROUND = 2;

export function panelBounds(plan: Plan, sides: number): (PanelPlace | null)[] | null {
  if (sides < 2 || plan.rounds.length < 4) return null;
  const worked = decomposeColumns(plan);
  const perSide = worked.castOn / sides;
  // A border of a small repeat is no panel, wherever it changes.
  const rounds = worked.rounds.filter((_, i) => smallRepeat(namesOf(plan, plan.rounds[i])) === 0);
  const span = panelColumns(rounds, perSide);
  if (!span) return null;
  const { first, end } = span;
  if (first < LEAST_GROUND || perSide - end < LEAST_GROUND) return null;
  const places: (PanelPlace | null)[] = [];
  let live = Array.from({ length: perSide }, (_, i) => i);
  let marked = false;
  let removed = false;
  let lastShown = -1;
  for (const round of worked.rounds) {
    const inSide = itemsOfSide(round.items, live.length);
    const before = live.indexOf(first);
    const last = live.indexOf(end - 1);
    const touched = inSide.some(
      (item) =>
        item.role === 'shape' && item.before.some((column) => column >= first && column < end),
    );
    if (showsPanel(inSide, span)) lastShown = places.length;
    const whole = before >= 0 && last - before === end - 1 - first && !touched;
    if (whole && !removed) {
      places.push({ before, end: last + 1, markers: marked ? 'slip' : 'place' });
      marked = true;
    } else {
      places.push(null);
      // The markers come off in the last round that leaves the panel whole.
      const previous = places[places.length - 2];
      // Those that would be placed and come off at once are not placed.
      if (!removed && previous)
        places[places.length - 2] =
          previous.markers === 'slip' ? { ...previous, markers: 'remove' } : null;
      removed = true;
    }
    live = inSide.flatMap((item) =>
      item.role === 'column'
        ? [item.column]
        : item.role === 'block'
          ? [...item.columns]
          : [...item.after],
    );
  }
  takeOff(places, lastShown);
  takeOffWhereTheyShift(plan, sides, places);
  return places.some((place) => place !== null) ? places : null;
}

/** Markers come off in a round; those that would be placed in it are not. */
function takeOff(places: (PanelPlace | null)[], round: number): void {
  places.fill(null, round + 1);
  const place = places[round];
  if (place) places[round] = place.markers === 'place' ? null : { ...place, markers: 'remove' };
}

/** Whether the columns of the panel are worked otherwise than those beside it. */
function showsPanel(
  items: readonly WorkedItem[],
  { first, end }: { readonly first: number; readonly end: number },
): boolean {
  const [inside, beside] = [new Set<string>(), new Set<string>()];
  for (const item of items) {
    if (item.role === 'shape') continue;
    const columns = item.role === 'column' ? [item.column] : item.columns;
    const name = item.role === 'column' ? item.name : 'crossed';
    for (const column of columns) (column >= first && column < end ? inside : beside).add(name);
  }
  return inside.size > 1 || [...inside].some((name) => !beside.has(name) && beside.size > 0);
}

/** Markers come off before a round that leaves other stitches between them than the next one tells. */
function takeOffWhereTheyShift(plan: Plan, sides: number, places: (PanelPlace | null)[]): void {
  for (let i = 0; i + 1 < places.length; i++) {
    const [place, after] = [places[i], places[i + 1]];
    if (!place || !after) continue;
    const names = namesOf(plan, plan.rounds[i]);
    if (splitAtPanel(names.slice(0, names.length / sides), place, after)) continue;
    takeOff(places, i);
    return;
  }
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

function itemsOfSide(items: readonly WorkedItem[], stitches: number): WorkedItem[] {
  const inSide: WorkedItem[] = [];
  let worked = 0;
  for (const item of items) {
    if (worked >= stitches) break;
    inSide.push(item);
    worked +=
      item.role === 'column' ? 1 : item.role === 'block' ? item.columns.length : item.before.length;
  }
  return inSide;
}

/** Columns of the first side that are not worked as the ground: from the first to the last of them. */
function panelColumns(
  rounds: ReturnType<typeof decomposeColumns>['rounds'],
  perSide: number,
): { first: number; end: number } | null {
  let first = perSide;
  let end = 0;
  for (const round of rounds) {
    const columns: (string | undefined)[] = [];
    for (const item of round.items) {
      if (item.role === 'column' && item.column < perSide) columns[item.column] = item.name;
      if (item.role === 'block')
        for (const column of item.columns) if (column < perSide) columns[column] = 'crossed';
    }
    // Near the centre the panel is most of what is left: only wide rounds tell the ground.
    if (columns.filter((name) => name !== undefined).length < perSide / 2) continue;
    const ground = commonest(columns);
    columns.forEach((name, column) => {
      if (name === undefined || name === ground) return;
      first = Math.min(first, column);
      end = Math.max(end, column + 1);
    });
  }
  return end > first ? { first, end } : null;
}

function commonest(names: readonly (string | undefined)[]): string | undefined {
  const counts = new Map<string, number>();
  for (const name of names)
    if (name && name !== 'crossed') counts.set(name, (counts.get(name) ?? 0) + 1);
  let best: string | undefined;
  for (const [name, count] of counts) if (count > (counts.get(best ?? '') ?? 0)) best = name;
  return best;
}
