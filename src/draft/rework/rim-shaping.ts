/**
 * More or fewer shaping rounds at the rim of a piece whose shaping is not that of sides and corners: a disc,
 * a pinwheel, a piece shaped at its edges.
 *
 * In: the piece's columns and shaping rounds. Out: the shaping with rounds added or left out at the rim, with
 * the columns that belong to them.
 */
import type { WorkedColumns, WorkedItem } from './column-model.ts';
import type { Shaping, ShapingEvent } from './shaping.ts';

type ShapeItem = Extract<WorkedItem, { role: 'shape' }>;

/** `added`: shaping rounds more, or fewer where negative. */
export function addAtRim({ worked, events }: Shaping, added: number, inwards: boolean): Shaping {
  if (added <= 0) return leaveOut(worked, events, -added, inwards);
  return inwards ? growInwards(worked, events, added) : growOutwards(worked, events, added);
}

/** Leaves out shaping rounds at the rim with the columns that die (or are born) in them. */
function leaveOut(
  worked: WorkedColumns,
  events: readonly ShapingEvent[],
  count: number,
  inwards: boolean,
): Shaping {
  const start = Array.from({ length: worked.castOn }, (_, column) => column);
  if (!inwards) return { worked, start, events: events.slice(0, events.length - count) };
  const gone = new Set<number>();
  for (const event of events.slice(0, count))
    for (const item of event.items)
      if (item.role === 'shape')
        for (const column of item.before) if (!item.after.includes(column)) gone.add(column);
  return {
    worked,
    start: start.filter((column) => !gone.has(column)),
    events: events.slice(count),
  };
}

/** A stretch of columns from right to left, in the making. */
class Columns {
  readonly order: number[];
  private next: number;

  constructor(worked: WorkedColumns) {
    this.order = [...worked.order];
    this.next = worked.columns;
  }

  /** A new column whose place for the pattern is that of `like`, shifted a little. */
  beside(like: number, step: number): number {
    this.order.push(this.order[like] + step);
    return this.next++;
  }

  grown(worked: WorkedColumns): WorkedColumns {
    return { ...worked, columns: this.next, order: this.order };
  }
}

/** Shift of a new column's place: small against the distance of neighbours. */
const STEP = 1e-4;

/**
 * More decrease rounds before the first one. Every decrease of the first round gets, for each round
 * added, copies of the columns that it takes, on the side away from the column that stays (between,
 * if a centred one takes both sides).
 */
function growInwards(
  worked: WorkedColumns,
  events: readonly ShapingEvent[],
  count: number,
): Shaping {
  const columns = new Columns(worked);
  const first = events[0];
  const start: number[] = [];
  const copies = new Map<ShapeItem, { right: number[][]; left: number[][] }>();
  for (const item of first.items) {
    if (item.role !== 'shape') {
      start.push(...(item.role === 'column' ? [item.column] : item.columns));
      continue;
    }
    const stays = item.before.indexOf(item.after[0]);
    if (item.after.length !== 1 || stays < 0)
      throw new RangeError(
        `"${item.name}" at the rim cannot be graded: rewrite that round plainly.`,
      );
    const right = item.before.slice(0, stays);
    const left = item.before.slice(stays + 1);
    const made = { right: [] as number[][], left: [] as number[][] };
    for (let j = 0; j < count; j++) {
      made.right.push(right.map((column) => columns.beside(column, -STEP * (count - j))));
      made.left.push(left.map((column) => columns.beside(column, STEP * (count - j))));
    }
    copies.set(item, made);
    // Copies in the order in which they are taken, outermost first; a centred one takes inwards out.
    const centred = right.length > 0 && left.length > 0;
    if (centred)
      start.push(
        ...right,
        ...made.right.toReversed().flat(),
        item.after[0],
        ...made.left.flat(),
        ...left,
      );
    else start.push(...made.right.flat(), ...item.before, ...made.left.toReversed().flat());
  }
  const added: ShapingEvent[] = [];
  for (let j = 0; j < count; j++) {
    const items = first.items.flatMap((item): WorkedItem[] => {
      if (item.role !== 'shape') return [item];
      const made = copies.get(item);
      if (!made) return [item];
      return addedItems(item, made, j);
    });
    added.push({ items, change: first.change });
  }
  return { worked: columns.grown(worked), start, events: [...added, ...events] };
}

/** What the j-th added round works where the first round has `item`: copies 0 … j − 1 are gone. */
function addedItems(
  item: ShapeItem,
  made: { right: number[][]; left: number[][] },
  j: number,
): WorkedItem[] {
  const plain = (list: readonly number[], name = 'k'): WorkedItem[] =>
    list.map((column) => ({ role: 'column', name, column }));
  const stays = item.before.indexOf(item.after[0]);
  const right = item.before.slice(0, stays);
  const left = item.before.slice(stays + 1);
  const shape = (before: number[], after: number): WorkedItem => ({
    role: 'shape',
    name: item.name,
    before,
    after: [after],
  });
  if (right.length > 0 && left.length > 0)
    return [
      ...plain(right),
      ...plain(
        made.right
          .slice(j + 1)
          .toReversed()
          .flat(),
      ),
      shape([...made.right[j], item.after[0], ...made.left[j]], item.after[0]),
      ...plain(made.left.slice(j + 1).flat()),
      ...plain(left),
    ];
  if (right.length > 0) {
    // Taken from the right: the next copy (or the first column itself) stays on top.
    const rest = [...made.right.slice(j + 1).flat(), ...item.before];
    return [shape([...made.right[j], rest[0]], rest[0]), ...plain(rest.slice(1))];
  }
  const rest = [
    ...item.before,
    ...made.left
      .slice(j + 1)
      .toReversed()
      .flat(),
  ];
  const stay = rest[rest.length - 1];
  return [...plain(rest.slice(0, -1)), shape([stay, ...made.left[j]], stay)];
}

/** More increase rounds after the last one: each works the columns that the one before made. */
function growOutwards(
  worked: WorkedColumns,
  events: readonly ShapingEvent[],
  count: number,
): Shaping {
  const columns = new Columns(worked);
  const start = Array.from({ length: worked.castOn }, (_, column) => column);
  const added: ShapingEvent[] = [];
  let last = events[events.length - 1];
  for (let j = 0; j < count; j++) {
    const corners = cornersOf(last.items);
    const items = last.items.flatMap((item, i): WorkedItem[] =>
      item.role === 'shape' ? growItem(item, corners[i], columns) : [item],
    );
    last = { items, change: last.change };
    added.push(last);
  }
  return { worked: columns.grown(worked), start, events: [...events, ...added] };
}

/** The next increase after `item`, with the columns that it leaves beside itself. */
function growItem(item: ShapeItem, corner: 1 | -1, columns: Columns): WorkedItem[] {
  const born = item.after.filter((column) => !item.before.includes(column));
  if (born.length !== 1 || item.before.length > 1)
    throw new RangeError(`"${item.name}" at the rim cannot be graded: rewrite that round plainly.`);
  const fresh = columns.beside(born[0], -STEP * corner);
  const column = (c: number): WorkedItem => ({ role: 'column', name: 'k', column: c });
  // Worked into the column that was born last, or beside it, on the corner's side.
  const shape: WorkedItem =
    item.before.length === 0
      ? { ...item, after: [fresh] }
      : { ...item, before: [born[0]], after: corner > 0 ? [fresh, born[0]] : [born[0], fresh] };
  const stay = item.before.length === 0 ? born[0] : item.before[0];
  return corner > 0 ? [shape, column(stay)] : [column(stay), shape];
}

/** For each item, whether the nearest other shaping lies to the right (+1) or to the left (−1). */
function cornersOf(items: readonly WorkedItem[]): (1 | -1)[] {
  const width = items.map((item) =>
    item.role === 'column' ? 1 : item.role === 'block' ? item.columns.length : 0,
  );
  const shapes = items.flatMap((item, i) => (item.role === 'shape' ? [i] : []));
  const gap = (from: number, to: number): number => {
    let sum = 0;
    for (let i = (from + 1) % items.length; i !== to; i = (i + 1) % items.length) sum += width[i];
    return sum;
  };
  const corners: (1 | -1)[] = items.map(() => 1);
  shapes.forEach((at, k) => {
    const before = shapes[(k + shapes.length - 1) % shapes.length];
    const behind = shapes[(k + 1) % shapes.length];
    corners[at] = gap(before, at) <= gap(at, behind) ? 1 : -1;
  });
  return corners;
}
