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
import { placesOn, type SideStructure } from './side-structure.ts';

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
  const phase = new Map(
    sides.flatMap((side, k) => side.map((column) => [column, fabric.phases[k]] as const)),
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
