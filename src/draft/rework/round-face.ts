/**
 * The face of a whole round, as garter has it by turns, and whether shaping goes by it: knit decreases in knit rounds,
 * purl ones in purl rounds, whatever panel they eat into.
 */
import type { WorkedColumns } from './column-model.ts';
import { asFace } from './facing.ts';

export type Face = 'k' | 'p';

export function faceOf(name: string | undefined): Face | null {
  return name === 'k' || name === 'p' ? name : null;
}

/** Share of a round's stitches that one face has where the round is told by it. Chosen: panels of another face lie in it. */
const MOST = 0.6;

/** Null where neither face has most of the round: rib, seed. */
export function faceOfRound(names: readonly string[]): Face | null {
  const knit = names.filter((name) => name === 'k').length;
  const purl = names.filter((name) => name === 'p').length;
  if (Math.max(knit, purl) < MOST * Math.max(1, names.length)) return null;
  return knit > purl ? 'k' : 'p';
}

/** Share of a plan's shaping that may go another way: a few decreases where a panel is eaten at the centre. Chosen. */
const FEW = 0.1;
/** Share of it that must stand in rounds of one face. Chosen: near the centre panels on the corners are most of a round. */
const TELLING = 0.5;

/** Whether nearly all shaping of a plan has the face of its round; false where most rounds show none. */
export function shapesByRound({ rounds }: WorkedColumns): boolean {
  let all = 0;
  let told = 0;
  let agree = 0;
  for (const { items } of rounds) {
    const shapes = items.flatMap((item) =>
      item.role === 'shape' && item.after.length > 0 ? [item.name] : [],
    );
    const names = items.flatMap((item) => (item.role === 'column' ? [item.name] : []));
    const face = faceOfRound(names);
    all += shapes.length;
    if (!face) continue;
    told += shapes.length;
    agree += shapes.filter((name) => asFace(name, face) === name).length;
  }
  return told > 0 && told >= TELLING * all && agree >= (1 - FEW) * told;
}
