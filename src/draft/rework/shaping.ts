/**
 * The shaping of a plan: the columns it is cast on with and the shaping rounds that they go through.
 */
import { hasShortRows, type Plan } from '../../plan/plan.ts';
import {
  decomposeColumns,
  type WorkedColumns,
  type WorkedItem,
  type WorkedRound,
} from './column-model.ts';

/** One shaping round: what it does to the columns. */
export interface ShapingEvent {
  readonly items: readonly WorkedItem[];
  /** Stitches gained (negative: lost). */
  readonly change: number;
}

/** A piece as columns and the shaping rounds that they go through, in order. */
export interface Shaping {
  /** Told the pattern from; its columns may have grown beyond those that the plan worked. */
  readonly worked: WorkedColumns;
  /** Columns cast on, right to left. */
  readonly start: readonly number[];
  readonly events: readonly ShapingEvent[];
}

/** Rounds with any shaping, even where losses and gains cancel. */
function eventsOf(worked: WorkedColumns): ShapingEvent[] {
  return worked.rounds.filter(isShaping);
}

export function isShaping(round: WorkedRound): boolean {
  return round.items.some((item) => item.role === 'shape');
}

/** RangeError where short rows make columns of unequal height, which cannot be timed anew or resized. */
export function shapingOf(plan: Plan): Shaping {
  if (hasShortRows(plan))
    throw new RangeError(
      'This plan has short rows, which are not timed anew or worked to another size: change them by hand.',
    );
  const worked = decomposeColumns(plan);
  const start = Array.from({ length: worked.castOn }, (_, column) => column);
  return { worked, start, events: eventsOf(worked) };
}
