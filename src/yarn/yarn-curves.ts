/**
 * YarnCurves: the centre lines of all yarn of a piece, ready to draw. Made by `layYarn`, refined by
 * `relaxYarn`. Frame and unit are those of `RelaxedSheet.positions` (mm).
 */

export interface YarnCurves {
  readonly version: 1;
  /** [3·points] centre-line points in mm; a strand's points follow each other along the yarn. */
  readonly points: Float32Array;
  /** [strands + 1] first point of each strand; strand s is strandStart[s] … strandStart[s+1] − 1. */
  readonly strandStart: Int32Array;
  /** [points] loop of the StitchGraph that the point belongs to, −1 for tails. */
  readonly loop: Int32Array;
  /** [loops + 1] first point of each loop's span (sinker to sinker), in the graph's loop order. */
  readonly loopStart: Int32Array;
  /** Drawn and mechanical radius of the yarn, mm. */
  readonly radiusMm: number;
  readonly segmentsPerStitch: number;
  /** Length of all strands, mm. */
  readonly lengthMm: number;
  readonly check: YarnCheck;
}

/** What an exact look at the laid yarn found. */
export interface YarnCheck {
  /**
   * Smallest distance between centre lines further apart along the yarn than 1.25 diameters, mm.
   * Below 2·radiusMm the yarn overlaps (laid yarn may; yarn at rest is pressed by a little).
   */
  readonly minCentreDistanceMm: number;
  /** Pairs (loop, parent) whose linking was tested, and those whose linking is wrong. */
  readonly linksChecked: number;
  readonly linksWrong: number;
}
