/**
 * How much narrower a cable's stitches are than the same stitches plain: a closed form on a table that
 * the yarn model computed at the tightness of hand knitting, for the metric of the whole piece.
 * In: stitches over and under, rounds between, what stands beside. Out: a factor on the width of the cable's stitches,
 * with the published band and where the number comes from.
 */
import { CABLE_TABLE } from './cable-table.ts';
import { HAND_LOOP } from './fabric-ratios.ts';

/** What stands to both sides of a cable: stitches of its own face, or of the other. */
export type CableGround = 'stockinette' | 'purl';

/** One computed panel: of the states that two starts end in the one of lowest energy. */
export interface CableRow {
  /** Stitches in each of the two strands. */
  readonly moved: number;
  /** Rounds from one crossing to the next. */
  readonly every: number;
  readonly ground: CableGround;
  /** Yarn of a stitch, l/d. */
  readonly loop: number;
  /** Contraction of the cable's own stitches, percent. */
  readonly percent: number;
  /** The state that the other start ends in, if it is another: its contraction, and how much more energy it holds. */
  readonly other: { readonly percent: number; readonly energyPercent: number } | null;
}

export interface CableShape {
  readonly over: number;
  readonly under: number;
  readonly everyRounds: number;
  /** Share of the stitches beside it that show the other face than the cable's, 0 … 1. */
  readonly purlBeside: number;
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
/** The rows that the metric reads. */
const HAND_ROWS = CABLE_TABLE.filter((row) => row.loop === HAND_LOOP);
/** Beyond this a cable would no longer lie flat. Chosen: above all that the model computes. */
const MOST_PERCENT = 40;

export function cablePullIn(shape: CableShape): CablePullIn {
  const { over, under, everyRounds, purlBeside } = shape;
  if (!(purlBeside >= 0 && purlBeside <= 1)) {
    throw new RangeError(`the share of purl beside a cable lies from 0 to 1, got ${purlBeside}`);
  }
  for (const n of [over, under, everyRounds]) {
    if (!Number.isFinite(n) || n < 1) {
      throw new RangeError(
        `a cable needs 1 or more stitches over, under and rounds between, got ${over}, ${under}, ${everyRounds}`,
      );
    }
  }
  const moved = (over + under) / 2;
  const sizes = [...new Set(HAND_ROWS.map((row) => row.moved))].sort((a, b) => a - b);
  // Between two sizes linear; beyond them on the line of the two nearest.
  let k = sizes.findIndex((size) => size >= moved);
  if (k < 0) k = sizes.length - 1;
  k = Math.max(k, 1);
  // Beyond the widest computed, no denser than that: the line would else lie between crossings of unlike intervals.
  const widest = sizes[sizes.length - 1];
  const every = moved > widest ? Math.max(everyRounds, densest(widest)) : everyRounds;
  const low = percentOf(sizes[k - 1], every, purlBeside);
  const high = percentOf(sizes[k], every, purlBeside);
  const f = (moved - sizes[k - 1]) / (sizes[k] - sizes[k - 1]);
  const percent = Math.min(Math.max(low + f * (high - low), 0), MOST_PERCENT);
  const used = [f < 1 ? [sizes[k - 1]] : [], f > 0 ? [sizes[k]] : []].flat();
  return {
    widthFactor: 1 - percent / 100,
    pullInPercent: percent,
    extrapolated:
      moved > sizes[sizes.length - 1] ||
      moved < sizes[0] ||
      used.some((size) => everyRounds < densest(size) || everyRounds > sparsest(size)),
    published: PUBLISHED_PULL_IN,
    origin: `yarn model of a cable of ${over} over ${under} crossed every ${everyRounds} rounds, ${besideWords(purlBeside)}`,
  };
}

/** Fewest and most rounds between crossings that are computed for a size. */
function densest(moved: number): number {
  return Math.min(...intervalsOf(moved));
}

function sparsest(moved: number): number {
  return Math.max(...intervalsOf(moved));
}

function intervalsOf(moved: number): number[] {
  return HAND_ROWS.filter((row) => row.moved === moved).map((row) => row.every);
}

function besideWords(purl: number): string {
  return purl === 1 ? 'in purl' : purl === 0 ? 'in stockinette' : 'in purl and knit';
}

/** Between the two grounds linear in what stands beside: half of garter and of seed is purl. */
function percentOf(moved: number, every: number, purlBeside: number): number {
  const stockinette = percentIn('stockinette', moved, every);
  return stockinette + purlBeside * (percentIn('purl', moved, every) - stockinette);
}

/** Percent at an interval for a computed size: linear in 1/interval, through 0 at no crossings. */
function percentIn(ground: CableGround, moved: number, every: number): number {
  const rows = HAND_ROWS.filter((row) => row.moved === moved && row.ground === ground).sort(
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
