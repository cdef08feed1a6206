/**
 * Work that is shaped about a middle stitch, as a mitre is or each side of a square with centred decreases: that stitch
 * is marked, and rounds are told by it. In: a Plan, or the stitches of a side. Out: which stitch of every row or side
 * works the middle one, null where there is none to mark.
 */
import { hasShortRows, type Plan } from '../../plan/plan.ts';
import { stitchKind } from '../../plan/stitches/table.ts';
import { consumes, makes, namesOf } from './marked-sides.ts';

/** Shaped rows about a middle from which on it is marked. Chosen: fewer are told by their numbers as shortly. */
const LEAST_ROWS = 3;

/** Of a piece left open: for each row the index of the stitch that works the middle one, which leaves that of the next. */
export function middleStitches(plan: Plan): readonly number[] | null {
  if (plan.worked !== 'flat' || plan.seam !== null || hasShortRows(plan)) return null;
  return middlesOf(plan.rounds.map((round) => namesOf(plan, round)));
}

/** The same of one side through all rounds. */
export function middlesOf(rows: readonly (readonly string[])[]): readonly number[] | null {
  const middles: number[] = [];
  let shaped = 0;
  for (const names of rows) {
    const middle = middleOf(names);
    if (middle === null) return null;
    middles.push(middle);
    if (shapesAt(names, middle)) shaped++;
  }
  return shaped >= LEAST_ROWS ? middles : null;
}

function middleOf(names: readonly string[]): number | null {
  if (names.some((name) => !stitchKind(name))) return null;
  const sum = (count: (name: string) => number) =>
    names.reduce((total, name) => total + count(name), 0);
  const [before, after] = [sum(consumes), sum(makes)];
  if (before % 2 === 0 || after % 2 === 0) return null;
  let worked = 0;
  let made = 0;
  for (const [i, name] of names.entries()) {
    const ends = worked + consumes(name);
    if (ends > worked && 2 * worked < before && 2 * ends > before) {
      const even = worked === before - ends && made === after - made - makes(name);
      return even ? i : null;
    }
    worked = ends;
    made += makes(name);
  }
  return null;
}

/** Whether the middle stitch, or one beside it, is shaped: there "k to end" from the edge would not tell where. */
export function shapesAt(names: readonly string[], middle: number): boolean {
  return [middle - 1, middle, middle + 1].some((i) => isShaping(names[i] ?? 'k'));
}

export function isShaping(name: string): boolean {
  const kind = stitchKind(name);
  return kind !== null && kind.consumes !== kind.loops.length;
}
