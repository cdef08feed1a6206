/**
 * How much narrower a cable's stitches are than the same stitches plain: a closed form on a table that
 * the yarn model computed, for the metric of the whole piece.
 *
 * Input: how many stitches cross over how many, every how many rounds. Output: a factor on the width of
 * the cable's stitches, with the published band and where the number comes from. The contraction of each
 * round is the crossing's longer way shared by the rounds between: proportional to 1/interval.
 */
import { CABLE_TABLE } from './cable-table.ts';

/** One computed panel. */
export interface CableRow {
  /** Stitches in each of the two strands. */
  readonly moved: number;
  /** Rounds from one crossing to the next. */
  readonly every: number;
  /** Share of the longer way that the knitter gives (relax-panel.ts). */
  readonly supply: number;
  /** Contraction of the cable's own stitches, percent. */
  readonly percent: number;
  readonly converged: boolean;
}

export interface CableShape {
  readonly over: number;
  readonly under: number;
  readonly everyRounds: number;
}

export interface CablePullIn {
  /** Factor on the width of the cable's stitches, 0.6 … 1. */
  readonly widthFactor: number;
  readonly pullInPercent: number;
  /** Outside the computed sizes and intervals. */
  readonly extrapolated: boolean;
  /** Published pull-in of a cable, percent, and its source. */
  readonly published: readonly [number, number];
  readonly origin: string;
}

/**
 * Simple and tight cable of six: 17 % and 33 %, general advice 20 %
 * (heartstringsfiberarts.com/cable-takeup.shtm); taken as 15–35 % for a cable.
 */
export const PUBLISHED_PULL_IN: readonly [number, number] = [15, 35];
/** The supply whose rows are used. */
const SUPPLY = 0.3;
/** Beyond this a cable would no longer lie flat. Chosen: the model computes 31 % at most. */
const MOST_PERCENT = 40;

export function cablePullIn(shape: CableShape): CablePullIn {
  const { over, under, everyRounds } = shape;
  for (const n of [over, under, everyRounds]) {
    if (!Number.isFinite(n) || n < 1) {
      throw new RangeError(
        `a cable needs 1 or more stitches over, under and rounds between, got ${over}, ${under}, ${everyRounds}`,
      );
    }
  }
  const moved = (over + under) / 2;
  const sizes = [...new Set(CABLE_TABLE.map((row) => row.moved))].sort((a, b) => a - b);
  // Between two sizes linear; beyond them on the line of the two nearest.
  let k = sizes.findIndex((size) => size >= moved);
  if (k < 0) k = sizes.length - 1;
  k = Math.max(k, 1);
  const low = percentOf(sizes[k - 1], everyRounds);
  const high = percentOf(sizes[k], everyRounds);
  const f = (moved - sizes[k - 1]) / (sizes[k] - sizes[k - 1]);
  const percent = Math.min(Math.max(low + f * (high - low), 0), MOST_PERCENT);
  const intervals = CABLE_TABLE.filter(
    (row) => row.moved === sizes[k] || row.moved === sizes[k - 1],
  ).map((row) => row.every);
  return {
    widthFactor: 1 - percent / 100,
    pullInPercent: percent,
    extrapolated:
      moved > sizes[sizes.length - 1] ||
      moved < sizes[0] ||
      everyRounds > Math.max(...intervals) ||
      everyRounds < Math.min(...intervals),
    published: PUBLISHED_PULL_IN,
    origin: `yarn model of a cable of ${over} over ${under} crossed every ${everyRounds} rounds`,
  };
}

/** Percent at an interval for a computed size: linear in 1/interval, through 0 at no crossings. */
function percentOf(moved: number, every: number): number {
  const rows = CABLE_TABLE.filter((row) => row.moved === moved && row.supply === SUPPLY).sort(
    (a, b) => b.every - a.every,
  );
  const x = 1 / every;
  let fromX = 0;
  let from = 0;
  for (const row of rows) {
    const toX = 1 / row.every;
    if (x <= toX) return from + ((x - fromX) / (toX - fromX)) * (row.percent - from);
    fromX = toX;
    from = row.percent;
  }
  // Denser than computed: held, as crossings then hinder each other.
  return from;
}
