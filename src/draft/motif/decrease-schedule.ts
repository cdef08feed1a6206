/**
 * When to decrease so that the motif lies flat: the state of one segment (a side with its corner) on
 * every course from the rim inwards.
 *
 * A regular n-gon whose courses are h high and stitches w wide loses 2n·tan(π/n)·h/w stitches a
 * round (square: 8h/w), a disc 2πh/w: exact plane geometry. Whole pairs are dealt out with
 * Bresenham's spacing, so the count never strays from the straight line by more than one pair a
 * segment. Read backwards the same list grows a motif from its centre.
 */
import { MAX_DRAWN_UP } from '../spec/draft-spec.ts';

/** One segment of one course. Wales are numbered from the right end of the side at the rim. */
export type SegmentState =
  /** Side wales [first, end) are live, the corner stitches untouched. */
  | { readonly kind: 'side'; readonly first: number; readonly end: number }
  /**
   * The side is down to `rest` stitches; the corner's columns are being taken: from its ends, so that
   * [first, end) are left, or from its middle, so that [first, end) are gone.
   */
  | {
      readonly kind: 'strip';
      readonly from: 'ends' | 'middle';
      readonly rest: number;
      readonly first: number;
      readonly end: number;
    }
  /** Last stitches at the centre, without a pattern. */
  | { readonly kind: 'gathered'; readonly stitches: number };

/** [stitches a segment has] speed of the decreasing there, as a share of the rate. */
export type RateProfile = ArrayLike<number>;

export interface Timing {
  readonly rateProfile: RateProfile;
  /** How far the decreases run ahead of the middle, in decrease rounds; see `SHIFTS`. */
  readonly shift: number;
  /** Rounds from each shaping round to the next, first to last, instead of both: only a grading follows them. */
  readonly spacing?: readonly number[];
  /** Whether a grading may leave the side that its plan is shaped on. */
  readonly anySide?: boolean;
}

/** Rounds that are shaped where the rate allows: garter's knit rounds, right-side rows. */
export type RoundsPreferred = 'odd' | 'even' | null;

export interface ScheduleInput {
  readonly segments: number;
  /** Side stitches and corner stitches of a segment at the rim. */
  readonly side: number;
  readonly corner: number;
  /** Stitches the whole round should lose per round, on average. */
  readonly rate: number;
  /** Null keeps to the rate throughout, with the spacing that does so best. */
  readonly timing: Timing | null;
  readonly prefer: RoundsPreferred;
  /** Width of a segment in this state, in ground stitches; narrower panels count as they measure. */
  readonly width: (state: SegmentState) => number;
  /** Whether so many decreases at each end can be worked on a segment in this state. */
  readonly room: (state: Exclude<SegmentState, { kind: 'gathered' }>, pairs: number) => boolean;
}

/** Corners of a motif whose corner strips are so wide: a wide one has a line on either side. */
export function cornersWith(strip: number, segments: number): number {
  return strip > ONE_CORNER ? 2 * segments : segments;
}

/** Widest strip, in stitches, along which the two lines of decreases beside it still are one corner. */
const ONE_CORNER = 8;

/**
 * The corner's strip before anything is taken from it. A narrow one is taken from its middle, where the
 * corner's line runs: the piece keeps its corners. A wide one has become a side of its own: its ends are
 * the corners.
 */
export function wholeStrip(rest: number, corner: number): Extract<SegmentState, { kind: 'strip' }> {
  const middle = (corner + 1) >> 1;
  return corner <= ONE_CORNER
    ? { kind: 'strip', from: 'middle', rest, first: middle, end: middle }
    : { kind: 'strip', from: 'ends', rest, first: 0, end: corner };
}

export function segmentStitches(state: SegmentState, corner: number): number {
  if (state.kind === 'side') return state.end - state.first + corner;
  if (state.kind === 'strip') {
    const between = state.end - state.first;
    return state.rest + (state.from === 'middle' ? corner - between : between);
  }
  return state.stitches;
}

/** Flat rate of a motif: stitches lost per round when it lies flat. */
export function flatRate(
  segments: number,
  disc: boolean,
  stitchMm: number,
  roundMm: number,
): number {
  const turn = disc ? 2 * Math.PI : 2 * segments * Math.tan(Math.PI / segments);
  return (turn * roundMm) / stitchMm;
}

/**
 * States of one segment, index = course counted from the rim (0 = rim). Of the ways to start the
 * spacing that all keep to the line, the one whose mean slope is nearest to it.
 */
export function scheduleCourses(input: ScheduleInput): SegmentState[] {
  const { segments, side, corner, prefer, timing, width } = input;
  const pair = 2 * segments;
  const total = segments * (side + corner);
  if (timing) return spaceCourses(input, input.rate, timing.shift);
  const drift = prefer ? MAX_DRIFT / 5 : MAX_DRIFT;
  const rate = readableRate(input.rate / pair, total / input.rate, drift) * pair;
  return bestSpacing(input.rate, (shift) => {
    const states = spaceCourses(input, rate, shift);
    return {
      value: states,
      widths: states.map((state) => segments * width(state)),
    };
  });
}

/** Shifts of the spacing worth trying, decrease rounds ahead of the middle. */
export const SHIFTS: readonly number[] = [0, 0.1, -0.1, 0.2, -0.2, 0.3, -0.3, 0.4, -0.4];

/** Slope error that a spacing a whole decrease round from the middle is worth. Chosen. */
const ASTRAY_COST = 0.02;

/** Tries the shifts and keeps the schedule whose mean slope is nearest to `rate`. */
export function bestSpacing<T>(
  rate: number,
  make: (shift: number) => { value: T; widths: readonly number[] },
): T {
  let best: T | null = null;
  let least = Number.POSITIVE_INFINITY;
  for (const shift of SHIFTS) {
    const { value, widths } = make(shift);
    const error = Math.abs(slope(widths) / rate - 1) + ASTRAY_COST * Math.abs(shift);
    if (error < least) {
      best = value;
      least = error;
    }
  }
  return best as T;
}

/** Width lost per course, least squares over the courses that are wider than the centre. */
function slope(widths: readonly number[]): number {
  const least = Math.max(2 * MAX_DRAWN_UP, 0.2 * Math.max(...widths));
  const wide = widths.filter((width) => width > least);
  if (wide.length < 2) return 0;
  const middle = (wide.length - 1) / 2;
  let cross = 0;
  let square = 0;
  wide.forEach((width, i) => {
    cross -= (i - middle) * width;
    square += (i - middle) ** 2;
  });
  return cross / square;
}

/**
 * How far behind the line begins, decrease rounds, so that the plain round after the cast-on leaves nothing
 * to be made up for in the next ones.
 */
export function headStart(perRound: number, prefer: RoundsPreferred): number {
  if (perRound >= 1) return 0;
  const between = prefer && perRound <= NEARLY_ONE_SIDE ? Math.min(1, 2 * perRound) : perRound;
  return Math.max(0, perRound - (0.5 - between / 2));
}

/**
 * Decreases due in this round, when the line is `lag` decrease rounds ahead of the stitches. They fall
 * on the rounds nearest to where the line asks for them, so that it passes through the middle of every
 * step; with odd or even rounds preferred, on the nearest of those as long as they are enough.
 */
export function dueIn(
  round: number,
  lag: number,
  perRound: number,
  prefer: RoundsPreferred,
  shift: number,
): number {
  if (perRound >= 1) return Math.max(0, Math.floor(lag + 0.5 + Math.min(0, shift) + 1e-9));
  // The first round after the cast-on stays plain.
  if (round === 1) return 0;
  // One side is nearly enough: on the other only what those of this side have fallen behind by.
  const sided = prefer !== null && perRound <= NEARLY_ONE_SIDE;
  if (sided && round % 2 !== (prefer === 'odd' ? 1 : 0))
    return perRound > 0.5 + 1e-9 && lag >= 0.5 ? 1 : 0;
  const early = sided && perRound > 0.5 ? Math.max(0, shift) : shift;
  // Between two rounds that may decrease the line goes on by so much: half of it is the middle.
  const between = sided ? Math.min(1, 2 * perRound) : perRound;
  return lag + early >= 0.5 - between / 2 - 1e-9 ? 1 : 0;
}

/** Decrease rounds a round up to which all but a few are worked on one side. Chosen: garter's own is a half. */
const NEARLY_ONE_SIDE = 0.6;

/**
 * Shaping rounds that stand on the other side than `side` (1: odd rounds, 0: even), where those of that side would
 * have been enough; 0 where they would not. `counts[c]`: stitches on course c, the cast-on first.
 */
export function shapedOffSide(counts: readonly number[], side: 0 | 1): number {
  const shaped = counts.flatMap((count, c) => (c > 0 && count !== counts[c - 1] ? [c] : []));
  const off = shaped.filter((round) => round % 2 !== side).length;
  const span = shaped.length > 0 ? shaped[shaped.length - 1] - shaped[0] + 1 : 0;
  return 2 * shaped.length <= span + 3 ? off : 0;
}

function spaceCourses(input: ScheduleInput, rate: number, shift: number): SegmentState[] {
  const { segments, side, corner, prefer, width } = input;
  const pair = 2 * segments;
  let state: SegmentState = { kind: 'side', first: 0, end: side };
  const total = segments * width(state);
  let count = segments * (side + corner);
  const states: SegmentState[] = [state];
  const mostRounds = Math.ceil((4 * count) / rate) + 50;
  const first = (rate / pair) * (input.timing?.rateProfile[side + corner] ?? 1);
  let line = -pair * headStart(first, prefer);
  for (let round = 1; round < mostRounds; round++) {
    const left = segments * width(state);
    const now = rate * (input.timing?.rateProfile[segmentStitches(state, corner)] ?? 1);
    line += now;
    const lag = line - (total - left);
    if (count <= MAX_DRAWN_UP && line >= total - 0.6 * left) break;
    const pairs = dueIn(round, lag / pair, now / pair, prefer, shift);
    if (count > MAX_DRAWN_UP) state = reduce(state, input, pairs, lag / segments);
    count = segments * segmentStitches(state, corner);
    states.push(state);
  }
  return states;
}

/** Takes `pairs` stitches from each end if there is room, else goes on to the next way of closing. */
function reduce(
  state: SegmentState,
  input: ScheduleInput,
  pairs: number,
  lagStitches: number,
): SegmentState {
  const { corner, room } = input;
  if (state.kind !== 'gathered') {
    for (let m = Math.min(pairs, MAX_PAIRS); m >= 1; m--)
      if (room(state, m)) return reduced(state, m);
    if (room(state, 1)) return state;
    const rest = state.end - state.first;
    if (state.kind === 'side' && corner >= 4) {
      const strip = wholeStrip(rest, corner);
      return pairs > 0 ? reduce(strip, input, pairs, lagStitches) : state;
    }
  }
  const stitches = segmentStitches(state, corner);
  const gone = Math.floor(stitches / 2);
  if (gone > 0 && lagStitches >= gone / 2) return { kind: 'gathered', stitches: stitches - gone };
  return state;
}

function reduced(state: Exclude<SegmentState, { kind: 'gathered' }>, pairs: number): SegmentState {
  const inwards = state.kind === 'strip' && state.from === 'middle' ? -pairs : pairs;
  return { ...state, first: state.first + inwards, end: state.end - inwards };
}

/** Decreases at each end of a segment in one round: two at most (a double decrease). */
export const MAX_PAIRS = 2;

/** Most that a readable rate may drift from the exact one over the piece, decrease rounds. Chosen. */
const MAX_DRIFT = 0.25;

/** A rate that reads well (3 rounds of every 4) if it stays within `drift` of the exact one. */
function readableRate(perRound: number, rounds: number, drift: number): number {
  for (let denominator = 1; denominator <= 6; denominator++) {
    const numerator = Math.round(perRound * denominator);
    if (numerator > 0 && Math.abs(numerator / denominator - perRound) * rounds < drift)
      return numerator / denominator;
  }
  return perRound;
}
