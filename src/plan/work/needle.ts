/**
 * The stitches on the needles between two rounds: their number, the markers between them, and how
 * each column has looked lately, which "as set" and "knit the knits" need.
 */

export interface Needle {
  readonly count: number;
  /**
   * [count] face history of each loop in working order of the coming round, as seen from the right
   * side: bits 0–1 the newest (1 knit, 2 purl, 0 none), 2–3 and 4–5 the two before; bit 6 twisted.
   */
  readonly faces: Uint8Array;
  /** Markers strictly inside the round, ascending, in working order of the coming round. */
  readonly markers: readonly number[];
  /** A marker shows the beginning of the round. */
  readonly roundMarker: boolean;
}

export const KNIT = 1;
export const PURL = 2;
export const HISTORY_BITS = 63;
export const TWISTED_BIT = 64;

export function castOnNeedle(
  count: number,
  markers: readonly number[],
  roundMarker: boolean,
): Needle {
  return { count, faces: new Uint8Array(count), markers, roundMarker };
}

/** The same stitches after turning the work. */
export function turnNeedle(needle: Needle): Needle {
  return {
    count: needle.count,
    faces: needle.faces.slice().reverse(),
    markers: needle.markers.map((m) => needle.count - m).reverse(),
    roundMarker: needle.roundMarker,
  };
}

/** True where every column alternates from round to round, as in garter and seed stitch. */
export function alternatesEverywhere(needle: Needle): boolean {
  if (needle.count === 0) return false;
  for (const h of needle.faces) {
    const newest = h & 3;
    const before = (h >> 2) & 3;
    if (newest === 0 || before === 0 || newest === before) return false;
  }
  return true;
}
