/**
 * Finds the lines along which a piece is shaped: decreases (or increases) that stand over one
 * another, round after round, so that the courses turn a corner there. Decreases that do not stack
 * are spread: they bend the courses evenly. The distinction sets the flat rate (a square's 8 h/w,
 * a disc's 2π h/w), and it is read off the loops, not off the way the plan is written.
 *
 * Walks from the widest end along the wales. A line keeps its place by following the wale upward,
 * takes the shaping stitches that fall within reach and passes on.
 */

import { followWale, type Rings, ringSize } from '../layout/rings.ts';
import { mergeStrips, type Track } from './corner-strips.ts';
import {
  cornersOf,
  distance,
  type ShapingEvent,
  shapingOf,
  shift,
  together,
} from './shaping-events.ts';

export interface ShapingLines {
  readonly lines: number;
  /** [lines × courses] place of each line on each course, in slots, within −½ … size − ½, ascending by line. */
  readonly place: Float64Array;
  /** [lines × courses] stitches lost at the line by the course (negative where made). */
  readonly loss: Float64Array;
  /** [courses] stitches lost away from any line. */
  readonly spread: Float64Array;
  /** [courses] the part of `spread` that open work loses at its beginning (slot 0) and at its end. */
  readonly edgeBegin: Float64Array;
  readonly edgeEnd: Float64Array;
}

/** A shaping stitch belongs to a line that passes within this many stitches. Chosen. */
const REACH = 1.6;
/** … and stands on it within this distance: the two stitches of a pair do. Chosen. */
const ON_LINE = 0.6;
/** The outer stitches of two pairs, where a line has its inner ones already: no line of their own. Chosen. */
const DOUBLED = 4;
/** Share of the shaping rounds in a line's span that must shape at the line. Staggered decreases
 * meet it at every second round only and count as spread. */
const STACKED = 0.6;
/** Scattered shaping meets itself now and then: lines that carry less than this share of all the
 * shaping are such chance. Chosen. */
const MIN_SHARE = 0.5;

export function findShapingLines(rings: Rings): ShapingLines {
  const { courses } = rings;
  const shaping = Array.from({ length: courses }, (_, c) => shapingOf(rings, c));
  const outsideIn = ringSize(rings, 0) >= ringSize(rings, courses - 1);
  const sign = outsideIn ? 1 : -1;
  const found = stacked(
    walk(rings, shaping, outsideIn, sign, null),
    rings,
    shaping,
    outsideIn,
    sign,
  );
  // Once more with these lines alone: what chance lines took from them is theirs again.
  const alone = found.length > 0 ? walk(rings, shaping, outsideIn, sign, found) : [];
  const lines = stacked(alone, rings, shaping, outsideIn, sign);
  const apart = rings.closed ? lines : lines.filter((t) => !isEdge(rings, t));
  const merged = mergeStrips(rings, apart);
  // A strip's line takes what is shaped anywhere in the strip, which closes from its middle.
  const kept =
    merged.length < apart.length ? walk(rings, shaping, outsideIn, sign, merged) : merged;
  const apartEach = kept.every((t) => isStaggered(t, sign));
  const corners = apartEach || takeTurns(kept, rings, shaping, outsideIn, sign) ? [] : kept;
  return collect(rings, shaping, corners, outsideIn);
}

/** `known`: the lines to follow, from where they begin; null looks for them. */
function walk(
  rings: Rings,
  shaping: ShapingEvent[][],
  outsideIn: boolean,
  sign: number,
  known: readonly Track[] | null,
): Track[] {
  const { courses } = rings;
  const tracks: Track[] = [];
  const from = outsideIn ? 0 : courses - 1;
  const step = outsideIn ? 1 : -1;
  for (let c = from; c >= 0 && c < courses; c += step) {
    const size = ringSize(rings, c);
    const side = size / (known?.length ?? 1);
    for (const t of tracks) {
      // Carried from the course walked before; an event of this course may pull it straight.
      t.place[c] = followWale(rings, c - step, t.place[c - step], step);
    }
    const shaped = shaping[c].filter((e) => e.loss * sign > 0);
    const lost = shaped.reduce((sum, e) => sum + e.loss, 0);
    const gathering = gathers(shaped, size);
    // First what stands exactly on a line; what is left is grouped into corners, then matched nearby.
    const taken = new Map<Track, ShapingEvent[]>();
    const inStrips = takeNear(
      tracks.filter((t) => t.halfWidth > 0),
      shaped,
      REACH,
      c,
      rings,
      taken,
    );
    const stray = takeNear(tracks, inStrips, ON_LINE, c, rings, taken);
    const corners = takeNear(tracks, cornersOf(stray, size, rings.closed), REACH, c, rings, taken);
    // Near the centre the two decreases of one short side are closer than those of a corner.
    const parts = corners.flatMap((corner) => corner.parts ?? [corner]);
    const apart = takeNear(tracks, parts, REACH, c, rings, taken);
    const shapedHere = [...taken.keys()];
    const begins = takeNear(shapedHere, apart, DOUBLED, c, rings, taken);
    const free = begins.length === parts.length ? corners : cornersOf(begins, size, rings.closed);
    if (gathering) {
      // All round alike: the lines share it.
      for (const track of tracks) {
        track.events++;
        if (known) track.loss[c] = lost / tracks.length;
      }
      taken.clear();
    }
    for (const [track, events] of taken) {
      const { place, loss } = together(events, track.place[c], size, rings.closed);
      const moved = shift(track.place[c], place, size, rings.closed);
      // What is made at a line, not taken, stands beside its wale by as much every time.
      if (side >= NARROW_SIDE) {
        track.compared++;
        if (Math.abs(moved - track.moved) > STAGGERED * side) track.wandered++;
      }
      track.moved = moved;
      track.place[c] = place;
      track.loss[c] = loss;
      track.events++;
      track.last = c;
    }
    // Shaped beyond the line's reach.
    if (shaped.length > 0 && side >= NARROW_SIDE && !gathering)
      for (const track of tracks.filter((t) => !taken.has(t))) {
        track.compared++;
        track.wandered++;
      }
    const begun = known
      ?.filter((t) => t.born === c)
      .map((t) => ({ place: t.place[c], loss: t.loss[c], halfWidth: t.halfWidth }));
    for (const event of begun ?? (gathering ? [] : free)) {
      const track: Track = {
        place: new Float64Array(courses),
        loss: new Float64Array(courses),
        halfWidth: 'halfWidth' in event ? event.halfWidth : 0,
        born: c,
        events: 1,
        compared: 0,
        wandered: 0,
        moved: 0,
        last: c,
      };
      track.place[c] = event.place;
      track.loss[c] = event.loss;
      tracks.push(track);
    }
  }
  return tracks;
}

/** [courses] Rounds that shape and do not gather. */
function shapingRounds(rings: Rings, shaping: ShapingEvent[][], sign: number): boolean[] {
  return shaping.map((events, c) => {
    const shaped = events.filter((e) => e.loss * sign > 0);
    return shaped.length > 0 && !gathers(shaped, ringSize(rings, c));
  });
}

/** More than every third stitch lost: a round that gathers begins no lines, moves none and tells of none. */
function gathers(shaped: readonly ShapingEvent[], size: number): boolean {
  const lost = shaped.reduce((sum, e) => sum + e.loss, 0);
  return Math.abs(lost) * 3 > size + lost;
}

/** Distance, in stitches, that a free line may be farther off. Chosen. */
const SHARED = 0.5;

/** Gives events to the nearest track within reach; returns those that found none. */
function takeNear(
  tracks: readonly Track[],
  events: readonly ShapingEvent[],
  reach: number,
  c: number,
  rings: Rings,
  taken: Map<Track, ShapingEvent[]>,
): ShapingEvent[] {
  const size = ringSize(rings, c);
  const left: ShapingEvent[] = [];
  for (const event of events) {
    let best: Track | null = null;
    let bestCost = Number.POSITIVE_INFINITY;
    for (const track of tracks) {
      const off = distance(track.place[c], event.place, size, rings.closed);
      const miss = Math.max(0, off - track.halfWidth);
      // A line that has its stitch already gives way to a free one about as near.
      const cost = off + (taken.has(track) && reach > ON_LINE ? SHARED : 0);
      if (miss <= reach && (best === null || cost < bestCost - 1e-9)) {
        best = track;
        bestCost = cost;
      }
    }
    if (best) taken.set(best, [...(taken.get(best) ?? []), event]);
    else left.push(event);
  }
  return left;
}

/** Remainder in 0 … n; a hair below a full turn counts as none. */
function modulo(value: number, n: number): number {
  const rest = value - Math.floor(value / n) * n;
  return rest > n - 1e-9 ? 0 : rest;
}

/** Tracks that meet their shaping often enough to be lines. */
function stacked(
  tracks: Track[],
  rings: Rings,
  shaping: ShapingEvent[][],
  outsideIn: boolean,
  sign: number,
): Track[] {
  const isShaping = shapingRounds(rings, shaping, sign);
  const total = isShaping.filter(Boolean).length;
  const kept = tracks.filter((t) => {
    // Near the centre everything is within reach of everything: the outer half must stack too.
    const step = outsideIn ? 1 : -1;
    const middle = t.born + Math.round((t.last - t.born) / 2);
    const whole = stacking(t, t.born, t.last, step, isShaping);
    const outer = stacking(t, t.born, middle, step, isShaping);
    const longEnough = t.events >= Math.min(3, total) && whole.rounds * 3 >= total;
    return longEnough && whole.share >= STACKED && outer.share >= STACKED;
  });
  const told = (losses: Iterable<number>): number =>
    [...losses].reduce((sum, loss, c) => sum + (isShaping[c] ? Math.max(0, loss * sign) : 0), 0);
  const onLines = kept.reduce((sum, t) => sum + told(t.loss), 0);
  const all = told(
    shaping.map((events) => events.reduce((sum, e) => sum + Math.max(0, e.loss * sign), 0) * sign),
  );
  return onLines < MIN_SHARE * all ? [] : kept;
}

/** Farther from where its line had it, as a share of a side, shaping was set apart. Chosen: stacked has 0, even spreading 1/3. */
const STAGGERED = 0.15;
/** On sides of fewer stitches shaping stands where there is room for it. Chosen. */
const NARROW_SIDE = 4;

/** Mostly moved to and fro over its side, or single on narrow sides alone: a small disc told by segments, and no corner. */
function isStaggered({ loss, compared, wandered }: Track, sign: number): boolean {
  if (compared === 0) return Math.max(...loss.map((lost) => lost * sign)) < 2;
  return 2 * wandered >= compared;
}

/** By turns, near the rim: in its shaping rounds fewer lines than that share of them shape, as where a few move on each round. */
function takeTurns(
  tracks: readonly Track[],
  rings: Rings,
  shaping: ShapingEvent[][],
  outsideIn: boolean,
  sign: number,
): boolean {
  const shapes = shapingRounds(rings, shaping, sign);
  const half = Math.ceil(rings.courses / 2);
  const met = shapes.flatMap((yes, c) =>
    yes && outsideIn === c < half ? [tracks.filter((t) => t.loss[c] !== 0).length] : [],
  );
  const born = tracks.filter((t) => outsideIn === t.born < half).length;
  return met.reduce((sum, n) => sum + n, 0) < STACKED * born * met.length;
}

/** Shaping this near a free edge, in stitches, shapes the edge. Chosen: a selvedge of two or three. */
const EDGE = 3.5;

function isEdge(rings: Rings, track: Track): boolean {
  return track.loss.every((loss, c) => {
    const fromEnd = ringSize(rings, c) - 1 - track.place[c];
    return loss === 0 || Math.min(track.place[c], fromEnd) <= EDGE;
  });
}

/** How many shaping rounds lie between two courses, and the share of them that the track meets. */
function stacking(
  track: Track,
  from: number,
  to: number,
  step: number,
  isShaping: readonly boolean[],
): { rounds: number; share: number } {
  let rounds = 0;
  let met = 0;
  for (let c = from; c !== to + step; c += step) {
    if (isShaping[c]) rounds++;
    if (track.loss[c] !== 0) met++;
  }
  return { rounds, share: met / Math.max(1, rounds) };
}

function collect(
  rings: Rings,
  shaping: ShapingEvent[][],
  tracks: Track[],
  outsideIn: boolean,
): ShapingLines {
  const { courses, closed } = rings;
  const step = outsideIn ? 1 : -1;
  // Back from each line's first shaping round to the widest course.
  for (const t of tracks) {
    for (let c = t.born - step; c >= 0 && c < courses; c -= step) {
      t.place[c] = followWale(rings, c + step, t.place[c + step], outsideIn ? -1 : 1);
    }
  }
  const wrapped = (t: Track, c: number): number => {
    const n = ringSize(rings, c);
    return closed ? t.place[c] - Math.floor((t.place[c] + 0.5) / n) * n : t.place[c];
  };
  const wide = outsideIn ? 0 : courses - 1;
  const order = tracks.slice().sort((a, b) => wrapped(a, wide) - wrapped(b, wide));
  const lines = order.length;
  const place = new Float64Array(lines * courses);
  const loss = new Float64Array(lines * courses);
  const spread = new Float64Array(courses);
  const edgeBegin = new Float64Array(courses);
  const edgeEnd = new Float64Array(courses);
  for (let c = 0; c < courses; c++) {
    const n = ringSize(rings, c);
    for (const e of shaping[c]) {
      spread[c] += e.loss;
      const [fromBegin, fromEnd] = [e.place, n - 1 - e.place];
      if (closed || Math.min(fromBegin, fromEnd) > EDGE) continue;
      if (fromBegin <= fromEnd) edgeBegin[c] += e.loss;
      else edgeEnd[c] += e.loss;
    }
    for (let k = 0; k < lines; k++) {
      const at = k * courses + c;
      place[at] = wrapped(order[k], c);
      // Ascending from the first line on, once round the course at most.
      if (closed && k > 0) place[at] = place[c] + modulo(place[at] - place[c], n);
      if (k > 0) place[at] = Math.max(place[at], place[at - courses]);
      loss[at] = order[k].loss[c];
      spread[c] -= order[k].loss[c];
    }
  }
  return { lines, place, loss, spread, edgeBegin, edgeEnd };
}
