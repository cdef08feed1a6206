/**
 * How much a panel with cables pulls in: the width of its repeat with and without its crossings.
 *
 * Input: faces and crossings of a repeat, lengths in mm. Output: both widths, the pull-in and the record.
 * The panel lies flat and its rounds keep the height of the plain ground, as the fabric around and
 * blocking hold it; free and frictionless, a cable's rows crumple instead (measured: half the width and a
 * third of the height lost). The uncrossed panel is relaxed under the same hold, so it is no rib.
 */

import type { YarnRelaxation } from '../rod/yarn-material.ts';
import type { CellCrossing } from './lattice-graph.ts';
import type { FaceGrid } from './loop-start.ts';
import {
  type CellRequest,
  type CellResult,
  type CellShape,
  FLAT_STIFFNESS,
  relaxCell,
} from './relax-cell.ts';

export interface PanelRequest {
  readonly faces: FaceGrid;
  readonly crossings: readonly CellCrossing[];
  readonly loopMm: number;
  readonly yarnMm: number;
  readonly segments?: number;
  readonly maxIterations?: number;
  /**
   * Hears of every step, first of the panel without its crossings, can ask where it is, and cancels by
   * returning true.
   */
  readonly onProgress?: (residual: number, panel: () => PanelNow) => boolean | undefined;
}

/** A panel on its way to rest. */
export interface PanelNow {
  readonly widthMm: number;
  readonly uncrossedWidthMm: number;
  readonly roundMm: number;
  readonly shape: CellShape;
}

export interface PanelResult {
  /** Width of the repeat with and without its crossings, and height of a round, mm. */
  readonly widthMm: number;
  readonly uncrossedWidthMm: number;
  readonly roundMm: number;
  /** (1 − width/uncrossed) in percent, of the repeat and, if all of it falls on them, of the cables. */
  readonly pullInPercent: number;
  readonly cablePullInPercent: number;
  /** Of a stitch, as of a cell: of two states of one panel the lower one is at rest more firmly. */
  readonly energy: number;
  readonly relaxation: YarnRelaxation;
  readonly shape: CellResult['shape'];
}

/** Segments a stitch of a panel: coarser than a cell's for time. At 16 a cable pulls in by a sixth more. */
const PANEL_SEGMENTS = 24;
const PANEL_STOPS: readonly number[] = [1e-2, 1e-3, 1e-4];

/** What the crossings are compared with: the same for any crossings in the same faces. */
export interface PanelGround {
  readonly roundMm: number;
  readonly uncrossed: CellResult;
}

/** The panel without its crossings. */
export function relaxGround(request: PanelRequest): PanelGround {
  const { faces, loopMm, yarnMm } = request;
  const segments = request.segments ?? PANEL_SEGMENTS;
  const plain = relaxCell({ stitch: 'stockinette', loopMm, yarnMm, segments });
  const { roundMm } = plain;
  const uncrossed = relaxCell({
    ...holdFlat(request, roundMm),
    stitch: shortest(faces),
    onProgress: watchPanel(request, null),
  });
  return { roundMm, uncrossed };
}

/** `ground`: from `relaxGround` with the same faces, yarn and segments. */
export function relaxPanel(request: PanelRequest, ground = relaxGround(request)): PanelResult {
  const { faces, crossings } = request;
  const wales = faces[0].length;
  const { roundMm, uncrossed } = ground;
  const cancelled = uncrossed.relaxation.reason === 'cancelled';
  const crossed =
    crossings.length > 0 && !cancelled
      ? relaxCell({
          ...holdFlat(request, roundMm),
          stitch: faces,
          crossings,
          onProgress: watchPanel(request, uncrossed.stitchMm),
        })
      : uncrossed;
  const cabled = new Set<number>();
  for (const c of crossings) {
    for (let k = 0; k < c.over + c.under; k++) cabled.add((c.wale + k) % wales);
  }
  const pull = 1 - crossed.stitchMm / uncrossed.stitchMm;
  const believed = crossed.relaxation.converged && uncrossed.relaxation.converged;
  return {
    widthMm: crossed.stitchMm * wales,
    uncrossedWidthMm: uncrossed.stitchMm * wales,
    roundMm,
    pullInPercent: 100 * pull,
    cablePullInPercent: cabled.size > 0 ? (100 * pull * wales) / cabled.size : 0,
    energy: crossed.energy,
    relaxation: {
      ...crossed.relaxation,
      converged: believed,
      reason: crossed.relaxation.converged
        ? uncrossed.relaxation.reason
        : crossed.relaxation.reason,
    },
    shape: crossed.shape,
  };
}

/** Flat, its rounds as high as those of plain fabric. */
function holdFlat(request: PanelRequest, roundMm: number) {
  const { loopMm, yarnMm, segments = PANEL_SEGMENTS, maxIterations = 6000 } = request;
  return {
    loopMm,
    yarnMm,
    segments,
    plane: FLAT_STIFFNESS,
    roundMm,
    stops: PANEL_STOPS,
    maxIterations,
  };
}

function watchPanel(
  { faces, onProgress }: PanelRequest,
  uncrossedMm: number | null,
): CellRequest['onProgress'] {
  const wales = faces[0].length;
  return (residual, stitchMm, roundMm, shape) =>
    onProgress?.(residual, () => ({
      widthMm: stitchMm * wales,
      uncrossedWidthMm: (uncrossedMm ?? stitchMm) * wales,
      roundMm,
      shape: shape(),
    }));
}

/** Without crossings, rows that repeat need to be there once only. */
function shortest(faces: FaceGrid): FaceGrid {
  const same = faces.every((row) => row.every((face, k) => face === faces[0][k]));
  return same ? [faces[0]] : faces;
}
