/** Orders and remarks at places where nothing is worked: the first are never passed over in silence, the second are left alone. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { parsePlan } from '../../src/plan/parse.ts';
import { runs } from '../runs.ts';
import { fateOf, order, PLANS, put, REMARKS, SPOTS } from './silent-orders.ts';

describe('sentences where nothing is worked', () => {
  it('starts from plans that are read without a word', () => {
    for (const plan of PLANS)
      for (const spot of SPOTS)
        expect(parsePlan(put(plan, spot, 'It rained.')).diagnostics).toEqual([]);
  });

  it('are never passed over where they ask for something, for some of the cases that npm run soak has more of', () => {
    fc.assert(
      fc.property(fc.constantFrom(...PLANS), order, (plan, { sentence, spot }) => {
        expect(fateOf(plan, spot, sentence), `${spot}: ${sentence}`).not.toBe('passed over');
      }),
      { seed: 8, numRuns: runs(200) },
    );
  });

  it('are left alone where they only tell, but for one in fifty', () => {
    const refused = (['above', 'behind'] as const).flatMap((spot) =>
      REMARKS[spot].filter((sentence) => fateOf(PLANS[0], spot, sentence) !== 'passed over'),
    );
    const all = REMARKS.above.length + REMARKS.behind.length;
    expect(refused.length / all, refused.join('\n')).toBeLessThanOrEqual(0.02);
  });

  it.each([
    ['above', 'Purl one round.', 'above-the-cast-on'],
    ['notes', 'Decrease 8 stitches on the next round.', 'above-the-cast-on'],
    ['behind', 'Purl one round.', 'rounds-after-ending'],
  ] as const)('says %s of "%s"', (spot, sentence, code) => {
    const text = put(PLANS[0], spot, sentence);
    const line = text.split('\n').findIndex((l) => l.endsWith(sentence)) + 1;
    expect(parsePlan(text).diagnostics.map((d) => [d.code, d.from.line])).toEqual([[code, line]]);
  });
});
