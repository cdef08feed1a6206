/**
 * Wishes → plan text: a motif that closes, lies flat and comes nearest to the size asked.
 *
 * Output is text in the plan language, the wishes as completed, and `traded`: what was given up for
 * what, in a knitter's words. The flat rule is that of `decrease-schedule.ts`.
 */
import {
  flatRate,
  MOST_PAIRS,
  type SegmentState,
  scheduleCourses,
  segmentStitches,
} from './decrease-schedule.ts';
import { scheduleSector, sectorRounds, sectorStitches } from './disc-rounds.ts';
import {
  type ColumnWidths,
  columnWidths,
  type MeasuredFabric,
  type MeasureFabric,
  shiftWidths,
} from './measured-columns.ts';
import { gaugeWords, workedHeader } from './plan-header.ts';
import { type DraftRound, planText } from './plan-text.ts';
import { seamRows } from './seam-rows.ts';
import { blockColumns, segmentRounds } from './segment-rounds.ts';
import { layOutSide, type SideLayout } from './side-layout.ts';
import { completeWishes, type DraftWishes, SEGMENTS, type WishesAsked } from './wishes.ts';

export interface Draft {
  readonly text: string;
  readonly wishes: DraftWishes;
  /** What was traded for what; empty where every wish was met exactly. */
  readonly traded: readonly string[];
  /** Stitches cast on and, per side, at the rim (corner stitches included, seam stitches not). */
  readonly castOn: number;
  readonly sideStitches: number;
  /** Side (disc: diameter) that these stitches measure after the cables' pull-in, mm. */
  readonly sizeMm: number;
  /** Stitches lost per round when flat, on average over the whole round. */
  readonly ratePerRound: number;
}

/**
 * `measure` tells how wide the columns of a plan come out and how flat it lies; with it the draft is
 * measured and, where that helps, drafted again. Without it cables narrow by the published figures.
 */
export function draftPlan(asked: WishesAsked, measure: MeasureFabric | null = null): Draft {
  const wishes = completeWishes(asked);
  let made = make(wishes, null, 1);
  if (!measure || wishes.cablePullIn !== null) return made.draft;
  let best = made.draft;
  let least = Number.POSITIVE_INFINITY;
  let widths: ColumnWidths | null = null;
  let rateFactor = 1;
  for (let attempt = 0; attempt < MOST_ATTEMPTS; attempt++) {
    const fabric = measure(made.draft.text);
    if (!fabric) return best;
    const share = rateShare(fabric.coneAngleRad, wishes);
    const miss = Math.abs(share - 1);
    if (!(miss < NOT_BELIEVED)) return best;
    // The first draft knows nothing of its panels' width: its size does not count.
    const blind = widths === null && hasPanels(made.layout);
    if (!blind && miss < least) {
      least = miss;
      best = made.draft;
    }
    if (!blind && !(miss > FLAT_ENOUGH)) break;
    if (blind) widths = widthsOf(made, wishes, fabric);
    else rateFactor /= Math.min(1 + MOST_CORRECTION, Math.max(1 - MOST_CORRECTION, share));
    if (blind && !widths) return best;
    made = make(wishes, widths, rateFactor);
  }
  return best;
}

/** Drafts that are measured at most. Chosen: the third correction changes nothing any more. */
const MOST_ATTEMPTS = 4;
/** Share of the flat rate that need not be mended: about the verdict's 1 %, so that simple schedules stay. */
const FLAT_ENOUGH = 0.012;
/** A measurement further out than this has not understood the shaping, and is not followed. Chosen. */
const NOT_BELIEVED = 0.25;
/** Most that one measurement changes the rate: beyond it something else is wrong. Chosen. */
const MOST_CORRECTION = 0.08;

function hasPanels(layout: SideLayout): boolean {
  return layout.panels.length > 0 || layout.corner.columns.length > 2;
}

/** Rate of the draft as a share of the flat rate, from its cone angle: Θ = 2n·atan(share·tan(π/n)). */
function rateShare(coneAngleRad: number, wishes: DraftWishes): number {
  if (wishes.shape === 'disc') return coneAngleRad / (2 * Math.PI);
  const n = SEGMENTS[wishes.shape];
  const half = Math.min(1.4, coneAngleRad / (2 * n));
  return Math.tan(half) / Math.tan(Math.PI / n);
}

interface Made {
  readonly draft: Draft;
  readonly layout: SideLayout;
  readonly blocks: Blocks;
}

function widthsOf(
  { layout, blocks }: Made,
  wishes: DraftWishes,
  fabric: MeasuredFabric,
): ColumnWidths | null {
  return columnWidths(
    fabric,
    blocks.columns,
    SEGMENTS[wishes.shape],
    { side: layout.side.columns.length, corner: layout.corner.columns.length },
    wishes.stitchMm,
    wishes.direction === 'in',
    layout.panels,
  );
}

function make(wishes: DraftWishes, widths: ColumnWidths | null, rateFactor: number): Made {
  const traded: string[] = [];
  const layout = layOutSide(wishes, traded, widths?.rimLack ?? null);
  const segments = SEGMENTS[wishes.shape];
  const disc = wishes.shape === 'disc';
  const roundMm = widths?.roundMm ?? wishes.roundMm;
  const rate = rateFactor * flatRate(segments, disc, wishes.stitchMm, roundMm);
  const sideStitches = layout.side.columns.length + layout.corner.columns.length;
  const columns = {
    side: widths
      ? shiftWidths(widths, layout.side.columns.length, layout.panels)
      : layout.side.columns.map(() => 1),
    corner: widths?.corner ?? layout.corner.columns.map(() => 1),
  };

  const blocks = disc
    ? discBlocks(wishes, layout, rate, columns.side)
    : sideBlocks(wishes, layout, rate, columns, traded);
  const rounds: DraftRound[] = blocks.rounds.map((block, i) => ({
    names: Array.from({ length: segments }, () => block).flat(),
    wrongSide: false,
    after: segments * blocks.counts[i + 1],
  }));
  let castOn = segments * blocks.counts[0];
  let worked = rounds;
  if (wishes.worked === 'flat') {
    worked = seamRows(rounds, seamOf(wishes));
    castOn += seamOf(wishes).begin + seamOf(wishes).end;
  }

  const spanMm = sideStitches * wishes.stitchMm - layout.pullInMm;
  const sizeMm = disc ? (segments * spanMm) / Math.PI : spanMm;
  if (Math.abs(sizeMm - wishes.sizeMm) >= 0.05)
    traded.push(
      `Whole stitches: the ${disc ? 'diameter' : 'side'} comes to ${mm(sizeMm)} instead of ${mm(wishes.sizeMm)}.`,
    );
  if (segments === 5)
    traded.push(
      'Five sides do not divide over four needles: use one long circular needle, or a needle for each side.',
    );
  const text = planText({
    header: headerLines(wishes),
    castOn,
    worked: wishes.worked,
    rounds: worked,
    ending: wishes.direction === 'in' ? 'drawn-up' : 'bound-off',
  });
  const draft = { text, wishes, traded, castOn, sideStitches, sizeMm, ratePerRound: rate };
  return { draft, layout, blocks };
}

interface Blocks {
  /** Stitches of one segment, round by round, as the right side shows them. */
  readonly rounds: readonly string[][];
  /** Stitches of one segment after each round; item 0 is the cast-on. */
  readonly counts: readonly number[];
  /** Columns of one segment on each course, right to left; see `blockColumns`. */
  readonly columns: readonly (readonly number[] | null)[];
}

function sideBlocks(
  wishes: DraftWishes,
  layout: SideLayout,
  flat: number,
  widths: { readonly side: readonly number[]; readonly corner: readonly number[] },
  traded: string[],
): Blocks {
  const segments = SEGMENTS[wishes.shape];
  const corner = layout.corner.columns.length;
  const most = MOST_PAIRS * 2 * segments;
  if (flat > most)
    traded.push(
      `This gauge would need ${flat.toFixed(1)} decreases a round to lie flat; ${most} is the most that is worked: the motif will cup.`,
    );
  const sum = (list: readonly number[], from: number, end: number) => {
    let total = 0;
    for (let i = from; i < end; i++) total += list[i];
    return total;
  };
  let states: SegmentState[] = scheduleCourses({
    segments,
    side: layout.side.columns.length,
    corner,
    rate: Math.min(flat, most),
    preferOdd: wishes.ground === 'garter' || wishes.worked === 'flat',
    width: (state) =>
      state.kind === 'side'
        ? sum(widths.side, state.first, state.end) + sum(widths.corner, 0, corner)
        : state.kind === 'strip'
          ? state.rest + sum(widths.corner, state.first, state.end)
          : state.stitches,
    room: (state, pairs) => hasRoom(state, pairs, wishes, layout),
  });
  if (wishes.direction === 'out') states = turnOutwards(states);
  const patterns = {
    side: layout.side,
    corner: layout.corner,
    centredFrom: wishes.direction === 'in' ? layout.centredFrom : null,
    rightSideOnly: wishes.worked === 'flat',
  };
  return {
    rounds: segmentRounds(states, patterns),
    counts: states.map((state) => segmentStitches(state, corner)),
    columns: states.map((state) => blockColumns(state, patterns)),
  };
}

/** Whether `pairs` decreases (read outwards: increases) at each end of this segment can be worked. */
function hasRoom(
  state: Exclude<SegmentState, { kind: 'gathered' }>,
  pairs: number,
  wishes: DraftWishes,
  layout: SideLayout,
): boolean {
  const width = state.end - state.first;
  if (wishes.direction === 'out') {
    const inner = width - 2 * pairs;
    if (state.kind === 'side' && layout.corner.columns.length === 0)
      return inner >= (pairs === 1 ? 2 : 5);
    return inner >= pairs;
  }
  const from = layout.centredFrom;
  if (state.kind === 'side' && from !== null && state.first < from) {
    const least = pairs === 1 ? 1 : 3;
    return from - state.first >= least && state.end - from >= least;
  }
  return width >= 2 * (pairs + 1) || (pairs === 1 && width === 3);
}

/** Rim-inwards courses → centre-outwards; a plain round keeps increases on odd rounds. */
function turnOutwards<T>(courses: readonly T[]): T[] {
  const outwards = [...courses].reverse();
  return outwards.length % 2 === 1 ? [outwards[0], ...outwards] : outwards;
}

function discBlocks(
  wishes: DraftWishes,
  layout: SideLayout,
  rate: number,
  widths: readonly number[],
): Blocks {
  let courses = scheduleSector({
    sectors: SEGMENTS.disc,
    pattern: layout.side,
    rate,
    widths,
    preferOdd: wishes.ground === 'garter' || wishes.worked === 'flat',
  });
  if (wishes.direction === 'out') courses = turnOutwards(courses);
  return {
    rounds: sectorRounds(courses, layout.side, wishes.worked === 'flat'),
    counts: courses.map(sectorStitches),
    columns: courses.map((course) => (course.kind === 'wales' ? course.wales : null)),
  };
}

function seamOf(wishes: DraftWishes): { begin: number; end: number } {
  return { begin: 1, end: wishes.seamStitches === 2 ? 1 : 0 };
}

function headerLines(wishes: DraftWishes): string[] {
  const lines: string[] = [];
  if (wishes.title) lines.push(`Title: ${wishes.title}`);
  if (wishes.yarn) lines.push(`Yarn: ${wishes.yarn}`);
  const { stitchMm, roundMm, ground, worked } = wishes;
  lines.push(`Gauge: ${gaugeWords({ fabric: ground, stitchMm, roundMm }, worked)}`);
  if (wishes.needles) lines.push(`Needles: ${wishes.needles}`);
  lines.push(workedHeader(worked, worked === 'flat' ? seamOf(wishes) : null));
  return lines;
}

function mm(length: number): string {
  return `${Math.round(length * 10) / 10} mm`;
}
