/**
 * The relaxed periodic cell: from loop length and yarn thickness to stitch width and round height.
 *
 * Input: a fabric by name or a small grid of faces, lengths in mm. Output: sizes, Munden's constants,
 * the centre lines and an honest record of convergence. Recipe: yarn as an inextensible bending rod in
 * contact with itself, periods unknown, inflated from thin yarn (Poincloux et al. 2018 for the physics).
 * Inside, the yarn's diameter is the unit of length and its bending stiffness is 1.
 */

import { type Link, linkOf, type PointOf } from '../rod/linking.ts';
import { buildRodSystem, type RodSystem } from '../rod/rod-system.ts';
import type { YarnRelaxation } from '../rod/yarn-material.ts';
import { checkCrossings, checkRequest } from './cell-limits.ts';
import { startCrossed } from './crossed-start.ts';
import { type CellCrossing, parentWales } from './lattice-graph.ts';
import { type FaceGrid, startLoops } from './loop-start.ts';
import { refreshArc } from './slack.ts';
import { CABLE_GROWTH_STEPS, YarnRun, type YarnRunSetting } from './yarn-run.ts';

export type CellFabric = 'stockinette' | 'reverse' | 'garter' | 'rib 1x1' | 'rib 2x2' | 'seed';

/** Faces as seen from the right side, rows upwards. */
export const CELL_FACES: Readonly<Record<CellFabric, FaceGrid>> = {
  stockinette: [[1]],
  reverse: [[-1]],
  garter: [[1], [-1]],
  'rib 1x1': [[1, -1]],
  'rib 2x2': [[1, 1, -1, -1]],
  seed: [
    [1, -1],
    [-1, 1],
  ],
};

export interface CellRequest {
  readonly stitch: CellFabric | FaceGrid;
  /** Cables in the repeat; wales then count from the right. */
  readonly crossings?: readonly CellCrossing[];
  /** Height of a round held at this, mm, by the fabric around; by default it is an unknown. */
  readonly roundMm?: number;
  /** Factors on the start's height (its width shrinks as much) and depth: ribs rest in several states. */
  readonly start?: { readonly height: number; readonly depth: number };
  /** A cell of the same repeat at rest to go on from, whatever its loop length. */
  readonly from?: Pick<CellResult, 'loopMm' | 'shape'>;
  /** Tolerances at which to stop and compare, B/d² (`CELL_STOPS` by default). */
  readonly stops?: readonly number[];
  /** Yarn length of one stitch, mm. */
  readonly loopMm: number;
  /** Mechanical diameter of the yarn, mm: pressed, without its halo. */
  readonly yarnMm: number;
  /** Polyline segments a stitch; even, 48 by default. */
  readonly segments?: number;
  /**
   * Points a segment over which contact is summed (summed-contact.ts), as a check on how far segments matter: with 48 of them sizes
   * come within 1 % of where they tend to. 0, as by default: between closest points, by which the tables are computed.
   */
  readonly samples?: number;
  /** Stiffness towards the table, units of B/d⁴; `TABLE_STIFFNESS` by default. */
  readonly plane?: number;
  readonly maxIterations?: number;
  /** Return true to cancel. `shape` gives the yarn as it is now, to be asked during the call only. */
  readonly onProgress?: (
    residual: number,
    stitchMm: number,
    roundMm: number,
    shape: () => CellShape,
  ) => boolean | undefined;
}

export interface CellResult {
  readonly stitch: string;
  readonly loopMm: number;
  readonly yarnMm: number;
  /** Width of a stitch, height of a round, overall thickness including the yarn's. */
  readonly stitchMm: number;
  readonly roundMm: number;
  readonly thicknessMm: number;
  /** l/h, l/w, l²/(w h) and (l/h)/(l/w) = w/h. */
  readonly kc: number;
  readonly kw: number;
  readonly ks: number;
  readonly kr: number;
  /** Energy of a stitch over B, times its yarn length: of two states the lower one is at rest more firmly. */
  readonly energy: number;
  readonly relaxation: YarnRelaxation;
  readonly shape: CellShape;
}

/** Centre lines of one repeat, for drawing. */
export interface CellShape {
  /** [3·points] mm, row after row, each `pointsPerRow` long; continues one period to the right. */
  readonly points: Float64Array;
  readonly pointsPerRow: number;
  readonly rows: number;
  readonly wales: number;
  readonly periodMm: readonly [number, number];
}

/**
 * Stiffness of the soft plane that stands for the table, in B/d⁴ per length of yarn. One value for all
 * fabrics. Order of magnitude: a wool yarn of 500 tex has about 1000 free fibres of 22 µm, so
 * B ≈ 3e-8 N m²; with d = 1.2 mm, 0.003 is 0.05 N per metre of yarn one diameter off the plane, ten times
 * the yarn's own weight (0.005 N/m): fabric laid flat and patted. Within the plausible decade
 * 0.0005–0.005 the value was chosen with garter's published height over width of 0.5 in view. It belongs
 * to the yarn, not to the loop: plain knit does not feel it, loose garter and rib more than tight ones.
 */
export const TABLE_STIFFNESS = 0.003;
/** The same for fabric pressed flat, as pinned out, B/d⁴: some thirty times that of the table. Chosen. */
export const FLAT_STIFFNESS = 0.1;

/** Segments a stitch of a cell. What others give: tests/golden/yarn-by-segments.md. */
export const CELL_SEGMENTS = 48;
/** Tolerances on the largest force, B/d², and how well two of them must agree (YARN.md: 1 %). */
const CELL_STOPS: readonly number[] = [1e-3, 1e-4, 1e-5];
const CELL_AGREEMENT = 0.01;
/** Most steps to each of them. Chosen: many times what any cell needs. */
const MAX_STEPS = 40_000;

export function relaxCell(request: CellRequest): CellResult {
  const faces = typeof request.stitch === 'string' ? CELL_FACES[request.stitch] : request.stitch;
  const name = typeof request.stitch === 'string' ? request.stitch : 'repeat';
  const segments = request.segments ?? CELL_SEGMENTS;
  checkRequest(faces, request.loopMm, request.yarnMm, segments);
  checkCrossings(faces, request.crossings ?? []);
  const loop = request.loopMm / request.yarnMm;
  const rows = faces.length;
  const wales = faces[0].length;
  const crossings = request.crossings ?? [];
  const start =
    crossings.length > 0
      ? startCrossed(faces, crossings, loop, segments)
      : { ...startLoops(faces, loop, segments), laid: null };
  const { system, positions } = buildRodSystem(start.strands);
  const period = Float64Array.from([start.width, start.height]);
  if (request.from) {
    const { loopMm, shape } = request.from;
    continueFrom(shape, positions, period, request.loopMm / loopMm / request.yarnMm);
  } else if (request.start) deform(positions, period, request.start.height, request.start.depth);
  const links = () => cellLinks(system, positions, period, faces, segments, crossings);
  const before = links();
  const shapeOf = (now: Float64Array, nowPeriod: Float64Array): CellShape => ({
    points: now.map((v) => v * request.yarnMm),
    pointsPerRow: wales * segments,
    rows,
    wales,
    periodMm: [nowPeriod[0] * request.yarnMm, nowPeriod[1] * request.yarnMm],
  });
  const heldHeight = request.roundMm === undefined ? 0 : (request.roundMm / request.yarnMm) * rows;
  const run = new YarnRun({
    system,
    positions,
    period,
    freePeriod: [true, heldHeight === 0],
    plane: request.plane ?? TABLE_STIFFNESS,
    samples: request.samples,
    onStep: watchCell(request, rows, wales, shapeOf),
  });
  const toHeight = (share: number) => approachHeight(heldHeight, share, positions, period);
  const drawIn = drawInRows(system, request.from ? null : start.laid);
  // Travelling legs start closer together than others.
  if (!request.from) {
    const cabled = crossings.length > 0;
    const before = (share: number) => {
      toHeight(0.5);
      drawIn(share);
    };
    run.grow(cabled, before, cabled ? CABLE_GROWTH_STEPS : undefined);
  }
  toHeight(1);
  drawIn(1);
  const { stops = CELL_STOPS, maxIterations = MAX_STEPS } = request;
  run.relax(1, stops[0], maxIterations);
  const { change } = run.measureAtStops(
    { measure: () => period.slice(), changeOf: largestChange, agreement: CELL_AGREEMENT },
    stops.slice(1),
    maxIterations,
  );
  const after = links();
  // A stretched loop's chord can be passed by yarn without any passing through yarn: with cables the
  // proof by step length decides alone.
  const linksKept = crossings.length > 0 || before.every((link, k) => sameLink(link, after[k]));
  const width = period[0] / wales;
  const height = period[1] / rows;
  const d = request.yarnMm;
  return {
    stitch: name,
    loopMm: request.loopMm,
    yarnMm: d,
    stitchMm: width * d,
    roundMm: height * d,
    thicknessMm: (depthOf(positions) + 1) * d,
    kc: loop / height,
    kw: loop / width,
    ks: (loop * loop) / (width * height),
    kr: width / height,
    energy: (run.energy * loop) / (rows * wales),
    relaxation: run.record(change, CELL_AGREEMENT, null, linksKept),
    shape: shapeOf(positions, period),
  };
}

function watchCell(
  { onProgress, yarnMm }: CellRequest,
  rows: number,
  wales: number,
  shapeOf: (now: Float64Array, nowPeriod: Float64Array) => CellShape,
): YarnRunSetting['onStep'] {
  if (!onProgress) return undefined;
  return (residual, now, period) =>
    onProgress(residual, (period[0] / wales) * yarnMm, (period[1] / rows) * yarnMm, () =>
      shapeOf(now, period),
    );
}

/** Rows laid with more yarn than they have give it up in the share in which the yarn has grown. */
function drawInRows(system: RodSystem, laid: Float64Array | null): (share: number) => void {
  if (!laid) return () => {};
  const own = system.rest.slice();
  return (share) => {
    for (let k = 0; k < own.length; k++) system.rest[k] = laid[k] + share * (own[k] - laid[k]);
    refreshArc(system);
  };
}

/** A held height is approached while the yarn is still thin; 0: an unknown. */
function approachHeight(
  held: number,
  share: number,
  positions: Float64Array,
  period: Float64Array,
): void {
  if (held === 0) return;
  const factor = (held / period[1]) ** share;
  for (let i = 1; i < positions.length; i += 3) positions[i] *= factor;
  period[1] *= factor;
}

/** Of two pairs of periods, relative. */
function largestChange(early: Float64Array, late: Float64Array): number {
  return Math.max(Math.abs(late[0] / early[0] - 1), Math.abs(late[1] / early[1] - 1));
}

/** A repeat at rest as a start: scaled to the wanted yarn length. */
function continueFrom(
  shape: CellShape,
  positions: Float64Array,
  period: Float64Array,
  scale: number,
): void {
  if (shape.points.length !== positions.length) {
    throw new RangeError('a cell can only go on from one of the same repeat and segments');
  }
  for (let i = 0; i < positions.length; i++) positions[i] = shape.points[i] * scale;
  period[0] = shape.periodMm[0] * scale;
  period[1] = shape.periodMm[1] * scale;
}

function deform(
  positions: Float64Array,
  period: Float64Array,
  height: number,
  depth: number,
): void {
  for (let i = 0; i < positions.length; i += 3) {
    positions[i] /= height;
    positions[i + 1] *= height;
    positions[i + 2] *= depth;
  }
  period[0] /= height;
  period[1] *= height;
}

function depthOf(positions: Float64Array): number {
  let low = Infinity;
  let high = -Infinity;
  for (let i = 2; i < positions.length; i += 3) {
    low = Math.min(low, positions[i]);
    high = Math.max(high, positions[i]);
  }
  return high - low;
}

function sameLink(a: Link, b: Link): boolean {
  return a.first === b.first && a.second === b.second;
}

/** Linking of each stitch with the one below it, row by row. */
export function cellLinks(
  system: RodSystem,
  positions: Float64Array,
  period: Float64Array,
  faces: FaceGrid,
  segments: number,
  crossings: readonly CellCrossing[] = [],
): Link[] {
  const rows = faces.length;
  const wales = faces[0].length;
  const total = wales * segments;
  const pointOf =
    (row: number, wale: number, lift: number, shift: number): PointOf =>
    (k, out) => {
      const index = wale * segments + k;
      const turns = Math.floor(index / total);
      const i = 3 * (system.nodeStart[row] + index - turns * total);
      out[0] = positions[i] + (turns * system.turnX[row] + shift) * period[0];
      out[1] = positions[i + 1] + lift * period[1];
      out[2] = positions[i + 2];
    };
  const links: Link[] = [];
  for (let row = 0; row < rows; row++) {
    const above = (row + 1) % rows;
    const from = parentWales(above, wales, crossings);
    for (let wale = 0; wale < wales; wale++) {
      // A crossing over the edge of the repeat takes its loop from the next copy.
      const far = from[wale] - wale;
      const shift = (far > wales / 2 ? -1 : far < -wales / 2 ? 1 : 0) * system.turnX[row];
      links.push(
        linkOf(
          pointOf(row, from[wale], 0, shift),
          pointOf(above, wale, above === 0 ? 1 : 0, 0),
          segments,
        ),
      );
    }
  }
  return links;
}
