/**
 * One motif as wished, timed as told: columns of a side, rounds, plan text.
 *
 * Input: the spec, what is known of its columns' widths, and when to decrease. Output: the draft, with the
 * layout and the columns of every course, so that it can be measured and drafted again. The flat rule is
 * that of `decrease-schedule.ts`.
 */

import { gaugeStatement, readHeader, workedHeader } from '../../plan/write/header.ts';
import { type DraftRound, type PlanOutline, planText } from '../../plan/write/plan-text.ts';
import { lengthWords } from '../../report/words/length.ts';
import type { Candidate } from '../search/flat-timing.ts';
import { type ColumnWidths, shiftWidths } from '../search/measured-columns.ts';
import { beginsWithRidge, type DraftSpec, segmentsOf } from '../spec/draft-spec.ts';
import {
  cornersWith,
  flatRate,
  MAX_PAIRS,
  type RoundsPreferred,
  type SegmentState,
  scheduleCourses,
  segmentStitches,
  shapedOffSide,
  type Timing,
} from './decrease-schedule.ts';
import { scheduleSector, sectorRounds, sectorStitches } from './disc-rounds.ts';
import { type OutlineFacts, outlinePlan } from './outline-plan.ts';
import { chooseSeam, type Seam, seamRows } from './seam-rows.ts';
import { blockColumns, segmentRounds } from './segment-rounds.ts';
import { layOutSide, type SideLayout } from './side-layout.ts';
import { type CableColumns, type CrossingRounds, crossedOften } from './side-pattern.ts';
import { wrongSideShaping } from './wrong-side-shaping.ts';

export interface Draft {
  readonly text: string;
  readonly spec: DraftSpec;
  /** What was traded for what; empty where every wish was met exactly. */
  readonly compromises: readonly string[];
  /** Stitches cast on and, per side, at the rim (corner stitches included, seam stitches not). */
  readonly castOn: number;
  readonly sideStitches: number;
  /** Side (disc: diameter) that these stitches measure after the cables' pull-in, mm. */
  readonly sizeMm: number;
  /** Stitches lost per round when flat, on average over the whole round. */
  readonly ratePerRound: number;
}

/** A motif at one size and timing: what is measured, and what its draft is made of. */
export interface Made extends Candidate {
  readonly layout: SideLayout;
  readonly blocks: Blocks;
  readonly outline: Omit<PlanOutline, 'header'>;
  readonly seam: Seam | null;
  readonly compromises: readonly string[];
  readonly ratePerRound: number;
}

/**
 * `stitchDeficit` is the width that a segment lacks at the rim against plain ground, in stitches; null takes the
 * published figures.
 */
export function makeMotif(
  spec: DraftSpec,
  widths: ColumnWidths | null,
  stitchDeficit: number | null,
  timing: Timing | null,
): Made {
  const compromises: string[] = [];
  const layout = layOutSide(spec, compromises, stitchDeficit);
  const segments = segmentsOf(spec);
  const disc = spec.shape === 'disc';
  const roundMm = widths?.roundMm ?? spec.roundMm;
  const corners = cornersWith(layout.corner.columns.length, segments);
  const rate = flatRate(corners, disc, spec.stitchMm, roundMm);
  const columns = {
    side: widths
      ? shiftWidths(widths, layout.side.columns.length, layout.panels)
      : layout.side.columns.map(() => 1),
    corner: widths?.corner ?? layout.corner.columns.map(() => 1),
  };
  const blocks = disc
    ? discBlocks(spec, layout, rate, timing, columns.side, compromises)
    : sideBlocks(spec, layout, rate, timing, columns, compromises);
  let rounds = blocks.rounds.map(
    (block, i): DraftRound => ({
      names: Array.from({ length: segments }, () => block).flat(),
      wrongSide: false,
      after: segments * blocks.counts[i + 1],
    }),
  );
  let castOn = segments * blocks.counts[0];
  let seam: Seam | null = null;
  if (spec.worked === 'flat') {
    const chosen = chooseSeam(
      rounds.map((round) => round.names),
      spec.seamStitches,
    );
    seam = chosen.seam;
    if (chosen.why) compromises.push(chosen.why);
    rounds = seamRows(rounds, seam, beginsWithRidge(spec));
    castOn += seam.begin + seam.end;
    const perRow = rate / (disc ? segments : 2 * segments);
    const why = wrongSideShaping(rounds, castOn, perRow);
    if (why) compromises.push(why);
  }
  const ending = spec.direction === 'in' ? 'drawn-up' : 'bound-off';
  const outline = { castOn, worked: spec.worked, rounds, ending } as const;
  return {
    plan: outlinePlan(outline, factsOf(spec, seam)),
    counts: blocks.counts,
    offSide: offSideOf(spec, blocks.counts),
    layout,
    blocks,
    outline,
    seam,
    compromises,
    ratePerRound: rate,
  };
}

/** The text of a motif; its size is what its stitches come to, cables pulled in as the layout knows. */
export function draftOf(spec: DraftSpec, made: Made): Draft {
  const { layout, outline, seam, compromises, ratePerRound } = made;
  const sideStitches = layout.side.columns.length + layout.corner.columns.length;
  const spanMm = sideStitches * spec.stitchMm - layout.pullInMm;
  return {
    text: planText({ header: headerLines(spec, seam), ...outline }),
    spec,
    compromises,
    castOn: outline.castOn,
    sideStitches,
    sizeMm: spec.shape === 'disc' ? (segmentsOf(spec) * spanMm) / Math.PI : spanMm,
    ratePerRound,
  };
}

function factsOf(spec: DraftSpec, seam: Seam | null): OutlineFacts {
  let read = HEADERS.get(spec);
  if (!read) {
    read = readHeader(headerLines(spec, null));
    HEADERS.set(spec, read);
  }
  return { ...read, join: { method: 'plain', halfTurns: 0 }, seam };
}

/** Read once for all trials of a spec. */
const HEADERS = new WeakMap<DraftSpec, ReturnType<typeof readHeader>>();

/** The draft with the size that it comes to, mm, and what that trades, in place of what was told of it before. */
export function withFinalSize(draft: Draft, sizeMm: number): Draft {
  const { spec } = draft;
  const compromises = draft.compromises.filter((told) => !told.startsWith(WHOLE_STITCHES));
  const [size, asked] = [sizeMm, spec.sizeMm].map((mm) => lengthWords(mm, spec.units));
  if (size === asked) return { ...draft, sizeMm, compromises };
  const what = spec.shape === 'disc' ? 'diameter' : 'side';
  // Farther off it is not the stitch that decides: of whole stitches nearer by none lies as flat.
  const why = Math.abs(sizeMm - spec.sizeMm) > spec.stitchMm ? ' that lie flat' : '';
  const note = `${WHOLE_STITCHES}${why}: the ${what} comes to ${size} instead of ${asked}.`;
  return { ...draft, sizeMm, compromises: [...compromises, note] };
}

const WHOLE_STITCHES = 'Whole stitches';

export interface Blocks {
  /** Stitches of one segment, round by round, as the right side shows them. */
  readonly rounds: readonly string[][];
  /** Stitches of one segment after each round; item 0 is the cast-on. */
  readonly counts: readonly number[];
  /** Columns of one segment on each course, right to left; see `blockColumns`. */
  readonly columns: readonly (readonly number[] | null)[];
}

function sideBlocks(
  spec: DraftSpec,
  layout: SideLayout,
  flat: number,
  timing: Timing | null,
  widths: { readonly side: readonly number[]; readonly corner: readonly number[] },
  compromises: string[],
): Blocks {
  const segments = segmentsOf(spec);
  const corner = layout.corner.columns.length;
  const most = MAX_PAIRS * 2 * segments;
  if (flat > most)
    compromises.push(
      `This gauge would need ${flat.toFixed(1)} decreases a round to lie flat; ${most} is the most that is worked: the motif will cup.`,
    );
  const sum = (list: readonly number[], from: number, end: number) => {
    let total = 0;
    for (let i = from; i < end; i++) total += list[i];
    return total;
  };
  const stripWidth = ({ from, first, end }: Extract<SegmentState, { kind: 'strip' }>) =>
    from === 'ends'
      ? sum(widths.corner, first, end)
      : sum(widths.corner, 0, first) + sum(widths.corner, end, corner);
  let states: SegmentState[] = scheduleCourses({
    segments,
    side: layout.side.columns.length,
    corner,
    rate: Math.min(flat, most),
    timing,
    prefer: roundsPreferred(spec),
    width: (state) =>
      state.kind === 'side'
        ? sum(widths.side, state.first, state.end) + sum(widths.corner, 0, corner)
        : state.kind === 'strip'
          ? state.rest + stripWidth(state)
          : state.stitches,
    room: (state, pairs) => hasRoom(state, pairs, spec, layout),
  });
  if (spec.direction === 'out') states = turnOutwards(states, spec);
  const patterns = {
    side: layout.side,
    corner: layout.corner,
    centredFrom: spec.direction === 'in' ? layout.centredFrom : null,
    crossing: { rightSide: rightSideRows(spec), early: false },
  };
  const cables = [...layout.side.cables, ...layout.corner.cables];
  const { rounds, crossed } = crossedOften(cables, (early) =>
    segmentRounds(states, { ...patterns, crossing: { ...patterns.crossing, early } }),
  );
  noteUncrossed(layout, crossed, compromises);
  noteEaten(
    spec,
    layout,
    states,
    (state, wale) => state.kind === 'side' && state.first <= wale && wale < state.end,
    compromises,
  );
  return {
    rounds,
    counts: states.map((state) => segmentStitches(state, corner)),
    columns: states.map((state) => blockColumns(state, patterns)),
  };
}

/** No crossing is left out in silence. */
function noteUncrossed(
  { cabled }: SideLayout,
  crossed: ReadonlyMap<CableColumns, number>,
  compromises: string[],
): void {
  for (const { stitches, cables } of cabled) {
    const gone = cables.filter((cable) => !crossed.has(cable));
    const once = cables.filter((cable) => crossed.get(cable) === 1);
    const all = gone.length === cables.length ? 'is not crossed' : 'is crossed in part only';
    const why =
      gone.length > 0
        ? `${all}: it meets the shaping before its first crossing (every ${gone[0].every} rounds)`
        : once.length > 0
          ? `is crossed once only: the shaping leaves it whole for no second time (every ${once[0].every} rounds)`
          : null;
    const words = `The panel "${stitches}" ${why}. Set it farther from the corner, or cross it sooner.`;
    if (why && !compromises.includes(words)) compromises.push(words);
  }
}

/** Share of the rounds that a panel is whole in at least, or it is said. Chosen. */
const MOSTLY_EATEN = 1 / 3;

/** Says which panels of the side the shaping runs through nearly all the way. */
function noteEaten<Course>(
  { worked }: DraftSpec,
  { panels }: SideLayout,
  courses: readonly Course[],
  isLive: (course: Course, wale: number) => boolean,
  compromises: string[],
): void {
  const rounds = courses.length - 1;
  for (const { stitches, first, width } of panels) {
    const whole = courses.map((course) => {
      for (let i = 0; i < width; i++) if (!isLive(course, first + i)) return false;
      return true;
    });
    const kept = whole.filter((now, i) => i > 0 && now && whole[i - 1]).length;
    if (kept >= MOSTLY_EATEN * rounds) continue;
    const words = `The panel "${stitches}" leaves little ground beside it: it is whole in ${kept} of ${rounds} ${worked === 'flat' ? 'rows' : 'rounds'}, and the shaping runs through it in the others.`;
    if (!compromises.includes(words)) compromises.push(words);
  }
}

/** Whether `pairs` decreases (read outwards: increases) at each end of this segment can be worked. */
function hasRoom(
  state: Exclude<SegmentState, { kind: 'gathered' }>,
  pairs: number,
  spec: DraftSpec,
  layout: SideLayout,
): boolean {
  if (state.kind === 'strip' && state.from === 'middle') {
    const half = Math.min(state.first, layout.corner.columns.length - state.end);
    return half >= (spec.direction === 'out' ? 2 * pairs : pairs + 1);
  }
  const width = state.end - state.first;
  if (spec.direction === 'out') {
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

/** Rim-inwards courses → centre-outwards; where it matters a plain round keeps increases on odd rounds. */
function turnOutwards<T>(courses: readonly T[], spec: DraftSpec): T[] {
  const outwards = [...courses].reverse();
  const shift = roundsPreferred(spec) === 'odd' && outwards.length % 2 === 1;
  return shift ? [outwards[0], ...outwards] : outwards;
}

function discBlocks(
  spec: DraftSpec,
  layout: SideLayout,
  rate: number,
  timing: Timing | null,
  widths: readonly number[],
  compromises: string[],
): Blocks {
  let courses = scheduleSector({
    sectors: segmentsOf(spec),
    pattern: layout.side,
    rate,
    timing,
    widths,
    prefer: roundsPreferred(spec),
  });
  if (spec.direction === 'out') courses = turnOutwards(courses, spec);
  const rightSide = rightSideRows(spec);
  const { rounds, crossed } = crossedOften(layout.side.cables, (early) =>
    sectorRounds(courses, layout.side, { rightSide, early }),
  );
  noteUncrossed(layout, crossed, compromises);
  noteEaten(
    spec,
    layout,
    courses,
    (course, wale) => course.kind === 'wales' && course.wales.includes(wale),
    compromises,
  );
  return {
    rounds,
    counts: courses.map(sectorStitches),
    columns: courses.map((course) => (course.kind === 'wales' ? course.wales : null)),
  };
}

function headerLines(spec: DraftSpec, seam: Seam | null): string[] {
  const lines: string[] = [];
  if (spec.title) lines.push(`Title: ${spec.title}`);
  if (spec.yarn) lines.push(`Yarn: ${spec.yarn}`);
  const { stitchMm, roundMm, ground, worked, units } = spec;
  const gauge = { fabric: ground, stitchMm, roundMm };
  lines.push(`Gauge: ${gaugeStatement(gauge, worked, units === 'inch')}`);
  if (spec.needles) lines.push(`Needles: ${spec.needles}`);
  lines.push(workedHeader(worked, seam));
  return lines;
}

function roundsPreferred(spec: DraftSpec): RoundsPreferred {
  if (beginsWithRidge(spec)) return 'even';
  return spec.ground === 'garter' || spec.worked === 'flat' ? 'odd' : null;
}

function offSideOf(spec: DraftSpec, counts: readonly number[]): number {
  const prefer = roundsPreferred(spec);
  return prefer === null ? 0 : shapedOffSide(counts, prefer === 'odd' ? 1 : 0);
}

/** Rows that cables are crossed in, since only those have the right side. */
function rightSideRows(spec: DraftSpec): CrossingRounds['rightSide'] {
  if (spec.worked === 'round') return 'all';
  return beginsWithRidge(spec) ? 'even' : 'odd';
}
