/**
 * The relaxed periodic cell: from loop length and yarn thickness to stitch width and round height.
 *
 * Input: a fabric by name or a small grid of faces, lengths in mm. Output: sizes, Munden's constants,
 * the centre lines and an honest record of convergence. Recipe: yarn as an inextensible bending rod in
 * contact with itself, periods unknown, inflated from thin yarn (Poincloux et al. 2018 for the physics).
 * Inside, the yarn's diameter is the unit of length and its bending stiffness is 1.
 */

import { type Link, linkOf, type PointOf } from '../rod/linking.ts';
import { type RodRun, relaxRods } from '../rod/relax-rods.ts';
import { buildRodSystem, type RodSystem } from '../rod/rod-system.ts';
import {
  CONTACT_STIFFNESS,
  INFLATION,
  STRETCH_STIFFNESS,
  type YarnRelaxation,
} from '../rod/yarn-material.ts';
import { checkCrossings, checkRequest } from './cell-limits.ts';
import { startCrossed } from './crossed-start.ts';
import { type CellCrossing, parentWales } from './lattice-graph.ts';
import { type FaceGrid, startLoops } from './loop-start.ts';

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
  /** Share of a crossing's longer way for which the knitter gives yarn, 0 … 1 (crossed-start.ts). */
  readonly supply?: number;
  /** Height of a round held at this, mm, by the fabric around; by default it is an unknown. */
  readonly roundMm?: number;
  /** Factors on the start's height (its width shrinks as much) and depth: ribs rest in several states. */
  readonly start?: { readonly height: number; readonly depth: number };
  /** Tolerances at which to stop and compare, B/d²; `STOPS` by default. */
  readonly stops?: readonly number[];
  /** Yarn length of one stitch, mm. */
  readonly loopMm: number;
  /** Mechanical diameter of the yarn, mm: pressed, without its halo. */
  readonly yarnMm: number;
  /** Polyline segments a stitch; even, 48 by default. */
  readonly segments?: number;
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
 * B ≈ 3e-8 N m²; with d = 1.2 mm, 0.001 is 0.02 N per metre of yarn one diameter off the plane, a few
 * times the yarn's own weight (0.005 N/m): fabric laid flat and patted. Within the plausible decade
 * 0.0002–0.005 the value was chosen with garter's published height over width of 0.5 in view.
 */
export const TABLE_STIFFNESS = 0.001;

/**
 * Segments a stitch of a cell. The corners of a coarse polyline catch on each other: at 24, Kr scatters
 * by 5–8 %; from 48 to 64 it changes by less than 1 % (measured, stockinette, l/d 17–19).
 */
export const CELL_SEGMENTS = 48;
/**
 * Contact of a repeat with cables until it is nearly at rest: hard yarns that slide over one another creep.
 * Chosen by timing among 0.5–10: two to three times as fast as hard contact from the start (measured), and
 * the widths at rest agree as well as those of two hard runs do.
 */
const SOFT_CONTACT = 3;
/** Steps between two factorings of the stiffness. Chosen by timing: flat between 10 and 30. */
export const FACTOR_EVERY = 15;
/** Tolerances on the largest force, B/d², and how well two of them must agree (YARN.md: 1 %). */
const STOPS: readonly number[] = [1e-3, 1e-4, 1e-5];
const AGREEMENT = 0.01;

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
      ? startCrossed(faces, crossings, loop, segments, request.supply ?? 0)
      : startLoops(faces, loop, segments);
  const { system, positions } = buildRodSystem(start.strands);
  const period = Float64Array.from([start.width, start.height]);
  if (request.start) deform(positions, period, request.start.height, request.start.depth);
  const linksBefore = cellLinks(system, positions, period, faces, segments, crossings);
  const shapeOf = (now: Float64Array, nowPeriod: Float64Array): CellShape => ({
    points: now.map((v) => v * request.yarnMm),
    pointsPerRow: wales * segments,
    rows,
    wales,
    periodMm: [nowPeriod[0] * request.yarnMm, nowPeriod[1] * request.yarnMm],
  });
  let iterations = 0;
  let evaluations = 0;
  const run = (
    diameter: number,
    tolerance: number,
    limit: number,
    contact = CONTACT_STIFFNESS,
  ): RodRun => {
    const result = relaxRods(
      {
        system,
        positions,
        period,
        freePeriod: [true, request.roundMm === undefined],
        held: null,
        load: null,
        extra: null,
      },
      {
        material: {
          stretch: STRETCH_STIFFNESS,
          bending: 1,
          contact,
          diameter,
          plane: request.plane ?? TABLE_STIFFNESS,
        },
        tolerance,
        maxIterations: limit,
        maxMove: diameter < 1 ? diameter / 6 : 0.12,
        factorEvery: FACTOR_EVERY,
        onIteration: request.onProgress
          ? (_k, residual, _energy, now, nowPeriod) =>
              request.onProgress?.(
                residual,
                (nowPeriod[0] / wales) * request.yarnMm,
                (nowPeriod[1] / rows) * request.yarnMm,
                () => shapeOf(now, nowPeriod),
              )
          : undefined,
      },
    );
    iterations += result.iterations;
    evaluations += result.evaluations;
    return result;
  };
  let tunnelFree = true;
  let cancelled = false;
  const heldHeight = request.roundMm === undefined ? 0 : (request.roundMm / request.yarnMm) * rows;
  // The held height is approached while the yarn is still thin.
  const approach = (share: number) => {
    if (heldHeight === 0) return;
    const factor = (heldHeight / period[1]) ** share;
    for (let i = 1; i < positions.length; i += 3) positions[i] *= factor;
    period[1] *= factor;
  };
  // Travelling legs start closer together than others.
  const crosses = crossings.length > 0;
  const growth = crosses ? [INFLATION[0] / 2, ...INFLATION] : INFLATION;
  const growthContact = crosses ? SOFT_CONTACT : CONTACT_STIFFNESS;
  for (const diameter of growth) {
    approach(0.5);
    const grown = run(diameter, 0.05, 30, growthContact);
    tunnelFree &&= grown.tunnelFree;
    cancelled ||= grown.reason === 'cancelled';
    if (cancelled) break;
  }
  approach(1);
  const limit = request.maxIterations ?? 40000;
  const stops = request.stops ?? STOPS;
  if (crosses && !cancelled) {
    const soft = run(1, stops[0], limit, SOFT_CONTACT);
    tunnelFree &&= soft.tunnelFree;
    cancelled ||= soft.reason === 'cancelled';
  }
  // Soft modes make an early stop look like a result: go on a decade at a time until two stops agree.
  let last: RodRun = run(1, stops[0], cancelled ? 0 : limit);
  let change = Infinity;
  for (let stop = 1; stop < stops.length && change >= AGREEMENT; stop++) {
    tunnelFree &&= last.tunnelFree;
    const width = period[0];
    const height = period[1];
    last = run(1, stops[stop], cancelled ? 0 : limit);
    cancelled ||= last.reason === 'cancelled';
    change = Math.max(Math.abs(period[0] / width - 1), Math.abs(period[1] / height - 1));
  }
  const linksAfter = cellLinks(system, positions, period, faces, segments, crossings);
  // A stretched loop's chord can be passed by yarn without any passing through yarn: with cables the
  // proof by step length decides alone.
  const linksKept =
    tunnelFree &&
    last.tunnelFree &&
    (crossings.length > 0 || linksBefore.every((link, k) => sameLink(link, linksAfter[k])));
  const width = period[0] / wales;
  const height = period[1] / rows;
  const d = request.yarnMm;
  const agrees = change < AGREEMENT;
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
    relaxation: {
      converged: last.converged && agrees && linksKept,
      reason: cancelled
        ? 'cancelled'
        : !linksKept
          ? 'yarn passed through yarn'
          : last.converged && !agrees
            ? 'two stopping points differ'
            : last.reason,
      iterations,
      evaluations,
      residual: last.residual,
      changeBetweenStops: change,
      closestDiameters: last.closestAtRest,
      linksKept,
    },
    shape: shapeOf(positions, period),
  };
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
