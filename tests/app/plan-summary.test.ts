/** What stands over the plan about the whole of it. */
import { expect, it } from 'vitest';
import { planSummary } from '../../src/app/ui/piece-words.ts';
import { parsePlan } from '../../src/plan/parse.ts';

const tube = (castOn: number) =>
  planSummary(
    parsePlan(`Cast on ${castOn} sts. Join in the round.\nRounds 1-120: knit.\nBind off.\n`),
  );

it('tells the rounds of a plan, but not those read of one that is too large to be followed', () => {
  expect(tube(40)).toBe('40 sts cast on · 120 rounds');
  expect(tube(4000)).toBe('4000 sts cast on');
});
