/**
 * What every relaxation of yarn shares: stiffnesses and growth in units of the yarn (diameter d = 1,
 * bending stiffness B = 1), and the record of how far a relaxation came.
 */

import type { RodMaterial } from './relax-rods.ts';

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
  /** Smallest distance of centre lines at rest, in yarn diameters (below 1: pressed; at most the reach of contact). */
  readonly closestDiameters: number;
  /** No step was long enough to pass yarn through yarn, and every link counts the same as before. */
  readonly linksKept: boolean;
}

/** EA·d²/B: yarn hardly stretches; the mean strain at rest stays below 0.5 %. Chosen (YARN.md: 300–500). */
export const STRETCH_STIFFNESS = 400;
/**
 * Contact of loose fibres (contact-law.ts): where it begins, d, and its stiffness A in φ = A (d/r)⁴, B/d⁴.
 * The one calibration of the yarn model, for all fabrics: hard yarn (A → ∞ at d) gives plain knit its
 * published shape at one tightness only, yarn that gives way at all of them. A was chosen so that plain
 * knit keeps Munden's Kc, Kw and Kr over 14–26 diameters a loop; it presses crossing yarns by some kPa,
 * the load of a fabric's compression test, and to one diameter at about 18. The reach lies between the
 * pressed yarn and its halo, two or three times as wide (REFERENCES 3): beyond it the push is under 5 %
 * of that at one diameter.
 */
export const FIBRE_REACH = 1.8;
export const FIBRE_STIFFNESS = 0.04;
/**
 * Smoothing of that contact (RodRunOptions.smooth) for segments of a length, d. Where it can be 1, 24 and 72
 * segments a stitch differ by 2 % in width; long segments must not shift their contacts by more, or yarn
 * could be pressed through yarn at their ends. 48 segments have 1 up to 26 diameters a loop.
 */
export function fibreSmooth(segment: number): number {
  return Math.min(1, 0.3 / (segment * segment));
}

/** The yarn of every cell and patch; the table is the caller's. */
export const YARN: Omit<RodMaterial, 'plane'> = {
  stretch: STRETCH_STIFFNESS,
  bending: 1,
  contact: FIBRE_STIFFNESS / FIBRE_REACH ** 4,
  diameter: FIBRE_REACH,
  law: 'fibres',
};

/** Shares of its thickness at which thin yarn is grown to full size. Chosen: each step under a third. */
export const INFLATION: readonly number[] = [0.3, 0.45, 0.6, 0.75, 0.9];
