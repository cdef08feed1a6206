/** What a round is called where the piece is counted through: never the same name twice, and its place in each. */
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { parsePlan } from '../../../src/plan/parse.ts';
import { courseName } from '../../../src/report/words/course-name.ts';

/** Named, unnumbered, repeated and counted anew, in the round and flat. */
const PLANS = [
  'as-an-earlier-round',
  'cast-on-marker-worked-flat',
  'cast-on-total-and-share',
  'compound-of-named-rounds',
  'flat-lace-swatch',
  'garter-explained-in-brackets',
  'row-pattern-repeated',
  'sections-with-rows',
];

function named(text: string): string[] {
  const plan = parsePlan(text);
  return plan.rounds.map(({ n }) => courseName(plan, n));
}

describe('a round counted through', () => {
  it.each(PLANS)('has a name of its own with its place in it: %s', (file) => {
    const names = named(readFileSync(new URL(`../../plans/${file}.txt`, import.meta.url), 'utf8'));
    expect(names.length).toBeGreaterThan(1);
    expect(new Set(names).size).toBe(names.length);
    names.forEach((name, k) => {
      expect(name).toMatch(new RegExp(`^(Round|Row) ${k + 1}\\b|, number ${k + 1} in all$`));
    });
  });

  it('says what its text calls it', () => {
    const names = named(`Sides: 4
Cast on 48 sts. Join in the round.
Set-up round: knit.
Round 1: knit.
Round 2: *ssk, k to last 2 sts of side, k2tog; rep from * to end.
Repeat rounds 1 and 2 until 8 sts remain.
`);
    expect(names.slice(0, 4)).toEqual([
      'Round 1 (set-up round)',
      'Round 1, number 2 in all',
      'Round 2, number 3 in all',
      'Round 4 (round 1 again)',
    ]);
  });
});
