/**
 * Strands of cables at rest, by `relaxPanel` at 17 yarn diameters a loop, crossed every eight rounds between purl: how the
 * picture's strands travel. Written by tests/golden/regenerate-settled-cables.ts; not to be edited by hand.
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
      travel: [0.05, 0.17, 0.56, 0.73, 1.07, 1.04],
      height: [-0.09, 0.11, 0.64, 0.33, 0.15, 0.01],
    },
    under: {
      travel: [0.04, 0.22, 0.56, 0.81, 0.99, 0.94],
      height: [-0.14, -0.58, -0.76, -0.53, -0.36, -0.1],
    },
  },
  {
    moved: 3,
    over: {
      travel: [0.07, 0.18, 0.52, 0.78, 0.96, 0.98],
      height: [-0.02, 0.16, 0.62, 0.39, -0.02, -0.0],
    },
    under: {
      travel: [0.05, 0.18, 0.55, 0.81, 0.96, 0.99],
      height: [-0.26, -0.54, -0.8, -0.69, -0.29, -0.01],
    },
  },
];
