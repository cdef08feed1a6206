/**
 * How free stockinette curls, from the yarn model: its bending moment (bending-moment.ts) over its bending
 * stiffness, both of tubes of yarn bent either way (tests/golden/curl-of-tubes.ts).
 * Output: curvatures times the stitch width; negative bends towards the purl side.
 * Balanced fabrics (garter, rib, seed) have none: their moment vanishes by symmetry.
 */

/**
 * At 20 yarn diameters a loop, frictionless: radii of 0.2 stitch widths along the course and 0.5 along the wale.
 * Directions as published: side edges to the purl side (from memory), top and bottom to the knit side
 * (overtherainbowyarn.com); no published radius was found.
 */
export const MODEL_CURL = { course: -4.9, wale: 1.89 } as const;

/**
 * Tightest roll: a radius of one stitch width, twice the fabric's thickness, since a roll touches itself and friction
 * holds it open. Chosen; the model would roll tighter both ways, so this is what the sheet is given.
 */
const TIGHTEST = 1;

export interface CurlShape {
  readonly course: number;
  readonly wale: number;
}

export function stockinetteCurl(): CurlShape {
  const limit = (v: number) => Math.min(TIGHTEST, Math.max(-TIGHTEST, v));
  return { course: limit(MODEL_CURL.course), wale: limit(MODEL_CURL.wale) };
}
