import { describe, expect, it } from 'vitest';
import { parsePlan } from '../../src/plan/parse.ts';

const plan = (rounds: number): string =>
  [
    'Cast on 20 sts and join in the round.',
    ...Array.from({ length: rounds }, (_, i) => `Round ${i + 1}: k5, zork, knit to end.`),
    'Bind off.',
  ].join('\n');

const zorks = (rounds: number) =>
  parsePlan(plan(rounds)).diagnostics.filter((d) => d.message.includes('zork'));

describe('a word that is unknown on many lines', () => {
  it('is told once, with the lines that it stands on', () => {
    const [first, ...more] = zorks(4);
    expect(more).toEqual([]);
    expect(first.from.line).toBe(2);
    expect(first.hint).toContain('Also on lines 3, 4, 5.');
  });

  it('names a dozen lines at most and says how many more there are', () => {
    const [first] = zorks(60);
    expect(first.hint).toMatch(/Also on lines 3, 4, .*, 14 and 47 more\.$/);
  });
});

describe('a long text of several sizes', () => {
  it('says that only the chosen size is checked', () => {
    const text = `Size: small (large)\nCast on 40 (48) sts and join.\n${'Knit 1 round.\n'.repeat(5_000)}`;
    const note = parsePlan(text).diagnostics.find((d) => d.code === 'several-sizes');
    expect(note?.message).toContain('too long to check the others');
  });
});

describe('a table', () => {
  it.each([1, 2, 3])(
    'with %i letters that take two units each has its mistakes in place',
    (many) => {
      const rows = [`2|${'\u{1F9F6}'.repeat(many)}k|2`, '3|t|2', '4|k|3'];
      const { diagnostics } = parsePlan(rows.join('\n'));
      expect(diagnostics.length).toBeGreaterThan(1);
      for (const { from, to } of diagnostics)
        for (const { line, column } of [from, to])
          expect(column).toBeLessThanOrEqual(rows[line - 1].length + 1);
    },
  );
});
