/**
 * How high a tile's yarn stands where it is seen, on average: where the baked picture of the stitch is laid.
 * Input: a tile number. Output: yarn diameters in front of the sheet, towards the eye.
 */
import { HALO, tileCurves } from './tile-curves.ts';

/** Places a side of the tile where its height is taken. */
const PLACES = 10;

const known = new Map<number, number>();

export function tileRise(tile: number): number {
  let found = known.get(tile);
  if (found === undefined) {
    found = meanHeight(tile);
    known.set(tile, found);
  }
  return found;
}

/** The highest that its yarn comes, diameters. */
export function tileTop(tile: number): number {
  let top = 0;
  for (const { points } of tileCurves(tile).curves) {
    for (let i = 2; i < points.length; i += 3) top = Math.max(top, points[i]);
  }
  return top + 0.5 * HALO;
}

/** The yarn as a row of balls, which is near enough for a mean. */
function meanHeight(tile: number): number {
  const { width, height, curves } = tileCurves(tile);
  const square = (0.5 * HALO) ** 2;
  let sum = 0;
  let seen = 0;
  for (let place = 0; place < PLACES * PLACES; place++) {
    const x = (((place % PLACES) + 0.5) / PLACES) * width;
    const y = ((Math.floor(place / PLACES) + 0.5) / PLACES) * height;
    let top = Number.NEGATIVE_INFINITY;
    for (const { points } of curves) {
      for (let i = 0; i < points.length; i += 3) {
        const off = (points[i] - x) ** 2 + (points[i + 1] - y) ** 2;
        if (off < square) top = Math.max(top, points[i + 2] + Math.sqrt(square - off));
      }
    }
    if (top === Number.NEGATIVE_INFINITY) continue;
    sum += top;
    seen++;
  }
  return sum / Math.max(1, seen);
}
