/**
 * What every relaxation of yarn shares: stiffnesses and growth in units of the yarn (diameter d = 1,
 * bending stiffness B = 1), and the record of how far a relaxation came.
 */

/** How far the solver came, and whether the result can be believed. */
export interface YarnRelaxation {
  /** Reached the tolerance, and two stopping points a decade apart agree within 1 %. */
  readonly converged: boolean;
  readonly reason: string;
  readonly iterations: number;
  readonly evaluations: number;
  /** Largest force on a point, units of B/d². */
  readonly residual: number;
  /** Largest relative change of a reported length between the two stopping points. */
  readonly changeBetweenStops: number;
  /** Smallest distance of centre lines at rest, in yarn diameters (below 1: pressed). */
  readonly closestDiameters: number;
  /** No step was long enough to pass yarn through yarn, and every link counts the same as before. */
  readonly linksKept: boolean;
}

/** EA·d²/B: yarn hardly stretches; the mean strain at rest stays below 0.5 %. Chosen (YARN.md: 300–500). */
export const STRETCH_STIFFNESS = 400;
/** Contact stiffness: yarn pressed by about 1 % at rest. Chosen hard, so that d is the diameter. */
export const CONTACT_STIFFNESS = 10;

/** Diameters at which thin yarn is grown to full size. Chosen: each step under a third. */
export const INFLATION: readonly number[] = [0.3, 0.45, 0.6, 0.75, 0.9];
