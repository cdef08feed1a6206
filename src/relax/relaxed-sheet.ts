/**
 * The RelaxedSheet: where every vertex of the Metric comes to rest. Made by `relaxSheet`.
 */
import type { KeptSolver } from './solver/kept-solver.ts';

/** Why the solver stopped, in words that the view and the command line show as they are. */
export type StopReason = 'converged' | 'iteration-limit' | 'cancelled' | 'stalled' | 'not-a-number';

export interface Relaxation {
  readonly converged: boolean;
  readonly reason: StopReason;
  readonly iterations: number;
  /** ‖gradient‖∞ / (mean spring stiffness × mean rest length): dimensionless. */
  readonly residual: number;
  /** Total energy, units of the Metric (K·mm²). */
  readonly energy: number;
  readonly stretchEnergy: number;
  readonly bendingEnergy: number;
  /** Which starting shape won: `flat`, `cone`, `saddle`, `tube`, `moebius`, `given`. */
  readonly start: string;
}

/** How the sheet lies on a table by its own weight. */
export interface LyingSheet {
  /** [3·vertices] mm, table at z = 0. */
  readonly positions: Float64Array;
  readonly converged: boolean;
  readonly reason: StopReason;
  readonly iterations: number;
  readonly residual: number;
  /** Share of the vertices that touch the table. */
  readonly touching: number;
}

/** What a sheet weighs, and how it rubs on the table. */
export interface Load {
  /** [vertices] weight over in-plane stiffness, mm. */
  readonly loadMm: Float64Array;
  /** Friction with the table; 0 for none. */
  readonly friction: number;
}

export interface RelaxedSheet {
  readonly version: 1;
  /** [3·vertices] mm; mean plane is z = 0, mean normal +z towards the right side, centroid at 0. */
  readonly positions: Float64Array;
  readonly relaxation: Relaxation;
  /** On the table; null where no load was given or the shape is not known. */
  readonly lying: LyingSheet | null;
}

/** Sent while solving; `positions` may be read only during the call. */
export interface RelaxProgress {
  readonly iteration: number;
  readonly residual: number;
  readonly energy: number;
  readonly positions: Float64Array;
}

/** [3·vertices] mm, in the air and on the table. */
export interface LikeSheet {
  readonly positions: Float64Array;
  readonly lying: Float64Array;
}

/** Return true to stop the solve (reason `cancelled`). Called every few iterations. */
export type ProgressListener = (progress: RelaxProgress) => boolean | undefined;

export interface RelaxOptions {
  /** Stop when the residual is below this. Default 1e-5. */
  readonly tolerance: number;
  readonly maxIterations: number;
  /** Seed of the guess that the search for the softest mode starts from. */
  readonly seed: number;
  /** [3·vertices] start from here instead of the ring profile (warm restart). */
  readonly from: Float64Array | null;
  /** [3·vertices] the sheet at rest in its plane, where that is known: the flat one of its starts; else null. */
  readonly inPlane: Float64Array | null;
  /** [3·vertices] how it lay before, where it starts its way to rest on the table; null: let down from the air. */
  readonly lyingFrom: Float64Array | null;
  /** A like sheet at rest, carried over onto this one's vertices: where this one hangs alike, it lies alike. */
  readonly like: LikeSheet | null;
  readonly onProgress: ProgressListener | null;
  /** The solver of the sheet before, for one that starts from its shape; null: a new one. */
  readonly kept: KeptSolver | null;
  /** Its weight, to have it laid on a table as well; null leaves it in the air. */
  readonly load: Load | null;
}
