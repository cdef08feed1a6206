/**
 * Stitch kinds: what one worked stitch consumes from the left needle and leaves on the right one.
 *
 * Terms: `consumes` loops are numbered 0… in working order (0 is worked first). `loops` are the new
 * loops in working order. Everything is described as worked on and seen from the side that faces.
 */

/** One loop that a stitch leaves on the needle. */
export interface MadeLoop {
  /**
   * Consumed loops that the new loop is drawn through, FRONT to BACK as seen from the facing side
   * (the first one lies in front: k2tog [1,0] leans right, ssk [0,1] leans left). Empty for a loop
   * made between two stitches (yarn over, make one).
   */
  readonly parents: readonly number[];
  /** +1 knit, −1 purl, as seen from the facing side. */
  readonly face: 1 | -1;
  /** Loop worked through its back leg (crossed at its foot), or a lifted strand that is twisted. */
  readonly twisted: boolean;
  /** How the loop arises. `slipped` loops are the old loop carried up, with the yarn floating by. */
  readonly origin: 'drawn' | 'slipped' | 'yarn-over' | 'lifted-strand';
}

/** A crossing: which consumed loops travel over the others. */
export interface Crossing {
  /** +1 the front strand leans left (cable needle held in front), −1 it leans right (held at back). */
  readonly lean: 1 | -1;
  /** Loops that travel in front. */
  readonly over: number;
  /** Loops that travel behind. */
  readonly under: number;
}

export interface StitchKind {
  /** Canonical abbreviation, e.g. `k`, `k2tog`, `2/2 LC`. Unique. */
  readonly name: string;
  /** For the abbreviation list, in a knitter's words. */
  readonly words: string;
  readonly consumes: number;
  readonly loops: readonly MadeLoop[];
  /** Null for everything but cables. A crossing's `loops[i].parents` hold the permutation. */
  readonly crossing: Crossing | null;
  /** Slipped with yarn in front (+1), back (−1) or not slipped (0). */
  readonly slipped: 0 | 1 | -1;
}

/** Name of the kind that stands for a stitch left on the needle behind the turn of a short row. */
export const UNWORKED = 'unworked';

/** The stitch is not worked: it waits on the needle, and no loop is made. */
export function isUnworked(kind: StitchKind): boolean {
  return kind.name === UNWORKED;
}
