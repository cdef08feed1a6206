/**
 * The surface between the loops: polygons whose corners are loops, made from the StitchGraph by
 * `buildCells`. A cell lies between two neighbouring loops of a course and their parents.
 */

export interface Cells {
  readonly version: 1;
  /** Vertices of the surface: the loops, then (if `apex` ≥ 0) one for the drawn-up centre. */
  readonly vertices: number;
  /** Vertex index of the drawn-up centre, −1 if the centre is open. */
  readonly apex: number;
  /** Which end of the work the apex closes: the first loops, the last ones, or neither. */
  readonly centre: 'cast-on' | 'ending' | null;
  /** [cells + 1] CSR offsets into `corners`. */
  readonly cellStart: Int32Array;
  /**
   * Corners, 3 or 4 a cell, counter-clockwise as seen from the RS (in a Möbius band: from the side
   * that is the RS where the cell begins). Order: lower right, upper right, upper left, lower left;
   * triangles leave out the corner that they lack.
   */
  readonly corners: Int32Array;
  /** Surface invariants. */
  readonly euler: number;
  readonly boundaries: number;
  readonly orientable: boolean;
  readonly shape: 'disc' | 'annulus' | 'moebius' | 'other';
  /** [vertices] 1 where the vertex is part of the surface (seam loops are not). */
  readonly inSurface: Uint8Array;
}
