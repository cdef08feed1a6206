/**
 * What the columns of a piece are worked as at another rim.
 * In: the piece's structure and its shaping at the new rim. Out: the pattern source for `rebuild-plan.ts`: ground by its
 * place on the side, panels by their own columns, their orphans as ground; null where the pattern is the plan's own.
 */
import type { WorkedColumns } from './column-model.ts';
import { orphanColumns } from './panel-columns.ts';
import { patternAsSet } from './pattern-period.ts';
import { groundIn, type PieceStructure } from './piece-structure.ts';
import type { PatternSource } from './rebuild-plan.ts';
import type { ResizedShaping } from './resize-shaping.ts';
import type { Shaping } from './shaping.ts';
import { endsAsGround } from './shown-panels.ts';
import { beginsInside, itemColumns, placesOn, type SideStructure } from './side-structure.ts';

export function resizedPattern(
  piece: PieceStructure,
  { shaping, source }: ResizedShaping,
): PatternSource | null {
  return source ? patternOnSides(piece, shaping, source) : patternInPlace(piece, shaping);
}

/** Ground goes by its place on the side, panels by their own columns; their orphans are ground. */
function patternOnSides(
  piece: PieceStructure,
  shaping: Shaping,
  sides: readonly (readonly number[])[],
): PatternSource {
  const { fabric } = piece;
  const { worked } = piece.shaping;
  const own = worked.columns;
  const place = placesOn(piece.structure as SideStructure, sides);
  const asSet = patternAsSet(shaping.worked, piece.strays);
  const shift = shiftAtCentre(piece, shaping, sides);
  const phase = new Map(
    sides.flatMap((side, k) => side.map((column) => [column, fabric.phases[k] + shift] as const)),
  );
  const groundStitch = (column: number, round: number) =>
    fabric.groundStitch((place.get(column) ?? 0) + (phase.get(column) ?? 0), round);
  const last = worked.rounds.length;
  const ground = (round: number) => groundIn(fabric, round);
  const leftPanel = endsAsGround(worked, ground, piece.strays);
  return {
    inPlace: false,
    groundStitch,
    ground,
    orphans: (live) => orphanColumns(fabric.panels, live),
    stitch: (column, round) =>
      (place.has(column) && (column >= own || fabric.ground.has(column))) ||
      (!place.has(column) && round > last && leftPanel(column))
        ? groundStitch(column, round)
        : asSet.stitch(ownColumn(column, own, shaping.worked), round),
  };
}

/**
 * How far the ground is moved along the sides so that the centre, whose shaping is the plan's own, has the plan's own
 * ground: seed that went by the rim would begin with the other stitch at every other size.
 */
function shiftAtCentre(
  { shaping: own, structure, inwards }: PieceStructure,
  shaping: Pick<Shaping, 'start' | 'events'>,
  sides: readonly (readonly number[])[],
): number {
  const { sides: ownSides } = structure as SideStructure;
  const k = beginsInside(structure as SideStructure) ? 1 : 0;
  const first = (side: readonly number[], { start, events }: typeof shaping) => {
    const centre = new Set(inwards ? events[events.length - 1].items.flatMap(itemColumns) : start);
    return side.findIndex((column) => centre.has(column));
  };
  const [before, now] = [first(ownSides[k], own), first(sides[k], shaping)];
  return before < 0 || now < 0 ? 0 : before - now;
}

/** Columns as set; those that the rim gains are ground where that is alike in all its columns. */
function patternInPlace(piece: PieceStructure, shaping: Shaping): PatternSource | null {
  const { fabric, groundKnown } = piece;
  if (!groundKnown) return null;
  const own = piece.shaping.worked.columns;
  const asSet = patternAsSet(shaping.worked, piece.strays);
  const groundStitch = (column: number, round: number) => {
    const [first, next] = groundIn(fabric, round);
    return first === next ? first : asSet.stitch(ownColumn(column, own, shaping.worked), round);
  };
  return {
    inPlace: true,
    groundStitch,
    ground: (round) => groundIn(fabric, round),
    orphans: (live) => orphanColumns(fabric.panels, live),
    stitch: (column, round) =>
      column >= own ? groundStitch(column, round) : asSet.stitch(column, round),
  };
}

/** The plan's own column that a new one was copied from: it lies next to it. */
function ownColumn(column: number, own: number, { order }: WorkedColumns): number {
  if (column < own) return column;
  let nearest = 0;
  for (let other = 1; other < own; other++)
    if (Math.abs(order[other] - order[column]) < Math.abs(order[nearest] - order[column]))
      nearest = other;
  return nearest;
}
