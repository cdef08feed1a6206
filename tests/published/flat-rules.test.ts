/**
 * Stitches to lose a round so that a motif lies flat: exact geometry, and the rules of thumb of the
 * trade that it explains.
 */
import { describe, expect, it } from 'vitest';
import { flatStitchesPerRound } from '../../src/report/budget.ts';

/** Exact: disc 2π·ρ, n-gon 2n·tan(π/n)·ρ with ρ = round height / stitch width; derived, 4 digits. */
const EXACT: readonly [
  ratio: number,
  disc: number,
  square: number,
  hexagon: number,
  octagon: number,
][] = [
  [0.5, 3.142, 4.0, 3.464, 3.314],
  [0.637, 4.0, 5.1, 4.41, 4.22],
  [0.7, 4.398, 5.6, 4.85, 4.639],
  [0.75, 4.712, 6.0, 5.196, 4.971],
  [0.8, 5.027, 6.4, 5.543, 5.302],
  [1.0, 6.283, 8.0, 6.928, 6.627],
];

describe('flat rules', () => {
  for (const [ratio, disc, square, hexagon, octagon] of EXACT) {
    it(`are the closed forms at h/w = ${ratio}`, () => {
      const rules: [corners: number, expected: number][] = [
        [0, disc],
        [4, square],
        [6, hexagon],
        [8, octagon],
      ];
      for (const [corners, expected] of rules) {
        // Tolerance: the table is rounded to its last digit (two decimals in one row).
        expect(Math.abs(flatStitchesPerRound(corners, 5 * ratio, 5) - expected)).toBeLessThan(
          0.011,
        );
      }
    });
  }

  it('give garter squares 8 decreases every second round', () => {
    // Garter, one stitch to two rows: overtherainbowyarn.com/category/yarn-school; a mitred corner
    // then decreases every other row (docslib.org/doc/5694404, entrelac knitting).
    expect(flatStitchesPerRound(4, 2.5, 5) * 2).toBeCloseTo(8, 12);
  });

  it('explain why 8 decreases every other round dome in stockinette and 10 come close to flat', () => {
    // Hat makers' rule, common practice: forum.knittinghelp.com/t/help-with-hat-decrease/43005.
    for (const ratio of [0.7, 0.75, 1 / 1.3, 0.8]) {
      expect(flatStitchesPerRound(8, ratio, 1)).toBeGreaterThan(4);
    }
    // Tolerance 3 %: a rule of thumb; the exact value at h/w = 1/1.3 is 5.0 for ten corners.
    expect(Math.abs(flatStitchesPerRound(10, 1 / 1.3, 1) / 5 - 1)).toBeLessThan(0.03);
  });
});
