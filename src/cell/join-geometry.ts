/**
 * A patch of stockinette in the round, cut out round its join and laid flat.
 *
 * Input: how the join is made; the size and the yarn of a relaxed stitch, in yarn diameters: the ordinary
 * fabric above the join consists of such stitches from the start. Output: strands, one a level, each running from right to left through the join: the last stitches of one round, then the
 * first of the next; the cast-on's last stitch stands one round higher than its first (the jog).
 */
import type { StitchGraph } from '../fabric/stitch-graph.ts';
import type { Strand } from '../rod/rod-system.ts';
import { wrongLinksOf } from '../yarn/check/check-yarn.ts';
import { layYarn } from '../yarn/lay/lay-yarn.ts';
import { findKin } from '../yarn/lay/loop-links.ts';
import { noCells, plainGraph } from './lattice-graph.ts';
import type { RelaxedLoop } from './relaxed-loop.ts';
import { splitSegments } from './split-segments.ts';

/** How a round is closed; a piece worked flat is sewn instead (seam-geometry.ts). */
export type RoundJoin = 'plain' | 'crossed' | 'extra';

export interface JoinPatch {
  readonly strands: Strand[];
  /** [nodes over all strands] 7 where held. */
  readonly held: Uint8Array;
  /** The same while the laid yarn grows to its thickness: the ordinary fabric is at rest already. */
  readonly heldAtFirst: Uint8Array;
  /** Segments (over all strands) of the running thread from the cast-on into round 1. */
  readonly thread: Int32Array;
  readonly linksWrong: number;
}

/** Stitches each side of the join that are kept, and those beyond that only help to lay them. */
export const SIDE = 5;
const GUARD = 2;
/** Rounds above the cast-on. */
export const LEVELS = 5;
/** Level from which the stitches hang on ordinary ones: above the cast-on and the round worked on it. */
const FIRST_ORDINARY = 2;
/**
 * Parts into which the segments of the running thread are cut: slack lengthens them, and long ones cannot hang in a bow. Chosen: with
 * half a loop of slack they are as long as the others then.
 */
const THREAD_PARTS = 2;

export function buildJoinPatch(method: RoundJoin, relaxed: RelaxedLoop): JoinPatch {
  const { height, length: loop, segments } = relaxed;
  const laid = layJoin(method, relaxed);
  const { graph, positions, kept } = laid;
  const yarn = layYarn(graph, noCells(graph.loops), positions, {
    segmentsPerStitch: segments,
    yarnMm: 1,
    mended: kept,
  });
  const { points, loopStart } = yarn;
  const laidLoop = (i: number) => lengthBetween(points, loopStart[i], loopStart[i + 1]);
  // A plain stitch far from the join and the cast-on gives the scale: laid length to loop length.
  const castOnLoop = (loop * laidLoop(graph.start[0] + 2)) / laidLoop(graph.start[3] + 2);
  // Above the cast-on and the round on it the fabric is ordinary, and at rest already.
  for (let i = 0; i < graph.loops; i++) {
    if (positions[3 * i + 1] < (FIRST_ORDINARY - 0.5) * height) continue;
    putOrdinary(relaxed, positions.subarray(3 * i, 3 * i + 3), points, loopStart[i]);
  }
  const kin = findKin(graph);
  let linksWrong = 0;
  for (let i = graph.start[1]; i < graph.loops; i++) {
    if (!kept(i)) continue;
    const curves = { ...yarn, segments, diameter: 1 };
    for (const k of wrongLinksOf(graph, kin, curves, i)) if (kept(kin.parents[k])) linksWrong++;
  }
  return { ...cutPatch({ laid, points, loopStart, loop, castOnLoop, segments }), linksWrong };
}

/** The stitches round a join before any yarn is laid through them. */
interface LaidJoin {
  readonly graph: StitchGraph;
  /** [3·loops] middles of the stitches, yarn diameters. */
  readonly positions: Float64Array;
  /** Whether a loop is part of the patch; the others only help to lay it. */
  readonly kept: (loop: number) => boolean;
  /** Loops that have the yarn of a longer way. */
  readonly crossed: ReadonlySet<number>;
}

function layJoin(method: RoundJoin, { width, height }: RelaxedLoop): LaidJoin {
  const perRound = 2 * (SIDE + GUARD);
  const extra = method === 'extra' ? 1 : 0;
  const castOn = perRound + extra;
  const courses = LEVELS + 1;
  const start = Int32Array.from({ length: courses + 1 }, (_, c) =>
    c === 0 ? 0 : castOn + (c - 1) * perRound,
  );
  const loops = start[courses];
  const course = new Int32Array(loops);
  const position = new Int32Array(loops);
  const positions = new Float64Array(3 * loops);
  const parentStart = new Int32Array(loops + 1);
  const parents: number[] = [];
  const lists: number[][] = Array.from({ length: loops }, () => []);
  const half = perRound / 2;
  for (let c = 0; c < courses; c++) {
    for (let i = start[c]; i < start[c + 1]; i++) {
      const p = i - start[c];
      course[i] = c;
      position[i] = p;
      const left = p < half;
      positions[3 * i] = (left ? -(p + 0.5) : perRound - p - 0.5) * width;
      positions[3 * i + 1] = (left ? c : c + 1) * height;
      if (c > 0) {
        const below = start[c - 1];
        // The extra cast-on loop hangs behind the first stitch of the round.
        const from = c === 1 && p === 0 && extra ? [below, below + perRound] : [below + p];
        for (const f of from) {
          parents.push(f);
          lists[f].push(i);
        }
      }
      parentStart[i + 1] = parents.length;
    }
  }
  const first = start[0];
  const last = start[1] - 1;
  const firstOf = start[1];
  const lastOf = start[2] - 1;
  if (method === 'extra') {
    // Between the columns, half a round up: worked with the first stitch it comes over to it.
    positions[3 * last] = -0.1 * width;
    positions[3 * last + 1] = 0.5 * height;
  }
  if (method === 'crossed') {
    changePlaces(positions, first, last, height);
    parents[parentStart[firstOf]] = last;
    parents[parentStart[lastOf]] = first;
    lists[last] = [firstOf];
    lists[first] = [lastOf];
  }
  const graph = plainGraph(
    { start, course, position, parentStart, parents: Int32Array.from(parents) },
    (i) => lists[i],
  );
  const kept = (i: number) =>
    position[i] < SIDE || position[i] >= start[course[i] + 1] - start[course[i]] - SIDE - extra;
  const crossed = new Set(method === 'crossed' ? [first, last, firstOf, lastOf] : []);
  return { graph, positions, kept, crossed };
}

/** Two loops whose feet stay where they were cast on and whose heads change places: both middles lie between. */
function changePlaces(
  positions: Float64Array,
  behind: number,
  inFront: number,
  height: number,
): void {
  for (const i of [behind, inFront]) {
    positions[3 * i] = 0;
    positions[3 * i + 1] = 0.5 * height;
  }
  positions[3 * inFront + 2] = 0.8;
  positions[3 * behind + 2] = -0.8;
}

/** Puts the loop of ordinary fabric round a stitch's middle into `points` from point `first` on. */
function putOrdinary(
  { points: ordinary, segments }: RelaxedLoop,
  middle: Float64Array,
  points: Float32Array,
  first: number,
): void {
  for (let k = 0; k < segments; k++) {
    const at = 3 * (first + k);
    // Worked from right to left; the cell's loop runs the other way.
    points[at] = middle[0] - ordinary[3 * k];
    points[at + 1] = middle[1] + ordinary[3 * k + 1];
    points[at + 2] = ordinary[3 * k + 2];
  }
}

function lengthBetween(points: ArrayLike<number>, from: number, to: number): number {
  let length = 0;
  for (let i = 3 * from; i < 3 * to; i += 3) {
    length += Math.hypot(
      points[i + 3] - points[i],
      points[i + 4] - points[i + 1],
      points[i + 5] - points[i + 2],
    );
  }
  return length;
}

/** A join with its yarn, laid. */
interface LaidPatch {
  readonly laid: LaidJoin;
  /** [3·points] and [loops + 1] the first point of each loop. */
  readonly points: Float32Array;
  readonly loopStart: Int32Array;
  /** Yarn of a loop, and of a cast-on loop. */
  readonly loop: number;
  readonly castOnLoop: number;
  readonly segments: number;
}

/** Cuts the strands level by level and shares the yarn out. */
function cutPatch({
  laid: { graph, crossed },
  points,
  loopStart,
  loop,
  castOnLoop,
  segments,
}: LaidPatch): Omit<JoinPatch, 'linksWrong'> {
  // From laid length to yarn, by a cast-on loop far from the join.
  const scale = castOnLoop / lengthBetween(points, loopStart[2], loopStart[3]);
  const strands: Strand[] = [];
  const held: number[] = [];
  const heldAtFirst: number[] = [];
  let thread = new Int32Array(0);
  const lengthOf = (k: number) => lengthBetween(points, k, k + 1);
  // Every loop has the yarn of its kind; those that change places also that of their longer way: they are lifted
  // over one another while live and draw what they need.
  const shareOf = (i: number) => {
    const kind = graph.course[i] === 0 ? castOnLoop : loop;
    const laid = lengthBetween(points, loopStart[i], loopStart[i + 1]);
    return (crossed.has(i) ? Math.max(kind, laid * scale) : kind) / laid;
  };
  let segmentBase = 0;
  for (let level = 0; level <= LEVELS; level++) {
    // Right part: last stitches of the round below; left part: first stitches of this round.
    const leftFirst = graph.start[level];
    const joined = level > 0;
    const from = joined ? leftFirst - rightCount(graph, level - 1) : leftFirst;
    const to = leftFirst + SIDE;
    const firstPoint = loopStart[from];
    const lastPoint = loopStart[to];
    const rest: number[] = [];
    for (let i = from; i < to; i++) {
      const share = shareOf(i);
      for (let k = loopStart[i]; k < loopStart[i + 1]; k++) rest.push(share * lengthOf(k));
    }
    // The sinker: last quarter of the stitch before the join, first of the one after.
    const quarter = segments / 4;
    const threadFrom = loopStart[leftFirst] - quarter - firstPoint;
    const threadTo = threadFrom + (level === 1 ? 2 * quarter : 0);
    const { cut, first } = splitSegments(
      { points: points.subarray(3 * firstPoint, 3 * (lastPoint + 1)), closed: false, rest },
      threadFrom,
      threadTo,
      THREAD_PARTS,
    );
    strands.push(cut);
    for (let k = firstPoint; k <= lastPoint; k++) {
      const end = (joined && k < loopStart[from + 1]) || k >= loopStart[to - 1] || level === LEVELS;
      const fixed = end || isCastOnFoot(graph, loopStart, k, from, leftFirst, segments);
      const copies = k < lastPoint ? first[k + 1 - firstPoint] - first[k - firstPoint] : 1;
      for (let copy = 0; copy < copies; copy++) {
        held.push(fixed ? 7 : 0);
        heldAtFirst.push(fixed || level >= FIRST_ORDINARY ? 7 : 0);
      }
    }
    if (level === 1) {
      const begin = segmentBase + first[threadFrom];
      thread = Int32Array.from(
        { length: first[threadTo] - first[threadFrom] },
        (_, k) => begin + k,
      );
    }
    segmentBase += first[lastPoint - firstPoint];
  }
  return {
    strands,
    held: Uint8Array.from(held),
    heldAtFirst: Uint8Array.from(heldAtFirst),
    thread,
  };
}

/**
 * Feet of cast-on loops are held: a cast-on is tight in itself, but as bare yarn it would unroll from its
 * end. The last quarter of the last loop is left free: it is the running thread into round 1.
 */
function isCastOnFoot(
  graph: StitchGraph,
  loopStart: Int32Array,
  point: number,
  from: number,
  leftFirst: number,
  segments: number,
): boolean {
  const loop = Math.min(from + Math.floor((point - loopStart[from]) / segments), graph.loops - 1);
  if (graph.course[loop] !== 0) return false;
  const k = point - loopStart[loop];
  if (k <= segments / 4) return true;
  return k >= (3 * segments) / 4 && loop !== leftFirst - 1;
}

/** Stitches of a course that lie to the right of the join and are kept. */
function rightCount(graph: StitchGraph, course: number): number {
  const extra = graph.start[course + 1] - graph.start[course] - 2 * (SIDE + GUARD);
  return SIDE + extra;
}
