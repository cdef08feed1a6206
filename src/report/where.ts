/**
 * Where a shape of the sheet leaves level: which courses rise, which wave, and at which corner or side.
 * In: StitchGraph, [3·vertices] places, mm, z up; corners of the piece (0 for none).
 * Out: heights mm, courses 0-based (0 is the cast-on).
 */
import { courseCount, FLAG_SEAM, loopAt, type StitchGraph } from '../fabric/stitch-graph.ts';

/** Along a closed course by its corners, along an open one as seen from the right side. */
export type Place = 'corner' | 'side' | 'between' | 'right' | 'middle' | 'left' | 'anywhere';

export interface Where {
  /** Highest less lowest point, the drawn-up centre among them. */
  readonly riseMm: number;
  /** Mean height of the middle's course less that of the outer edge's. */
  readonly middleMm: number;
  /** Courses between which the mean height makes most of that way, inclusive. */
  readonly slope: Span;
  /** From valley to hill along the course that waves most. */
  readonly waveMm: number;
  /** Courses that wave at least half as much, around that one, inclusive. */
  readonly waving: Span;
  /** One for every hill of the outer edge. */
  readonly hills: readonly Place[];
  readonly highest: {
    readonly course: number;
    readonly place: Place;
    /** Whether its course is long enough for the place to say anything. */
    readonly nearEdge: boolean;
  };
  /** The outer edge and the middle: the first course or the last. */
  readonly edge: number;
  readonly middle: number;
  readonly closed: boolean;
}

export interface Span {
  readonly from: number;
  readonly to: number;
}

/** What is left out at both ends of the way that the mean height goes. Chosen: four fifths are most of it. */
const END = 0.1;
/** Share of the edge's height that a hill must stand over the mean to be counted. As in `posture.ts`. */
const HILL = 0.15;
/** Shares of the way from a corner to the middle of a side up to which, and from which, a place is told as one. Chosen. */
const NEAR = 0.35;
const FAR = 0.65;

interface Course {
  readonly loops: readonly number[];
  readonly mean: number;
  readonly low: number;
  readonly high: number;
}

export function whereItStands(
  graph: StitchGraph,
  places: ArrayLike<number>,
  corners: number,
): Where {
  const courses = Array.from({ length: graph.courses }, (_, c) => measured(graph, places, c));
  const last = courses.length - 1;
  const edge = courses[last].loops.length > courses[0].loops.length ? last : 0;
  const middle = last - edge;
  const placeOf = namer(graph, places, courses[edge].loops, corners);
  const waves = courses.map(({ low, high }) => high - low);
  const most = waves.indexOf(Math.max(...waves));
  const top = courses.reduce((best, { high }, c) => (high > courses[best].high ? c : best), 0);
  const peak = courses[top].loops.find((loop) => places[3 * loop + 2] === courses[top].high);
  // Behind the loops stands the drawn-up centre, where there is one.
  const centre = places.length > 3 * graph.loops ? [places[3 * graph.loops + 2]] : [];
  const lowest = Math.min(...courses.map(({ low }) => low), ...centre);
  return {
    riseMm: Math.max(courses[top].high, ...centre) - lowest,
    middleMm: courses[middle].mean - courses[edge].mean,
    slope: slopeOf(courses.map(({ mean }) => mean)),
    waveMm: waves[most],
    waving: around(waves, most),
    hills: hillsOf(courses[edge], places).map(placeOf),
    highest: {
      course: top,
      place: peak === undefined ? 'anywhere' : placeOf(peak),
      nearEdge: courses[top].loops.length > courses[edge].loops.length / 3,
    },
    edge,
    middle,
    closed: graph.closure !== 'open',
  };
}

function measured(graph: StitchGraph, places: ArrayLike<number>, course: number): Course {
  const loops: number[] = [];
  let [sum, low, high] = [0, Infinity, -Infinity];
  for (let p = 0; p < courseCount(graph, course); p++) {
    const loop = loopAt(graph, course, p);
    if (graph.flags[loop] & FLAG_SEAM) continue;
    loops.push(loop);
    const z = places[3 * loop + 2];
    sum += z;
    low = Math.min(low, z);
    high = Math.max(high, z);
  }
  return { loops, mean: sum / Math.max(1, loops.length), low, high };
}

/** The shortest span in which the mean height goes all but the ends of its way between its extremes. */
function slopeOf(means: readonly number[]): Span {
  const [low, high] = [Math.min(...means), Math.max(...means)];
  const rising = means.indexOf(high) > means.indexOf(low);
  const share = (c: number) => {
    const of = (means[c] - low) / Math.max(1e-9, high - low);
    return rising ? of : 1 - of;
  };
  let from = means.indexOf(rising ? low : high);
  let to = means.indexOf(rising ? high : low);
  while (from < to && share(from + 1) <= END) from++;
  while (to > from && share(to - 1) >= 1 - END) to--;
  return { from, to };
}

function around(waves: readonly number[], most: number): Span {
  let [from, to] = [most, most];
  while (from > 0 && waves[from - 1] >= waves[most] / 2) from--;
  while (to < waves.length - 1 && waves[to + 1] >= waves[most] / 2) to++;
  return { from, to };
}

/** The highest loop of every hill of a closed course. */
function hillsOf({ loops, mean, low, high }: Course, places: ArrayLike<number>): number[] {
  const over = HILL * (high - low);
  const height = (j: number) => places[3 * loops[j % loops.length] + 2] - mean;
  const start = loops.findIndex((_, j) => height(j) < -over);
  if (start < 0) return [];
  const tops: number[] = [];
  let best = -1;
  for (let j = start; j <= start + loops.length; j++) {
    if (height(j) > over && (best < 0 || height(j) > height(best))) best = j;
    if (height(j) >= -over || best < 0) continue;
    tops.push(loops[best % loops.length]);
    best = -1;
  }
  return tops;
}

function namer(
  graph: StitchGraph,
  places: ArrayLike<number>,
  edge: readonly number[],
  corners: number,
): (loop: number) => Place {
  if (graph.closure === 'open') {
    return (loop) => {
      const course = graph.course[loop];
      const at = (loop - graph.start[course] + 0.5) / courseCount(graph, course);
      const fromRight = graph.wrongSide[course] ? 1 - at : at;
      return fromRight < 1 / 3 ? 'right' : fromRight > 2 / 3 ? 'left' : 'middle';
    };
  }
  if (corners < 3) return () => 'anywhere';
  let [x, y] = [0, 0];
  for (const loop of edge) {
    x += places[3 * loop] / edge.length;
    y += places[3 * loop + 1] / edge.length;
  }
  const angle = (loop: number) => Math.atan2(places[3 * loop + 1] - y, places[3 * loop] - x);
  // Corners are where the edge is farthest out: the phase of its `corners`-fold wave.
  let [cos, sin] = [0, 0];
  for (const loop of edge) {
    const out = Math.hypot(places[3 * loop] - x, places[3 * loop + 1] - y);
    cos += out * Math.cos(corners * angle(loop));
    sin += out * Math.sin(corners * angle(loop));
  }
  const phase = Math.atan2(sin, cos);
  return (loop) => {
    const off = Math.abs(Math.atan2(...unit(corners * angle(loop) - phase))) / Math.PI;
    return off < NEAR ? 'corner' : off > FAR ? 'side' : 'between';
  };
}

const unit = (rad: number): [number, number] => [Math.sin(rad), Math.cos(rad)];
