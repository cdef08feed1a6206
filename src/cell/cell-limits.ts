/**
 * What a cell of yarn can be: the limits of its repeat, loop length and thickness, and the messages that
 * name them.
 */
import type { CellCrossing } from './lattice-graph.ts';
import type { FaceGrid } from './loop-start.ts';

/**
 * Least yarn a stitch can hold, in diameters of the pressed yarn: that of the tightest plain knits in use,
 * tightness factor 19 (REFERENCES 2) at d = 0.0387 √tex mm. Rigid yarn would jam at 16.66 (planar close packing;
 * published 16.67–16.75); real yarn is pressed to four fifths of its thickness there.
 */
export const JAMMED_LOOP = 13.5;
/** Longest loop that is still a fabric rather than loose yarn, in diameters. Chosen. */
const SLACK_LOOP = 40;
/** Largest repeat that stays within seconds. Chosen. */
export const MAX_CELL_STITCHES = 400;

export function checkCrossings(faces: FaceGrid, crossings: readonly CellCrossing[]): void {
  for (const c of crossings) {
    const whole = [c.row, c.wale, c.over, c.under].every(Number.isInteger);
    if (!whole || c.over < 1 || c.under < 1 || (c.lean !== 1 && c.lean !== -1)) {
      throw new RangeError(
        'a crossing needs at least one stitch over and one under, leaning +1 or −1',
      );
    }
    if (c.row < 0 || c.row >= faces.length || c.wale < 0 || c.wale >= faces[0].length) {
      throw new RangeError(`a crossing in row ${c.row + 1} lies outside the repeat`);
    }
    if (c.over + c.under > faces[0].length - 1) {
      throw new RangeError(
        `a crossing of ${c.over + c.under} stitches needs a repeat of at least ${c.over + c.under + 1}`,
      );
    }
  }
}

export function checkRequest(
  faces: FaceGrid,
  loopMm: number,
  yarnMm: number,
  segments: number,
): void {
  if (!Number.isFinite(loopMm) || loopMm <= 0) {
    throw new RangeError(`loop length must be more than 0 mm, got ${loopMm}`);
  }
  if (!Number.isFinite(yarnMm) || yarnMm <= 0) {
    throw new RangeError(`yarn thickness must be more than 0 mm, got ${yarnMm}`);
  }
  if (!Number.isInteger(segments) || segments % 2 !== 0 || segments < 12 || segments > 96) {
    throw new RangeError(`segments a stitch must be an even number from 12 to 96, got ${segments}`);
  }
  const wales = faces?.[0]?.length ?? 0;
  if (wales === 0 || faces.some((row) => row.length !== wales)) {
    throw new RangeError('a repeat needs rows of the same number of stitches, one or more');
  }
  if (faces.some((row) => row.some((face) => face !== 1 && face !== -1))) {
    throw new RangeError('a repeat is made of knit (+1) and purl (−1) stitches only');
  }
  if (wales * faces.length > MAX_CELL_STITCHES) {
    throw new RangeError(
      `a repeat of ${wales} stitches by ${faces.length} rows is too large: at most ${MAX_CELL_STITCHES} stitches`,
    );
  }
  const ratio = loopMm / yarnMm;
  if (ratio < JAMMED_LOOP) {
    throw new RangeError(
      `jammed: a stitch of ${loopMm} mm of yarn has no room for yarn ${yarnMm} mm thick; ` +
        `this loop takes yarn up to ${(loopMm / JAMMED_LOOP).toFixed(2)} mm, ` +
        `this yarn needs ${(JAMMED_LOOP * yarnMm).toFixed(1)} mm or more a stitch. ` +
        `(Thickness is that of the pressed yarn; wraps per inch measure its halo, two or three times as much.)`,
    );
  }
  if (ratio > SLACK_LOOP) {
    throw new RangeError(
      `too loose to be a fabric: ${loopMm} mm of yarn a stitch is ${ratio.toFixed(0)} times its thickness of ` +
        `${yarnMm} mm; the limit is ${SLACK_LOOP} times (${(SLACK_LOOP * yarnMm).toFixed(1)} mm)`,
    );
  }
}
