/**
 * One stitch more or fewer on every side of a plan, between rim and centre, where a round of shaping changes a
 * side by two: beside a stitch that is worked plainly all the way, as between paired decreases.
 *
 * Input: a Shaping worked in the round, or flat and seamed; inwards or outwards. Output: the changed Shaping, or
 * null where a side has no such stitch (paired decreases side by side, centred ones).
 */

import type { WorkedItem } from '../rework/column-model.ts';
import type { Shaping } from '../rework/shaping.ts';

/** `kept`: columns that are not to be doubled or left out, such as a corner's twisted stitch. */
export function changeSides(
  shaping: Shaping,
  sides: number,
  by: 1 | -1,
  kept: ReadonlySet<number> = new Set(),
): Shaping | null {
  const crossed = new Set(
    shaping.worked.rounds.flatMap((round) =>
      round.items.flatMap((item) => (item.role === 'block' ? item.columns : [])),
    ),
  );
  const plain = plainThroughout(shaping);
  const places = runsOf(shaping.start, plain)
    .map((run) => run.find((column) => !crossed.has(column) && !kept.has(column)))
    .filter((column) => column !== undefined);
  if (places.length !== sides) return null;
  return by > 0 ? withOneBehind(shaping, places) : without(shaping, new Set(places));
}

/** Columns that no shaping round takes or crosses, left when all is done. */
function plainThroughout({ start, events }: Shaping): Set<number> {
  const plain = new Set(start);
  for (const event of events)
    for (const item of event.items)
      if (item.role === 'block') for (const column of item.columns) plain.delete(column);
      else if (item.role === 'shape')
        for (const column of [...item.before, ...item.after]) plain.delete(column);
  return plain;
}

/** Stretches of such neighbours, round the circle: the last stitch is the first one's neighbour. */
function runsOf(start: readonly number[], plain: ReadonlySet<number>): number[][] {
  const gap = start.findIndex((column) => !plain.has(column));
  if (gap < 0) return [];
  const runs: number[][] = [];
  let run: number[] = [];
  for (let i = 1; i <= start.length; i++) {
    const column = start[(gap + i) % start.length];
    if (plain.has(column)) run.push(column);
    else if (run.length > 0) {
      runs.push(run);
      run = [];
    }
  }
  return runs;
}

/** Far smaller than the distance of columns that grading has put in; see `grade.ts`. */
const STEP = 1e-6;

function withOneBehind({ worked, start, events }: Shaping, places: readonly number[]): Shaping {
  const order = [...worked.order];
  const made = new Map<number, number>();
  for (const place of places) {
    made.set(place, order.length);
    order.push(order[place] + STEP);
  }
  const behind = (column: number) => {
    const fresh = made.get(column);
    return fresh === undefined ? [] : [fresh];
  };
  return {
    worked: { ...worked, columns: order.length, order },
    start: start.flatMap((column) => [column, ...behind(column)]),
    events: events.map((event) => ({
      ...event,
      items: event.items.flatMap((item): WorkedItem[] => {
        if (item.role !== 'column') return [item];
        const fresh = behind(item.column).map((column): WorkedItem => ({ ...item, column }));
        return [item, ...fresh];
      }),
    })),
  };
}

function without({ worked, start, events }: Shaping, gone: ReadonlySet<number>): Shaping {
  return {
    worked,
    start: start.filter((column) => !gone.has(column)),
    events: events.map((event) => ({
      ...event,
      items: event.items.filter((item) => item.role !== 'column' || !gone.has(item.column)),
    })),
  };
}
