/** What is drawn of the stitches: the patches' kinds, and the arrays that hold them. `stitch-quads.ts` makes them. */
import type { CableStrands } from './cable-strands.ts';

/** What the fabric shader draws on a patch. */
export const PATCH_KNIT = 0;
export const PATCH_PURL = 1;
/** Cast-on or bound-off edge. */
export const PATCH_EDGE = 2;
/** Pulled together at the drawn-up centre. */
export const PATCH_GATHERED = 3;
/** Yarn over: a hole at its foot. */
export const PATCH_HOLE = 4;
/** The dark behind the stitches: the bare sheet, so that no table shows between them. */
export const PATCH_BEHIND = 5;
/** The ground under a travelling strand: what its columns leave behind. */
export const PATCH_GROUND = 6;

export interface StitchPatches {
  /** Number of draw vertices. */
  readonly vertices: number;
  /** [vertices + 1] CSR offsets into `loop` and `weight`. */
  readonly rowStart: Int32Array;
  /**
   * Surface vertex (loop, or the drawn-up centre) of each term; from `eased` on, the same vertices
   * with the strands of cables eased.
   */
  readonly loop: Int32Array;
  /** Number of surface vertices: where the eased ones begin. */
  readonly eased: number;
  readonly strands: CableStrands;
  /** [2·loops] as from `buildNeighbours`. */
  readonly neighbour: Int32Array;
  readonly weight: Float32Array;
  /** [vertices] how far the vertex stands in front of the sheet, in stitch widths. */
  readonly lift: Float32Array;
  /** [2·vertices] u 0 … 1 from right to left as seen from the RS, v 0 … 1 from foot to head. */
  readonly uv: Float32Array;
  /** [vertices] PATCH_* */
  readonly kind: Float32Array;
  /** [2·vertices] baked tile of the right side and of the wrong side (stitch-tiles.ts). */
  readonly tile: Float32Array;
  /** [loops] first vertex of the patch with the loop's own lower half, −1 for none. */
  readonly lower: Int32Array;
  /**
   * [2·loops] first vertex of the patches with the loop's head, those of its first and of its last child;
   * −1 for none. The head runs from the right edge of the one to the left edge of the other.
   */
  readonly upper: Int32Array;
  /** [loops] first vertex of the loop's ground beside or under a travelling strand, −1 for none. */
  readonly ground: Int32Array;
  /** [loops] first vertex of the band of a cast-on or bound-off edge, −1 for none. */
  readonly band: Int32Array;
  /** [loops] first vertex of what lies behind a loop that is sewn to its left, −1 for none. */
  readonly seam: Int32Array;
  /** [vertices] rows of vertices in the patch that starts here, 0 elsewhere. */
  readonly rows: Uint8Array;
  /** [vertices] loop whose patch this is: colours and picking. */
  readonly owner: Int32Array;
  /** [vertices] course of the owner. */
  readonly course: Float32Array;
  readonly indices: Uint32Array;
  /** [courses] how many indices draw the piece up to this course. */
  readonly indexEnd: Int32Array;
}

/** Added to a tile's number where it lies in the shade of a strand. */
export const GROUND = 64;
