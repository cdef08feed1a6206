/**
 * A tail while it is read: how long, how often and in what way a sentence goes on, part by part. Out: one that
 * says nothing yet.
 */
import type { Tail } from '../ast.ts';
import type { TokenCursor } from '../token-cursor.ts';

export type OpenTail = { -readonly [K in keyof Tail]: Tail[K] };

export function emptyTail(): OpenTail {
  return {
    times: null,
    more: false,
    total: false,
    untilStitches: null,
    perSide: false,
    parts: null,
    untilMm: null,
    untilRounds: null,
    untilRound: null,
    fromStart: false,
    open: false,
    forRounds: null,
    every: null,
    inARow: null,
    atOnce: false,
    endWith: null,
    startWith: [],
    follows: false,
    fewer: null,
    stated: null,
    between: null,
    betweenLike: null,
    likeRound: null,
    keeps: null,
    eachPass: null,
    roundsTold: null,
    stripes: null,
    crosses: null,
    counts: null,
    over: null,
    lastStitches: null,
    lastRound: null,
    afterEach: false,
    ground: null,
    shapes: null,
    edges: null,
  };
}

/**
 * Reads a part of a tail, and none that tells another rhythm or end than before: "…, then every round until 8 sts remain"
 * is of a clause of its own.
 */
export function readOnce(c: TokenCursor, tail: OpenTail, read: () => boolean): boolean {
  const before = { ...tail };
  const { i } = c;
  if (!read()) return false;
  const again = (told: number | null, now: number | null) => told !== null && now !== told;
  if (!again(before.every, tail.every) && !again(before.untilStitches, tail.untilStitches))
    return true;
  Object.assign(tail, before);
  return c.back(i, false);
}

/** The number at which a tail ends its rounds, of whatever kind; null where it names none. */
export function stopOf(tail: Tail): number | null {
  const { times, untilStitches, untilMm, untilRounds, untilRound, forRounds } = tail;
  return times ?? untilStitches ?? untilMm ?? untilRounds ?? untilRound ?? forRounds;
}
