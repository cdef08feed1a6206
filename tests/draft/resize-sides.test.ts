/** Ground shared out between the panels of a longer or shorter side. */
import fc from 'fast-check';
import { expect, it } from 'vitest';
import { shareOut } from '../../src/draft/rework/resize-sides.ts';

const half = fc.array(fc.integer({ min: 1, max: 12 }), { minLength: 1, maxLength: 3 });

it('every stitch is shared out, none is used up, and a side that mirrors itself goes on doing so', () => {
  fc.assert(
    fc.property(
      half,
      fc.integer({ min: 1, max: 20 }),
      fc.integer({ min: -40, max: 60 }),
      (own, middle, growth) => {
        const lengths = [...own, middle, ...own.toReversed()];
        const total = lengths.reduce((a, b) => a + b, 0);
        const shares = shareOut(lengths, growth);
        if (!shares) {
          expect(total + growth).toBeLessThan(lengths.length);
          return;
        }
        expect(shares.reduce((a, b) => a + b, 0)).toBe(total + growth);
        expect(Math.min(...shares)).toBeGreaterThanOrEqual(1);
        // One stitch taken from a side whose middle is used up is the only lone one.
        if (shares[own.length] > 1) expect(shares).toEqual(shares.toReversed());
      },
    ),
    { seed: 2, numRuns: 500 },
  );
  expect(shareOut([5, 9, 5], 6)).toEqual([7, 11, 7]);
});

it('sides that do not mirror themselves go in proportion', () => {
  expect(shareOut([4, 8], 6)).toEqual([6, 12]);
  expect(shareOut([3, 3], 1)).toEqual([4, 3]);
});
