/**
 * What a plan itself shows of its panels, so that a grading keeps it.
 *
 * In: the columns of a plan and its panels. Out: the panels seen whole in some round, whether the ground is known,
 * which columns end as the ground, and where a panel's column is worked as an orphan.
 */
import type { FabricName } from '../../plan/plan.ts';
import type { WorkedColumns } from './column-model.ts';
import { orphanColumns, type SideFabric, standsOut } from './panel-columns.ts';
import type { Strays } from './pattern-period.ts';
import type { Shaping } from './shaping.ts';
import { itemColumns } from './side-structure.ts';

/** Rounds before the last that tell what a column ends as. Chosen: garter tells in every other one. */
const LAST_ROUNDS = 3;

/** Whether the last rounds of a piece work a column as its ground; what is worked so as an orphan tells nothing. */
export function endsAsGround(
  { rounds }: WorkedColumns,
  ground: (round: number) => readonly [string, string],
  strays: Strays,
): (column: number) => boolean {
  const ends = new Map<number, boolean>();
  for (let i = rounds.length - 1; i >= Math.max(0, rounds.length - LAST_ROUNDS); i--) {
    const [name, next] = ground(i + 1);
    if (name !== next) return () => false;
    for (const item of rounds[i].items)
      if (item.role === 'column' && !strays(item.column, i + 1))
        ends.set(item.column, item.name === name && ends.get(item.column) !== false);
      else if (item.role === 'block') for (const column of item.columns) ends.set(column, false);
  }
  return (column) => ends.get(column) ?? false;
}

/** Panels, and parts of them, that are seen whole, without shaping, in some round. */
export function shownPanels(
  { rounds }: WorkedColumns,
  { panels, groundStitch }: SideFabric,
): (readonly number[])[] {
  const plain = rounds.map(({ items }) => {
    const names = new Map<number, string>();
    for (const item of items)
      if (item.role !== 'shape')
        for (const column of itemColumns(item))
          names.set(column, item.role === 'column' ? item.name : 'crossed');
    return names;
  });
  const seen = (columns: readonly number[], i: number) => {
    const names = columns.map((column) => plain[i].get(column));
    return (
      names.every((name) => name !== undefined) &&
      standsOut(names, [groundStitch(0, i + 1), groundStitch(1, i + 1)])
    );
  };
  return panels
    .flatMap(({ columns, parts }) => [columns, ...parts])
    .filter((columns) => plain.some((_, i) => seen(columns, i)));
}

/** Where most of the rim is not ground, and no gauge names it or all is lace, it was not understood. */
export function knowsGround(
  { rounds }: WorkedColumns,
  { panels }: SideFabric,
  rim: number,
  named: FabricName | null,
): boolean {
  const notGround = panels.flatMap((panel) => panel.columns);
  if (2 * notGround.length < rim) return true;
  const lace = new Set<number>();
  for (const { items } of rounds)
    for (const item of items)
      if (item.role === 'block' && !item.crossing) for (const c of item.columns) lace.add(c);
  return named !== null && 2 * notGround.filter((column) => lace.has(column)).length < rim;
}

/** Orphans among the columns live before each round of the plan. */
export function straysOf({ start, worked }: Shaping, { panels }: SideFabric): Strays {
  const byRound: ReadonlySet<number>[] = [new Set()];
  let live = start;
  for (const round of worked.rounds) {
    byRound.push(orphanColumns(panels, live));
    live = round.items.flatMap(itemColumns);
  }
  return (column, round) => byRound[round]?.has(column) ?? false;
}
