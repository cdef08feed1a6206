/**
 * The StitchGraph: loop topology of the whole piece, made from a Plan by `buildStitchGraph`.
 *
 * A node is one loop on the needle. Index order is yarn order: cast-on loops first, then each round
 * as it is worked. In the round the fabric is a helix: the last loop of a round is followed by the
 * first of the next, one course up. Seen from the right side (RS) with later rounds above, RS work
 * runs from right to left; `position` counts that way for every round, WS rows included. A short row is
 * a course of only the loops worked in it; the others wait, and stand in `held` again.
 */
import type { Ending, JoinMethod } from '../plan/plan.ts';
import type { HeldNeedles } from './needle-order.ts';

/** How the two ends of a course meet. */
export type Closure =
  /** Worked in the round: last loop of a round precedes the first of the next. */
  | 'helix'
  /** Flat work sewn into a ring, course to course. */
  | 'seam'
  /** Flat work left open. */
  | 'open';

export interface StitchGraph {
  readonly version: 1;
  /** Number of loops. */
  readonly loops: number;
  /** Number of courses: cast-on plus worked rounds. */
  readonly courses: number;
  /** [courses + 1] first loop of each course in yarn order; course c is start[c] … start[c+1] − 1. */
  readonly start: Int32Array;
  /** [loops] course of each loop, 0 = cast-on. */
  readonly course: Int32Array;
  /** [loops] place on the needle after its course, 0 … n−1, right to left as seen from the RS. */
  readonly position: Int32Array;
  /** [courses] 1 where the course was worked from the wrong side. */
  readonly wrongSide: Uint8Array;
  /** [loops + 1] CSR offsets into `parents`. */
  readonly parentStart: Int32Array;
  /** Loops of the course below that a loop is drawn through, front to back as seen from the RS. */
  readonly parents: Int32Array;
  /** [loops + 1] CSR offsets into `children`. */
  readonly childStart: Int32Array;
  /** Loops drawn through this one, in ascending position; empty for live loops. */
  readonly children: Int32Array;
  /** [loops] index into `kindNames`: the stitch that made the loop. */
  readonly kind: Int16Array;
  readonly kindNames: readonly string[];
  /** [loops] index of the worked stitch (cables and increases make several loops), unique per stitch. */
  readonly stitch: Int32Array;
  /** Number of stitches; the cast-on counts as one stitch a loop. */
  readonly stitches: number;
  /** [courses + 1] first stitch of each course in yarn order. */
  readonly stitchStart: Int32Array;
  /** [stitches] index into `kindNames`. */
  readonly stitchKind: Int16Array;
  /** [stitches + 1] loops that stitch s made are madeStart[s] … madeStart[s+1] − 1; none if bound off. */
  readonly madeStart: Int32Array;
  /** [stitches + 1] CSR offsets into `consumed`. */
  readonly consumedStart: Int32Array;
  /**
   * Loops that each stitch takes off the needle, in working order: the columns it stands on. Unlike
   * `parents` it is blind to crossings and to the crossed join, so neighbours stay neighbours.
   */
  readonly consumed: Int32Array;
  /** [loops] +1 knit, −1 purl as seen from the RS. */
  readonly face: Int8Array;
  /** [loops] bit flags, see FLAG_*. */
  readonly flags: Uint8Array;
  /** [loops] layer at a crossing: +1 in front, −1 behind as seen from the RS, 0 elsewhere. */
  readonly layer: Int8Array;
  /** [loops] crossing number, −1 where the loop belongs to none. */
  readonly crossing: Int32Array;
  readonly crossings: number;
  /** [loops] needle the loop sits on after its round is worked, 0-based, in the round's order. */
  readonly needle: Uint8Array;
  readonly closure: Closure;
  /** With method `extra`, in the round, the cast-on has one loop more than the plan counts,
   * its last, flagged FLAG_SEAM. */
  readonly join: { readonly method: JoinMethod; readonly halfTurns: number };
  /** Loops per course lost in the seam, right edge and left edge as seen from the RS. */
  readonly seam: { readonly right: number; readonly left: number } | null;
  readonly ending: Ending;
  /** The needle after each course where some are short rows; null where every course holds all loops. */
  readonly held: HeldNeedles | null;
}

export const FLAG_TWISTED = 1;
export const FLAG_SLIPPED = 2;
export const FLAG_YARN_OVER = 4;
export const FLAG_LIFTED = 8;
/** Of a slipped loop: the yarn floats by in front, as seen from the right side. */
export const FLAG_FLOAT_IN_FRONT = 32;
/** Loop that disappears in the seam, or in the join: the extra cast-on loop behind the first stitch. */
export const FLAG_SEAM = 16;

/** Loop on the needle after a course, at a place counted right to left from the RS. */
export function loopAt(
  { held, start, wrongSide }: StitchGraph,
  course: number,
  at: number,
): number {
  if (held) return held.ids[held.start[course] + at];
  return wrongSide[course] ? start[course + 1] - 1 - at : start[course] + at;
}

/** Number of loops on the needle after a course. */
export function courseCount({ held, start }: StitchGraph, course: number): number {
  return held ? held.start[course + 1] - held.start[course] : start[course + 1] - start[course];
}
