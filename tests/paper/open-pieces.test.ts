/** Patterns of pieces left open: told by their edges or by the marked middle stitch, in repeats, as they read back. */
import fc from 'fast-check';
import { expect, it } from 'vitest';
import { writePattern } from '../../src/paper/pattern/written.ts';
import { parsePlan } from '../../src/plan/parse.ts';
import { runs } from '../runs.ts';
import { checkWritten } from './pattern-properties.ts';

const MIDDLES = {
  s2kp: ['', 's2kp', '', -2],
  sk2p: ['', 'sk2p', '', -2],
  pair: ['k2tog', 'k1', 'ssk', -2],
  raised: ['m1r', 'k1', 'm1l', 2],
  overs: ['yo', 'k1', 'yo', 2],
} as const;

const pieces = fc.record({
  middle: fc.constantFrom(...(Object.keys(MIDDLES) as (keyof typeof MIDDLES)[])),
  edge: fc.constantFrom('', 'k1', 'k2', 'k1, p1'),
  rows: fc.integer({ min: 4, max: 14 }),
  plain: fc.constantFrom('knit', 'purl'),
  every: fc.constantFrom(1, 2, 4),
});

it('open pieces shaped about their middle are told in repeats, by the marked stitch', () => {
  fc.assert(
    fc.property(pieces, ({ middle, edge, rows, plain, every }) => {
      const [before, centre, behind, change] = MIDDLES[middle];
      const edges = edge === '' ? 0 : edge === 'k1' ? 1 : 2;
      const ends = edge.split(', ').reverse().join(', ');
      const own = centre.startsWith('s') ? 1 : before.includes('tog') ? 2 : 0;
      const lines: string[] = [];
      const least = 2 * edges + 2 * own + 9;
      let sts = change < 0 ? least + 2 * rows : least;
      lines.push(`Cast on ${sts} sts, work flat.`);
      for (let row = 1, shaped = 0; shaped < rows; row++) {
        const isShaped = row % 2 === 1 && ((row - 1) / 2) % every === 0;
        const run = (sts - 1) / 2 - edges - own;
        const parts = [edge, `k${run}`, before, centre, behind, `k${run}`, ends];
        lines.push(
          isShaped ? `Row ${row}: ${parts.filter(Boolean).join(', ')}.` : `Row ${row}: ${plain}.`,
        );
        if (isShaped) {
          sts += change;
          shaped++;
        }
      }
      const plan = parsePlan(`${lines.join('\n')}\nBind off all sts.\n`);
      expect(plan.diagnostics.filter((d) => d.severity === 'error')).toEqual([]);
      const { text } = writePattern(plan, { verdict: 'flat', sizeMm: 100 });
      checkWritten(plan, text);
      expect(text).toMatch(/marked st/);
      const told = text.match(/^Rows? \d/gm) ?? [];
      expect(told.length, text).toBeLessThanOrEqual(2 * every + 8);
    }),
    { seed: 3, numRuns: runs(60) },
  );
});
