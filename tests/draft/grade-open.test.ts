/** Triangles and mitres left open, worked to another size. */
import fc from 'fast-check';
import { expect, it } from 'vitest';
import { gradeOpen } from '../../src/draft/search/grade-measured.ts';
import { parsePlan } from '../../src/plan/parse.ts';
import { runs } from '../runs.ts';

const pieces = fc.record({
  mitre: fc.boolean(),
  outwards: fc.boolean(),
  every: fc.constantFrom(2, 4),
  steps: fc.integer({ min: 5, max: 12 }),
  rest: fc.integer({ min: 2, max: 6 }),
  share: fc.constantFrom(0.6, 0.8, 1, 1.3, 1.7),
});

it('keep their angles and their ends, and come within a step of the size asked', () => {
  fc.assert(
    fc.property(pieces, ({ mitre, outwards, every, steps, rest, share }) => {
      const halves = mitre ? 2 * rest + 1 : 2 * rest + 2;
      const counts = Array.from({ length: steps + 1 }, (_, k) => halves + 2 * k);
      if (!outwards) counts.reverse();
      const shaped = (before: number) => {
        const half = (before - 1) / 2;
        if (mitre)
          return outwards ? `k${half}, yo, k1, yo, k${half}` : `k${half - 1}, s2kp, k${half - 1}`;
        return outwards ? `kfb, k${before - 2}, kfb` : `ssk, k${before - 4}, k2tog`;
      };
      const rows = counts
        .slice(0, -1)
        .flatMap((before) => [...new Array<string>(every - 1).fill(`k${before}`), shaped(before)]);
      const plan = parsePlan(`Gauge: 20 sts and 40 rows = 10 cm in garter
Worked: flat, no seam
Cast on ${counts[0]} sts.
${rows.map((row, i) => `Row ${i + 1}: ${row}.`).join('\n')}
Bind off.
`);
      expect(plan.diagnostics.filter((d) => d.severity === 'error')).toEqual([]);
      const sides = mitre ? 2 : 1;
      const rim = Math.max(...counts);
      const asked = (share * rim * 5) / sides;
      const to = { sizeMm: asked, stitchMm: 5, roundMm: 2.5, corners: 0 };
      let text: string;
      let sizeMm: number;
      try {
        ({ text, sizeMm } = gradeOpen(plan, to));
      } catch (error) {
        expect((error as Error).message).toMatch(/too small/);
        expect(share).toBeLessThan(1);
        return;
      }
      const graded = parsePlan(text);
      expect(graded.diagnostics.filter((d) => d.severity === 'error')).toEqual([]);
      expect(Math.abs(sizeMm - asked)).toBeLessThanOrEqual(5 / sides + 1e-6);
      const ends = ({ castOn, rounds }: typeof plan) => [castOn, rounds[rounds.length - 1].after];
      expect(Math.min(...ends(graded))).toBeGreaterThanOrEqual(halves);
      expect(Math.max(...ends(graded)) * 5).toBeCloseTo(sizeMm * sides, 6);
      const at = graded.rounds.flatMap(({ before, after }, i) => (before === after ? [] : [i]));
      for (const [i, row] of at.slice(1).entries()) expect(row - at[i]).toBe(every);
      expect(at.length).toBe((Math.max(...ends(graded)) - Math.min(...ends(graded))) / 2);
    }),
    { seed: 3, numRuns: runs(200) },
  );
});
