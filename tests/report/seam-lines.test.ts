/** Seams are told once for the same two squares, whichever lies first; together they are all the seams there are. */
import fc from 'fast-check';
import { expect, it } from 'vitest';
import { type SeamFit, seamLines } from '../../src/report/blanket.ts';

const ids = fc.constantFrom('a', 'b', 'c');

it('over random seams', () => {
  fc.assert(
    fc.property(fc.array(fc.tuple(ids, ids), { maxLength: 30 }), (pairs) => {
      const seams = pairs.map(
        ([first, second]) => ({ first, second, words: `${first} to ${second}.` }) as SeamFit,
      );
      const lines = seamLines(seams);
      expect(lines.reduce((sum, { times }) => sum + times, 0)).toBe(seams.length);
      const told = lines.map(({ words }) => words.replace('.', '').split(' to ').sort().join());
      expect(new Set(told).size).toBe(told.length);
      expect(new Set(told)).toEqual(new Set(pairs.map((pair) => [...pair].sort().join())));
    }),
    { seed: 4, numRuns: 100 },
  );
});
