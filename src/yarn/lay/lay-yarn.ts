/**
 * RelaxedSheet → YarnCurves: lays one continuous yarn on the sheet, loop by loop in working order.
 *
 * Input: graph, cells and vertex positions; the yarn's diameter or, without it, one that fits the
 * stitches. Output: the centre line with every loop drawn through its parents as the graph says, checked
 * exactly, and parted where it would run through yarn. Laid yarn is geometry, not mechanics: `relaxYarn`
 * brings it to rest.
 */
import type { Cells } from '../../fabric/cells.ts';
import type { StitchGraph } from '../../fabric/stitch-graph.ts';
import { separateOverlaps } from '../../rod/separate-overlaps.ts';
import { checkYarn } from '../check/check-yarn.ts';
import type { YarnCurves } from '../yarn-curves.ts';
import type { LaidLoops } from './laid-loops.ts';
import { buildFrames, turnsAfter } from './loop-frames.ts';
import { findKin } from './loop-links.ts';
import { findPlaces } from './loop-places.ts';
import { traceQuarters } from './loop-shape.ts';
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
  const frames = buildFrames(graph, kin, places, { depth: width * DEPTH, diameter });
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
