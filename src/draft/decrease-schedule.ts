/**
 * When to decrease so that the motif lies flat: the state of one segment (a side with its corner) on
 * every course from the rim inwards.
 *
 * A regular n-gon whose courses are h high and stitches w wide loses 2n·tan(π/n)·h/w stitches a
 * round (square: 8h/w), a disc 2πh/w: exact plane geometry. Whole pairs are dealt out with
 * Bresenham's spacing, so the count never strays from the straight line by more than one pair a
 * segment. Read backwards the same list grows a motif from its centre.
 */
import { MOST_DRAWN_UP } from './wishes.ts';

/** One segment of one course. Wales are numbered from the right end of the side at the rim. */
export type SegmentState =
  /** Side wales [first, end) are live, the corner stitches untouched. */
  | { readonly kind: 'side'; readonly first: number; readonly end: number }
  /** The side is down to `rest` stitches; the corner's columns [first, end) are being taken. */
  | {
      readonly kind: 'strip';
      readonly rest: number;
      readonly first: number;
      readonly end: number;
    }
  /** Last stitches at the centre, without a pattern. */
  | { readonly kind: 'gathered'; readonly stitches: number };

export interface ScheduleInput {
  readonly segments: number;
  /** Side stitches and corner stitches of a segment at the rim. */
  readonly side: number;
  readonly corner: number;
  /** Stitches the whole round should lose per round, on average. */
  readonly rate: number;
  /** Work decreases on odd rounds where the rate allows (garter's knit rounds, right-side rows). */
  readonly preferOdd: boolean;
  /** Whether so many decreases at each end can be worked on a segment in this state. */
  readonly room: (state: Exclude<SegmentState, { kind: 'gathered' }>, pairs: number) => boolean;
}

export function segmentStitches(state: SegmentState, corner: number): number {
  if (state.kind === 'side') return state.end - state.first + corner;
  if (state.kind === 'strip') return state.rest + state.end - state.first;
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

/** States of one segment, index = course counted from the rim (0 = rim). */
export function scheduleCourses(input: ScheduleInput): SegmentState[] {
  const { segments, side, corner, preferOdd } = input;
  const total = segments * (side + corner);
  const pair = 2 * segments;
  const drift = preferOdd ? MOST_DRIFT / 5 : MOST_DRIFT;
  const rate = readableRate(input.rate / pair, total / input.rate, drift) * pair;
  const perRound = rate / pair;
  // Half a pair ahead of the line would be centred on it; less keeps the first round plain.
  const ahead = Math.min(0.5, Math.max(0, 1 - perRound - 1e-9));
  let state: SegmentState = { kind: 'side', first: 0, end: side };
  let count = total;
  const states: SegmentState[] = [state];
  const mostRounds = Math.ceil((2 * total) / rate) + 50;
  for (let round = 1; round < mostRounds; round++) {
    const lag = rate * round - (total - count);
    if (count <= MOST_DRAWN_UP && rate * round >= total - 0.6 * count) break;
    let pairs = Math.floor(lag / pair + ahead + 1e-9);
    if (preferOdd && perRound < 1) {
      const due =
        round % 2 === 1 ? lag / pair >= 0.25 : lag / pair > (perRound <= 0.5 ? 1.001 : 0.75);
      pairs = due ? 1 : 0;
    }
    if (round === 1 && perRound < 1) pairs = 0;
    if (count > MOST_DRAWN_UP) state = reduce(state, input, pairs, lag / segments);
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
    for (let m = Math.min(pairs, MOST_PAIRS); m >= 1; m--)
      if (room(state, m)) return { ...state, first: state.first + m, end: state.end - m };
    if (room(state, 1)) return state;
    const rest = state.end - state.first;
    if (state.kind === 'side' && corner >= 4) {
      const strip = { kind: 'strip' as const, rest, first: 0, end: corner };
      return pairs > 0 ? reduce(strip, input, pairs, lagStitches) : state;
    }
  }
  const stitches = segmentStitches(state, corner);
  const gone = Math.floor(stitches / 2);
  if (gone > 0 && lagStitches >= gone / 2) return { kind: 'gathered', stitches: stitches - gone };
  return state;
}

/** Decreases at each end of a segment in one round: two at most (a double decrease). */
export const MOST_PAIRS = 2;

/** Most that a readable rate may drift from the exact one over the piece, decrease rounds. Chosen. */
const MOST_DRIFT = 0.25;

/** A rate that reads well (3 rounds of every 4) if it stays within `drift` of the exact one. */
function readableRate(perRound: number, rounds: number, drift: number): number {
  for (let denominator = 1; denominator <= 6; denominator++) {
    const numerator = Math.round(perRound * denominator);
    if (numerator > 0 && Math.abs(numerator / denominator - perRound) * rounds < drift)
      return numerator / denominator;
  }
  return perRound;
}
