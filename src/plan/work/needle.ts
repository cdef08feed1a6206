/**
 * The stitches on the needles between two rounds: their number, the markers between them, and how
 * each column has looked lately, which "as set" and "knit the knits" need.
 */

export interface Needle {
  readonly count: number;
  /**
   * [count] face history of each loop in working order of the coming round, as seen from the right
   * side: bits 0–1 the newest (1 knit, 2 purl, 0 none), 2–3 and 4–5 the two before; bit 6 twisted, bit 7 a yarn over.
   */
  readonly faces: Uint8Array;
  /** Markers strictly inside the round, ascending, in working order of the coming round. */
  readonly markers: readonly number[];
  /** A marker shows the beginning of the round. */
  readonly roundMarker: boolean;
  /** Stitches that hold a marker themselves, ascending, in working order of the coming round. */
  readonly marked?: readonly number[];
  /** Behind the turn of a short row; absent where the coming row begins at an edge or the round's beginning. */
  readonly turned?: Turned;
}

/** Where a row begins that follows the turn of a short row, in working order of the coming row. */
export interface Turned {
  /** Stitches at its beginning that the turn left unworked (flat work). */
  readonly passed: number;
  /** Places where short rows were turned and that no row has closed yet, ascending. */
  readonly turns: readonly number[];
  /** In the round: stitches before the beginning of the round comes; null in flat work. */
  readonly bor: number | null;
  /** In the round: the piece is worked backwards, its wrong side facing. */
  readonly back: boolean;
}

export const KNIT = 1;
export const PURL = 2;
export const HISTORY_BITS = 63;
export const TWISTED_BIT = 64;
export const YARN_OVER_BIT = 128;

export function castOnNeedle(
  count: number,
  markers: readonly number[],
  roundMarker: boolean,
  hungIn: readonly number[] = [],
): Needle {
  const marked = hungIn.filter((n) => n <= count).map((n) => n - 1);
  return { count, faces: new Uint8Array(count), markers, roundMarker, marked };
}

/** The same stitches after turning the work. */
export function turnNeedle(needle: Needle): Needle {
  return {
    count: needle.count,
    faces: needle.faces.slice().reverse(),
    markers: needle.markers.map((m) => needle.count - m).reverse(),
    roundMarker: needle.roundMarker,
    marked: needle.marked?.map((m) => needle.count - 1 - m).reverse(),
  };
}

/** The stitches of a round behind a turn after `at` of them: worked back from there, all the way round. */
export function turnRound(needle: Needle, at: number, back: boolean): Needle {
  const { count } = needle;
  const place = (m: number): number => (at - m + count) % count;
  const faces = new Uint8Array(needle.faces.length);
  for (let i = 0; i < faces.length; i++) faces[i] = needle.faces[(at - 1 - i + count) % count];
  const bor = place(needle.turned?.bor ?? 0);
  const markers = needle.markers.map(place).filter((m) => m > 0);
  return {
    count,
    faces,
    markers: [...new Set([...markers, ...(needle.roundMarker && bor > 0 ? [bor] : [])])].sort(
      (a, b) => a - b,
    ),
    roundMarker: needle.roundMarker,
    turned: {
      passed: 0,
      turns: (needle.turned?.turns ?? []).map(place).sort((a, b) => a - b),
      bor,
      back,
    },
  };
}

/** Part of the loops that shows seed stitch; beside decreases it does not alternate. Chosen. */
const SEEDED = 0.6;

/** Seed stitch lies on the needle: loops differ from those beside them and from those below. */
export function seeded({ faces, count }: Needle): boolean {
  if (count < 4) return false;
  let beside = 0;
  let above = 0;
  for (let i = 0; i < count; i++) {
    const [newest, older] = [faces[i] & 3, (faces[i] >> 2) & 3];
    if (i > 0 && newest !== 0 && newest !== (faces[i - 1] & 3)) beside++;
    if (older !== 0 && newest !== older) above++;
  }
  return beside > SEEDED * count && above > SEEDED * count;
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
