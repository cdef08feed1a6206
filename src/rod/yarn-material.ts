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
 * The same calibration where contact is summed over points (summed-contact.ts), which does not hang on the segments: between closest
 * points 48 segments a stitch press harder by half. With it fine segments lead to the sizes that the tables hold, within 1 % for
 * plain knit over 14–26 diameters a loop and 1.5 % for garter and seed (tests/golden/yarn-by-segments.md).
 */
const SUMMED_FIBRE_STIFFNESS = 0.06;
/**
 * Smoothing of that contact (RodRunOptions.smooth) for segments of a length, d. Where it can be 1, 24 and 96
 * segments a stitch differ by 3 % in the width of plain knit, by up to 9 in that of loose garter; long segments must not shift their contacts by more, or yarn
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

/**
 * Points a segment that contact is summed over, half a diameter apart or less. With one for two 48 segments a stitch give plain knit
 * 0.1 to 0.3 % less width, with four 0.1 % more.
 */
export const CONTACT_SAMPLES = 2;
/** Contact stiffness (RodMaterial) where contact is summed. */
export const SUMMED_CONTACT = SUMMED_FIBRE_STIFFNESS / FIBRE_REACH ** 4;

/** Shares of its thickness at which thin yarn is grown to full size. Chosen: each step under a third. */
export const INFLATION: readonly number[] = [0.3, 0.45, 0.6, 0.75, 0.9];
