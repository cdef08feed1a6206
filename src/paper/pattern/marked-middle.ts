/**
 * A piece left open that is shaped about its middle stitch, as a mitre is: that stitch is marked, and rows are told by it.
 * In: a Plan. Out: where the middle stitch of every row stands among its stitches, null where there is none to mark.
 */
import { hasShortRows, type Plan } from '../../plan/plan.ts';
import { stitchKind } from '../../plan/stitches/table.ts';

/** Shaped rows about a middle from which on it is marked. Chosen: fewer are told by their numbers as shortly. */
const LEAST_ROWS = 3;

/** For each row the index of the stitch that works the middle one, which leaves the middle one of the next row. */
export function middleStitches(plan: Plan): readonly number[] | null {
  if (plan.worked !== 'flat' || plan.seam !== null || hasShortRows(plan)) return null;
  const rows = plan.rounds.map((round) => Array.from(round.works, (id) => plan.kinds[id].name));
  const middles: number[] = [];
  let shaped = 0;
  for (const [i, names] of rows.entries()) {
    const middle = middleOf(names, plan.rounds[i].before, plan.rounds[i].after);
    if (middle === null) return null;
    middles.push(middle);
    if (shapesAt(names, middle)) shaped++;
  }
  return shaped >= LEAST_ROWS ? middles : null;
}

function middleOf(names: readonly string[], before: number, after: number): number | null {
  if (before % 2 === 0 || after % 2 === 0) return null;
  let worked = 0;
  let made = 0;
  for (const [i, name] of names.entries()) {
    const kind = stitchKind(name);
    if (!kind) return null;
    const ends = worked + kind.consumes;
    if (kind.consumes > 0 && 2 * worked < before && 2 * ends > before) {
      const even = worked === before - ends && made === after - made - kind.loops.length;
      return even ? i : null;
    }
    worked = ends;
    made += kind.loops.length;
  }
  return null;
}

/** Whether the middle stitch, or one beside it, is shaped: there "k to end" from the edge would not tell where. */
function shapesAt(names: readonly string[], middle: number): boolean {
  return [middle - 1, middle, middle + 1].some((i) => {
    const kind = stitchKind(names[i] ?? 'k');
    return kind !== null && kind.consumes !== kind.loops.length;
  });
}
