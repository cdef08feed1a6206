/**
 * The shaping of a piece for another rim: rounds added or left out at the rim, sides with their panels whole.
 * In: the piece's structure, shaping rounds added and stitches more on each side. Out: the shaping, or null where the
 * panels or the shaping have no room. RangeError, in a knitter's words, where no such size can be made.
 */
import { changeSides } from '../motif/side-stitch.ts';
import { MAX_DRAWN_UP } from '../spec/draft-spec.ts';
import { mayBeRope } from './panel-columns.ts';
import { goneOrBorn, groundIn, type PieceStructure } from './piece-structure.ts';
import { reshape, singlesAtCentre } from './reshape-sides.ts';
import { resizeSides } from './resize-sides.ts';
import { shapesRope } from './rim-lines.ts';
import { addAtRim } from './rim-shaping.ts';
import { seamStitches } from './rim-stitches.ts';
import type { Shaping } from './shaping.ts';
import {
  beginsInside,
  countIn,
  isSewn,
  lostNear,
  minorStep,
  type SideStructure,
} from './side-structure.ts';

export interface ResizedShaping {
  readonly shaping: Shaping;
  /** New columns of the sides; null where the pattern is the plan's own. */
  readonly source: readonly (readonly number[])[] | null;
  /** Shaping rounds added (negative: left out). */
  readonly added: number;
  /** Stitches that its sides have more to the centre, and whether a round of its own takes them there. */
  readonly kept: number;
  readonly atCentre: boolean;
  readonly offMiddle: boolean;
}

export function resizeShaping(
  piece: PieceStructure,
  added: number,
  sideChange: number,
): ResizedShaping | null {
  if (added > MAX_ADDED)
    throw new RangeError(`This size takes ${added} more shaping rounds: draft a new plan instead.`);
  if (-added >= piece.shaping.events.length) return null;
  // All-over lace and the like: the whole side is one panel, and goes as its rim does.
  const hasGround = piece.fabric.ground.size > 0;
  return piece.structure !== null && hasGround
    ? resizedSides(piece, piece.structure, added, sideChange)
    : resizedRim(piece, added, sideChange);
}

/** Most shaping rounds that are added. Chosen: beyond it a fresh draft is the better way. */
const MAX_ADDED = 400;

/** Sides with their panels whole; null where there is no room for them, or for a stitch more on each. */
function resizedSides(
  piece: PieceStructure,
  structure: SideStructure,
  added: number,
  sideChange: number,
): ResizedShaping | null {
  const { fabric, sides, inwards } = piece;
  const { worked } = piece.shaping;
  if ((added !== 0 || sideChange > 0) && fabric.unclear) throw new RangeError(NO_EDGE);
  const lost =
    added >= 0
      ? structure.lostAtRim.map((lost) => added * lost)
      : lostNear(structure, -added)?.map((lost) => -lost);
  if (!lost) return null;
  const halves = beginsInside(structure);
  if (sideChange > 0 && structure.sides.length !== sides + (halves ? 1 : 0)) return null;
  const minor = minorStep(structure, sideChange, sides);
  const byMinor = structure.sides.map((side) => (minor ? countIn(side, minor.lost) : 0));
  const more = minor ? sideChange - minor.lost.size / sides : sideChange;
  const growth = lost.map((change, k) => change + byMinor[k] + (halves && k === sides ? 0 : more));
  const resized = resizeSides(worked, structure.sides, fabric, growth, halves);
  if (!resized) return null;
  const atCentre = more > 0 && !centreTakes(piece, more);
  if (atCentre && more > 1) return null;
  const work = () => reshape(structure, resized.sides, added, minor);
  const reshaped = sideChange === 0 ? work() : orNull(work);
  const shaping =
    reshaped && atCentre
      ? singlesAtCentre(
          reshaped,
          resized.sides.slice(0, sides),
          inwards,
          halves ? resized.sides[sides] : [],
        )
      : reshaped;
  if (!shaping) return null;
  return {
    shaping: { worked: resized.worked, ...shaping },
    source: resized.sides,
    added: added + (minor ? 1 : 0),
    kept: more,
    atCentre,
    offMiddle: resized.offMiddle,
  };
}

/** What cannot be worked with a stitch more a side is worked without. */
function orNull<T>(work: () => T): T | null {
  try {
    return work();
  } catch (error) {
    if (error instanceof RangeError) return null;
    throw error;
  }
}

/** Whether so many stitches more a side, cast on at a closed centre or drawn up there, leave no hole. */
function centreTakes({ plan, inwards, sides }: PieceStructure, more: number): boolean {
  const last = plan.rounds[plan.rounds.length - 1].after;
  const centre = (inwards ? last : plan.castOn) - seamStitches(plan);
  const closes = !inwards || plan.ending === 'drawn-up';
  return !closes || centre + more * sides <= MAX_DRAWN_UP;
}

/** Shaping rounds added or left out at the rim; null where that would take a panel's stitches. */
function resizedRim(
  piece: PieceStructure,
  added: number,
  sideChange: number,
): ResizedShaping | null {
  const { shaping, inwards, groundKnown, cornered } = piece;
  if (added < 0 && groundKnown) {
    const left = inwards ? shaping.events.slice(0, -added) : shaping.events.slice(added);
    if (touchesPanels(piece, left.flatMap(goneOrBorn))) return null;
  }
  if (added > 0 && eatsPanels(piece)) throw new RangeError(NO_GROUND);
  if (added > 0 && cornered && groundAlternates(piece)) throw new RangeError(NO_SIDES);
  const reshaped = addAtRim(shaping, added, inwards);
  if (sideChange > 1) return null;
  const found = sideChange === 0 ? reshaped : withOneMore(piece, reshaped);
  return (
    found && {
      shaping: found,
      source: null,
      added,
      kept: sideChange,
      atCentre: false,
      offMiddle: false,
    }
  );
}

/** Null where a stitch more beside every corner cannot be worked to the centre. */
function withOneMore(piece: PieceStructure, shaping: Shaping): Shaping | null {
  const { plan, cornered, sides, panelColumns } = piece;
  const closed = plan.worked === 'round' || plan.seam !== null;
  const may = closed && cornered && centreTakes(piece, 1);
  return may ? changeSides(shaping, sides, 1, panelColumns) : null;
}

/** Whether the shaping at the rim runs through a panel, so that more of it would widen the panel. */
export function eatsPanels(piece: PieceStructure): boolean {
  const { shaping, inwards, groundKnown } = piece;
  const atRim = shaping.events[inwards ? 0 : shaping.events.length - 1];
  return groundKnown && touchesPanels(piece, goneOrBorn(atRim));
}

function touchesPanels(
  { plan, panelColumns, rimColumns, rimLines, fabric }: PieceStructure,
  columns: readonly number[],
): boolean {
  return (
    columns.some((column) => panelColumns.has(column)) ||
    mayBeRope(rimColumns, new Set(columns), fabric.panels) ||
    shapesRope(
      rimLines,
      rimColumns.filter((_, i) => !isSewn(i, rimColumns.length, plan.seam)),
      new Set(columns),
      new Set(fabric.panels.flatMap((panel) => (panel.cables.length > 0 ? panel.columns : []))),
    )
  );
}

/** Whether neighbours of the ground are worked unlike, as in seed: a new column must know its place. */
function groundAlternates({ fabric, groundKnown }: PieceStructure): boolean {
  const [first, next] = groundIn(fabric, 1);
  return groundKnown && first !== next;
}

/** What is said where panels fill the rim. */
const NO_GROUND =
  'This plan cannot be graded larger: its panels fill the rim, so that the shaping runs through them from there on. Draft a new plan instead.';

/** What is said where the shaping at the rim touches a panel. */
const NO_EDGE =
  'This plan cannot be graded: its shaping at the rim stands against a panel, so that it cannot be told where the panel ends. Draft a new plan instead.';

/** What is said where a new column's place in its ground cannot be told. */
const NO_SIDES =
  'This plan cannot be graded larger: its sides are too short beside its corners to tell where its ground goes on. Draft a new plan instead.';
