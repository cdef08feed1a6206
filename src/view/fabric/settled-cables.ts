/**
 * Strands of cables at rest, by `relaxPanel` at the tightness of hand knitting, crossed every eight rounds between purl, each
 * row with the same yarn: how the picture's strands travel. Written by tests/golden/regenerate-settled-cables.ts; not to be edited by hand.
 */

export interface SettledStrand {
  /** Share of the way across that is done, by rounds from three below the crossing to three above. */
  readonly travel: readonly number[];
  /** Height over the columns between crossings, yarn diameters. */
  readonly height: readonly number[];
}

/** By stitches in each strand; single ones are drawn as two. */
export const SETTLED_CABLES: readonly {
  readonly moved: number;
  readonly over: SettledStrand;
  readonly under: SettledStrand;
}[] = [
  {
    moved: 2,
    over: {
      travel: [0.02, 0.09, 0.45, 0.81, 0.98, 1.01],
      height: [0, 0.17, 0.62, 0.36, 0.08, 0],
    },
    under: {
      travel: [0.02, 0.17, 0.5, 0.8, 0.97, 0.98],
      height: [-0.05, -0.31, -0.52, -0.39, -0.02, -0.02],
    },
  },
  {
    moved: 3,
    over: {
      travel: [0.02, 0.17, 0.46, 0.79, 0.97, 0.99],
      height: [0.01, 0.29, 0.59, 0.4, 0.01, -0.02],
    },
    under: {
      travel: [0.03, 0.2, 0.47, 0.79, 0.96, 1],
      height: [-0.03, -0.38, -0.66, -0.4, -0.06, 0.01],
    },
  },
];
