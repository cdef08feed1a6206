/** Several sizes in one text: what differs is told for all, and each size reads back. */
import fc from 'fast-check';
import { expect, it } from 'vitest';
import { draftPlan } from '../../src/draft/draft.ts';
import { mergeSizes } from '../../src/draft/motif/merge-sizes.ts';
import { parsePlan } from '../../src/plan/parse.ts';
import { samePlan } from '../plan/meaning.ts';
import { runs } from '../runs.ts';
import { spec } from './wishes-arbitrary.ts';

it('numbers that differ are told for every size, and no others', () => {
  const lines = (n: number, k: number) =>
    `Cast on ${n} sts.\nRound 1: *ssk, k${k}, 2/2 RC, k2tog; rep from * 3 times more. (${n - 8} sts)\n`;
  expect(mergeSizes([lines(48, 4), lines(80, 12)], ['12 cm', '20 cm'])).toBe(
    'Sizes: 12 cm (20 cm)\nCast on 48 (80) sts.\n' +
      'Round 1: *ssk, k4 (12), 2/2 RC, k2tog; rep from * 3 times more. (40 (72) sts)\n',
  );
});

it('any draft at three sizes reads back as each of them', () => {
  fc.assert(
    fc.property(spec, (asked) => {
      const texts = [0.8, 1, 1.3].map(
        (factor) => draftPlan({ ...asked, sizeMm: asked.sizeMm * factor, title: 'Gale' }).text,
      );
      const merged = mergeSizes(texts, ['small', 'medium', 'large']);
      texts.forEach((text, k) => {
        const read = parsePlan(merged, k);
        expect(read.diagnostics.filter((d) => d.severity === 'error')).toEqual([]);
        expect(samePlan(read, parsePlan(text)), merged).toBe(true);
      });
    }),
    { seed: 3, numRuns: runs(12) },
  );
});

it('what one size has alone stands in one block, whatever the others have beside it', () => {
  const body = (rounds: readonly string[]) => `Cast on 40 sts.\n${rounds.join('\n')}\nBind off.\n`;
  const one = body(['Round 1: knit.', 'Round 2: purl.']);
  const two = body([
    'Round 1: *k1, p1; rep from * to end.',
    'Round 2: *p1, k1; rep from * to end.',
  ]);
  expect(mergeSizes([one, two], ['small', 'large']).split('\n').slice(2, 6)).toEqual([
    'Size 1 only: Round 1: knit.',
    'Size 1 only: Round 2: purl.',
    'Size 2 only: Round 1: *k1, p1; rep from * to end.',
    'Size 2 only: Round 2: *p1, k1; rep from * to end.',
  ]);
});

it('what some sizes share is told once for them, with their figures alone', () => {
  const body = (n: number, rounds: number) => {
    const lines = Array.from({ length: rounds }, (_, i) => `Round ${i + 1}: knit. (${n - i} sts)`);
    return `Cast on ${n} sts.\n${lines.join('\n')}\nBind off.\n`;
  };
  const sizes = ['small', 'medium', 'large', 'huge'];
  const merged = mergeSizes([body(40, 1), body(48, 2), body(56, 4), body(64, 4)], sizes);
  expect(merged.split('\n').slice(2, 6)).toEqual([
    'Round 1: knit. (40 (48, 56, 64) sts)',
    'Sizes 2, 3 and 4 only: Round 2: knit. (47 (55, 63) sts)',
    'Sizes 3 and 4 only: Round 3: knit. (54 (62) sts)',
    'Sizes 3 and 4 only: Round 4: knit. (53 (61) sts)',
  ]);
});

it('tells a figure once where it is for all sizes, be it the cast-on, and where none differs spells out the cast-on', () => {
  const rounds = (more: string) => `Cast on 8 sts.\nRound 1: *kfb; rep from * to end. (16 sts)\n${more}Bind off all sts.\n`;
  const grown = (n: number) => rounds(`Round 2: *k${n}, p1; rep from * to end. (16 sts)\n`);
  expect(mergeSizes([grown(3), grown(7)], ['10 cm', '14 cm'])).toContain('\nCast on 8 sts.\n');
  expect(mergeSizes([rounds(''), rounds('Round 2: knit. (16 sts)\n')], ['10 cm', '14 cm'])).toContain('\nCast on 8 (8) sts.\n');
}); // biome-ignore format: one text a line
