/**
 * Starting centre lines of a periodic repeat with cables: lays yarn on a lattice of several repeats and
 * cuts one out. Input as `startLoops`, plus the crossings. Same output. Every row has the same yarn: what a crossing's
 * longer way takes comes from its neighbours in the row.
 */

import type { Strand } from '../rod/rod-system.ts';
import { separateOverlaps } from '../rod/separate-overlaps.ts';
import { layLoops, polylineLength } from '../yarn/lay/lay-yarn.ts';
import { mendFeet } from '../yarn/lay/repair-feet.ts';
import { buildLattice, type CellCrossing, FIRST_COURSE } from './lattice-graph.ts';
import type { FaceGrid, LoopStart } from './loop-start.ts';

/** Row height over stitch width of the start, as in loop-start.ts. */
const START_HEIGHT = 0.77;
/**
 * Longest laid row over its own yarn that thin yarn can draw in: beyond it (four over four, a quarter) the strands of
 * a crossing are drawn into each other before they are thick enough to keep apart. Chosen: three over three, 1.18, rests.
 */
const MOST_DRAWN = 1.19;
/** Stitch width over yarn diameter while laying; only spaces the crossing layers. */
const START_WIDTH = 4.4;

export interface CrossedStart extends LoopStart {
  /** [segments, strand after strand] their lengths as laid, to be drawn in as the yarn grows; null where at once will do. */
  readonly laid: Float64Array | null;
}

export function startCrossed(
  faces: FaceGrid,
  crossings: readonly CellCrossing[],
  length: number,
  segments: number,
): CrossedStart {
  const rows = faces.length;
  const wales = faces[0].length;
  const tiles = 3;
  const lattice = buildLattice(faces, crossings, tiles, FIRST_COURSE + rows + 2, 1, START_HEIGHT);
  const yarn = layLoops(lattice.graph, lattice.cells, lattice.positions, {
    segmentsPerStitch: segments,
    yarnMm: 1 / START_WIDTH,
  });
  // At its sides the lattice is cut, and the yarn runs right across to the next course: no foot there can be mended.
  const perCourse = tiles * wales;
  const inside = (loop: number) => loop % perCourse > 0 && loop % perCourse < perCourse - 1;
  mendFeet(lattice.graph, yarn, { wanted: inside });
  const perRow = wales * segments;
  const firstOf = (row: number) => yarn.loopStart[(FIRST_COURSE + row) * tiles * wales + wales];
  // What is cut out, with the point after it.
  const kept = new Uint8Array(yarn.points.length / 3);
  for (let row = 0; row < rows; row++) kept.fill(1, firstOf(row), firstOf(row) + perRow + 1);
  separateOverlaps(yarn.points, yarn.strandStart, yarn.diameter, (point) => kept[point] === 1);
  const curves: Float64Array[] = [];
  let total = 0;
  for (let row = 0; row < rows; row++) {
    const first = firstOf(row);
    // One point more than a repeat: where the next begins.
    const points = Float64Array.from(yarn.points.subarray(3 * first, 3 * (first + perRow + 1)));
    total += polylineLength(points);
    curves.push(points);
  }
  const scale = length / (total / (rows * wales));
  let drawn = 1;
  const strands = curves.map((points): Strand => {
    for (let i = 0; i < points.length; i++) points[i] *= scale;
    // Along the row the laid segments keep their proportions.
    const stretch = (wales * length) / polylineLength(points);
    drawn = Math.max(drawn, 1 / stretch);
    const rest = new Float64Array(perRow);
    lengthsOf(points).forEach((segment, k) => {
      rest[k] = stretch * segment;
    });
    // Worked from right to left.
    return { points: points.subarray(0, 3 * perRow), closed: true, image: [-1, 0], rest };
  });
  const laid =
    drawn > MOST_DRAWN ? Float64Array.from(curves.flatMap((points) => lengthsOf(points))) : null;
  return { strands, width: wales * scale, height: rows * START_HEIGHT * scale, laid };
}

/** Of the segments of a polyline. */
function lengthsOf(points: Float64Array): number[] {
  return Array.from({ length: points.length / 3 - 1 }, (_, k) =>
    Math.hypot(
      points[3 * k + 3] - points[3 * k],
      points[3 * k + 4] - points[3 * k + 1],
      points[3 * k + 5] - points[3 * k + 2],
    ),
  );
}
