/**
 * RelaxedSheet → YarnCurves: lays one continuous yarn on the sheet, loop by loop in working order.
 *
 * Input: graph, cells and vertex positions; the yarn's diameter or, without it, one that fits the
 * stitches. Output: the centre line with every loop drawn through its parents as the graph says, checked
 * exactly, and parted where it would run through yarn. Laid yarn is geometry, not mechanics: `relaxYarn`
 * brings it to rest.
 */
import type { Cells } from '../../fabric/cells.ts';
import {
  FLAG_FLOAT_IN_FRONT,
  FLAG_SLIPPED,
  FLAG_YARN_OVER,
  type StitchGraph,
} from '../../fabric/stitch-graph.ts';
import { separateOverlaps } from '../../rod/separate-overlaps.ts';
import { checkYarn } from '../check/check-yarn.ts';
import type { YarnCurves } from '../yarn-curves.ts';
import type { LaidLoops } from './laid-loops.ts';
import { crossingLayer, stackOrder } from './loop-layers.ts';
import { findKin, type LoopKin } from './loop-links.ts';
import { findPlaces, type LoopPlaces } from './loop-places.ts';
import { type LoopFrame, makeLoopFrame, traceQuarters } from './loop-shape.ts';
import { mendFeet } from './repair-feet.ts';
import { traceBeginning } from './yarn-beginning.ts';
import { traceEnding } from './yarn-ending.ts';

export interface LayOptions {
  /** A multiple of 4, 16 by default. */
  readonly segmentsPerStitch?: number;
  /** Yarn diameter, mm; by default the mean stitch width over `STITCH_OVER_YARN`. */
  readonly yarnMm?: number | null;
  /** Loops that more is tried for where their feet miss a head; all by default. What is cut off afterwards needs none of it. */
  readonly mended?: (loop: number) => boolean;
}

/** Stitch width over yarn diameter of usual stockinette: `relaxCell` at 17.5 diameters a loop. */
export const STITCH_OVER_YARN = 4.4;
/** How far heads and sinkers reach towards the neighbouring courses: room for the yarn between. Chosen. */
const REACH = 0.93;
/** Depth of a loop's waves over stitch width (loop-start.ts). */
const DEPTH = 0.2;

export function layYarn(
  graph: StitchGraph,
  cells: Cells,
  positions: ArrayLike<number>,
  options: LayOptions = {},
): YarnCurves {
  const laid = layLoops(graph, cells, positions, options);
  const { points, loop, loopStart, strandStart, segments, diameter, kin } = laid;
  mendFeet(graph, laid, { mended: options.mended });
  separateOverlaps(points, strandStart, diameter);
  return {
    version: 1,
    points,
    strandStart,
    loop,
    loopStart,
    radiusMm: diameter / 2,
    segmentsPerStitch: segments,
    lengthMm: polylineLength(points),
    check: checkYarn(graph, kin, laid),
  };
}

/** Before second thoughts: a foot may miss a head, and yarn run through yarn. */
export function layLoops(
  graph: StitchGraph,
  cells: Cells,
  positions: ArrayLike<number>,
  options: LayOptions = {},
): LaidLoops {
  const segments = options.segmentsPerStitch ?? 16;
  if (!Number.isInteger(segments) || segments < 8 || segments % 4 !== 0) {
    throw new RangeError(`segments a stitch must be a multiple of 4, 8 or more, got ${segments}`);
  }
  const kin = findKin(graph);
  const width = meanWidth(graph, cells, positions);
  const diameter = options.yarnMm ?? width / STITCH_OVER_YARN;
  if (!(diameter > 0) || !Number.isFinite(diameter)) {
    throw new RangeError(`yarn thickness must be more than 0 mm, got ${diameter}`);
  }
  const places = findPlaces(graph, cells, kin, positions, diameter);
  const frames = buildFrames(graph, kin, places, width * DEPTH, diameter);
  const n = graph.loops;
  const ending = traceEnding(graph, kin, places, frames, diameter, segments);
  const beginning = traceBeginning(graph, cells, frames, diameter, segments);
  const first = beginning.points.length / 3;
  const loopStart = Int32Array.from({ length: n + 1 }, (_, i) => first + i * segments);
  const total = loopStart[n] + 1 + ending.points.length / 3;
  const points = new Float32Array(3 * total);
  const loop = new Int32Array(total).fill(-1);
  points.set(beginning.points);
  loop.set(beginning.loop);
  for (let i = 0; i < n; i++) {
    points.set(traceQuarters(frames[i], segments), 3 * loopStart[i]);
    loop.fill(i, loopStart[i], loopStart[i + 1]);
  }
  if (n > 0) loop[loopStart[n]] = n - 1;
  points.set(ending.points, 3 * (loopStart[n] + 1));
  loop.set(ending.loop, loopStart[n] + 1);
  const turns = turningPoints(graph);
  for (const i of turns) roundTurn(points, loopStart[i], segments);
  const strandStart = Int32Array.from([0, total]);
  return { points, loop, loopStart, strandStart, segments, diameter, frames, kin };
}

/** One LoopFrame a loop, in yarn order. */
function buildFrames(
  graph: StitchGraph,
  kin: LoopKin,
  places: LoopPlaces,
  depth: number,
  diameter: number,
): LoopFrame[] {
  const n = graph.loops;
  const frames: LoopFrame[] = [];
  const faceAt = (i: number) => (graph.flags[i] & FLAG_SLIPPED ? sourceFace(i) : graph.face[i]);
  for (let i = 0; i < n; i++) {
    const f = makeLoopFrame();
    const children = kin.childStart[i + 1] - kin.childStart[i];
    const child = children > 0 ? kin.children[kin.childStart[i]] : -1;
    const gathered = child >= 0 && places.gathers[child] === 1;
    // Gathered heads and feet have their own reach (loop-places.ts).
    const reachDown = places.gathers[i] ? 1 : REACH;
    const reachUp = gathered && kin.parentStart[child + 1] - kin.parentStart[child] < 2 ? 1 : REACH;
    for (let c = 0; c < 3; c++) {
      const own = places.own[3 * i + c];
      f.own[c] = own;
      f.down[c] = own + reachDown * (places.down[3 * i + c] - own);
      f.up[c] = own + reachUp * (places.up[3 * i + c] - own);
      f.across[c] = places.across[3 * i + c];
      f.headAcross[c] = places.headAcross[3 * i + c];
      f.normal[c] = places.normal[3 * i + c];
    }
    layHeadNormal(f, i);
    f.depth = depth;
    f.diameter = diameter;
    f.sigmaLow = faceAt(i);
    f.sigmaUp = child >= 0 ? childrenFace(i) : faceAt(i);
    f.crossedHead = kin.crossedHead[i] === 1;
    f.crossedFoot = kin.crossedFoot[i] === 1;
    f.openFoot = (graph.flags[i] & FLAG_YARN_OVER) !== 0;
    if (gathered) {
      f.travel = GATHERED_TRAVEL;
      if (kin.parentStart[child + 1] - kin.parentStart[child] > 1) layHeadLean(f);
      layTravel(f, i, child);
    }
    if (places.gathers[i]) {
      const heads = kin.parentStart[i + 1] - kin.parentStart[i];
      f.footPinch = heads > 1 ? 0.9 : 0.95;
      f.legLayer = graph.face[i] * stackOrder(1, heads, 0) * OVER_HEADS * diameter;
      // Where the sinkers lie on the wrong side of a shifted head, the foot has to reach round it.
      const behind = graph.layer[i] * graph.face[i] < 0 ? 1 : 0;
      f.footLayer = -graph.face[i] * behind * 1.2 * diameter;
    }
    if (graph.flags[i] & FLAG_SLIPPED) {
      const front = (graph.flags[i] & FLAG_FLOAT_IN_FRONT) !== 0;
      f.float = front ? 2 * depth + 0.4 * diameter : -(depth + 0.4 * diameter);
    }
    frames.push(f);
  }
  for (let i = 0; i < n; i++) {
    const f = frames[i];
    const next = i + 1 < n ? frames[i + 1] : null;
    if (i === 0) {
      f.normalIn.set(f.normal);
      for (let c = 0; c < 3; c++) f.sinkerIn[c] = f.down[c] - f.across[c] / 2;
      f.sigmaIn = f.sigmaLow;
    }
    if (!next) {
      f.normalOut.set(f.normal);
      for (let c = 0; c < 3; c++) f.sinkerOut[c] = f.down[c] + f.across[c] / 2;
      f.sigmaOut = f.sigmaLow;
      continue;
    }
    const turns = turnsAfter(graph, i);
    for (let c = 0; c < 3; c++) {
      let point = (f.down[c] + next.down[c]) / 2;
      // At the edge of flat work the yarn goes round the outside of the edge stitch.
      if (turns) {
        point = (f.down[c] + next.down[c]) / 2 + TURN_OUT * (f.across[c] - next.across[c]);
      }
      // Knit and purl out of one stitch: between them the yarn goes over its head.
      if (overHead(i)) {
        const rise = (f.own[c] - f.down[c] + next.own[c] - next.down[c]) / 2;
        point = (f.own[c] + next.own[c]) / 2 + OVER_HEAD * rise;
      }
      // The stitch before a seam ends in the fabric; the fold begins behind its sinker.
      if (places.hidden[i] < places.hidden[i + 1]) point = f.down[c] + f.across[c] / 2;
      if (places.hidden[i] > places.hidden[i + 1]) point = next.down[c] - next.across[c] / 2;
      f.sinkerOut[c] = point;
      next.sinkerIn[c] = point;
      f.normalOut[c] = f.normal[c] + next.normal[c];
    }
    const size = Math.hypot(f.normalOut[0], f.normalOut[1], f.normalOut[2]);
    for (let c = 0; c < 3; c++) {
      f.normalOut[c] = size > 1e-9 ? f.normalOut[c] / size : f.normal[c];
      next.normalIn[c] = f.normalOut[c];
    }
    f.sigmaOut = next.sigmaIn = turns ? 0 : (f.sigmaLow + next.sigmaLow) / 2;
  }
  return frames;

  /** True where loop i and the next are a knit and a purl out of the same head. */
  function overHead(i: number): boolean {
    const from = kin.parentStart[i];
    return (
      graph.face[i] !== graph.face[i + 1] &&
      kin.parentStart[i + 1] - from === 1 &&
      kin.parentStart[i + 2] - from === 2 &&
      kin.parents[from] === kin.parents[from + 1]
    );
  }

  /** Mean face of the loops drawn through loop i: a head between knit and purl ones lies in the middle. */
  function childrenFace(i: number): number {
    let sum = 0;
    for (let k = kin.childStart[i]; k < kin.childStart[i + 1]; k++)
      sum += graph.face[kin.children[k]];
    return sum / (kin.childStart[i + 1] - kin.childStart[i]);
  }

  /** Heads drawn together stand upright, wherever their loops come from, so that one foot meets all. */
  function layHeadLean(f: LoopFrame): void {
    let lean = 0;
    let square = 1e-300;
    for (let c = 0; c < 3; c++) {
      lean += (f.own[c] - f.down[c]) * f.headAcross[c];
      square += f.headAcross[c] * f.headAcross[c];
    }
    for (let c = 0; c < 3; c++) f.headLean[c] = (lean / square) * f.headAcross[c];
  }

  function layHeadNormal(f: LoopFrame, i: number): void {
    for (let k = kin.childStart[i]; k < kin.childStart[i + 1]; k++) {
      for (let c = 0; c < 3; c++) f.headNormal[c] += places.normal[3 * kin.children[k] + c];
    }
    const size = Math.hypot(f.headNormal[0], f.headNormal[1], f.headNormal[2]);
    for (let c = 0; c < 3; c++) {
      f.headNormal[c] = size > 1e-9 ? f.headNormal[c] / size : f.normal[c];
    }
  }

  /** The old loop that is carried gives a slipped loop its face. */
  function sourceFace(i: number): number {
    let p = i;
    while (graph.flags[p] & FLAG_SLIPPED && graph.parentStart[p] < graph.parentStart[p + 1]) {
      p = graph.parents[graph.parentStart[p]];
    }
    return graph.face[p];
  }

  /** Front and back of travelling legs: by the cable's layer, or by the order in the decrease. */
  function layTravel(f: LoopFrame, i: number, child: number): void {
    if (graph.layer[child] !== 0) {
      f.travelLayer = crossingLayer(graph, child) * TRAVEL_DEPTH * diameter;
      return;
    }
    const from = kin.parentStart[child];
    const count = kin.parentStart[child + 1] - from;
    if (count < 2) return;
    let k = 0;
    while (k < count - 1 && kin.parents[from + k] !== i) k++;
    const order = stackOrder(graph.face[child], count, k);
    f.travelLayer = order * 0.4 * diameter;
    f.headLayer = order * diameter;
  }
}

/** Shift of a cable's legs where they cross, beyond that of their loops (loop-places.ts). Chosen. */
const TRAVEL_DEPTH = 1;
/** How far above the legs yarn crosses the head that it comes through, shares of the way down. Chosen. */
const OVER_HEAD = 0.4;
/** How far legs rise over heads that lie on one another, shares of their depth. Chosen. */
const OVER_HEADS = 0.8;
/** How far outside the edge the yarn turns, half stitches. Chosen: with 0.3 a foot at a
 * slanting edge turns back through its own head. */
const TURN_OUT = 0.45;
/** Legs of gathered loops travel in this share of their upper half, below the foot they meet. Chosen. */
const GATHERED_TRAVEL = 0.6;

/** True where the yarn turns after loop i: at the end of a row of flat work, or of a short row. */
function turnsAfter(graph: StitchGraph, i: number): boolean {
  const course = graph.course[i];
  const turns = graph.closure !== 'helix' || graph.held?.turned[course] === 1;
  return turns && graph.course[i + 1] !== course;
}

function turningPoints(graph: StitchGraph): number[] {
  const turns: number[] = [];
  for (let i = 0; i + 1 < graph.loops; i++) if (turnsAfter(graph, i)) turns.push(i + 1);
  return turns;
}

/** Rounds the yarn where it turns: both loops meet there edge to edge. */
function roundTurn(points: Float32Array, at: number, segments: number): void {
  const reach = Math.max(1, segments >> 3);
  const from = Math.max(1, at - reach);
  const to = Math.min(points.length / 3 - 2, at + reach);
  const next = new Float32Array(3 * (to - from + 1));
  for (let pass = 0; pass < 2; pass++) {
    for (let k = from; k <= to; k++) {
      for (let c = 0; c < 3; c++) {
        const i = 3 * k + c;
        next[3 * (k - from) + c] = 0.5 * points[i] + 0.25 * (points[i - 3] + points[i + 3]);
      }
    }
    points.set(next, 3 * from);
  }
}

function meanWidth(graph: StitchGraph, cells: Cells, positions: ArrayLike<number>): number {
  let sum = 0;
  let count = 0;
  for (let i = 1; i < graph.loops; i++) {
    if (graph.course[i] !== graph.course[i - 1]) continue;
    if (!cells.inSurface[i] || !cells.inSurface[i - 1]) continue;
    const a = 3 * i;
    const width = Math.hypot(
      positions[a] - positions[a - 3],
      positions[a + 1] - positions[a - 2],
      positions[a + 2] - positions[a - 1],
    );
    if (!(width > 0)) continue;
    sum += width;
    count++;
  }
  return count > 0 ? sum / count : 1;
}

export function polylineLength(points: ArrayLike<number>): number {
  let length = 0;
  for (let i = 3; i < points.length; i += 3) {
    length += Math.hypot(
      points[i] - points[i - 3],
      points[i + 1] - points[i - 2],
      points[i + 2] - points[i - 1],
    );
  }
  return length;
}
