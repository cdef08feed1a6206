/** Ten thousand whole flows from text to fabric, verdict, pattern and chart: numbers everywhere, or mistakes that are told. */
import fc from 'fast-check';
import { afterAll } from 'vitest';
import { randomPlans } from '../report/random-plans.ts';
import { CheckThread } from './in-worker.ts';
import { CORPUS, edited, mutatedTexts } from './mutated.ts';
import { soak } from './soak.ts';

const thread = new CheckThread(120_000);

afterAll(() => thread.close());

/** One number changed: most such plans still make sense, and something odd. */
const numbers = fc
  .tuple(fc.oneof(fc.constantFrom(...CORPUS), randomPlans), fc.nat(), fc.nat(60))
  .map(([text, pick, value]) => {
    const found = [...text.matchAll(/\d+/g)];
    const one = found[pick % Math.max(found.length, 1)];
    if (!one) return text;
    return edited(text, [{ at: one.index, remove: one[0].length, insert: String(value) }]);
  });

soak('any text goes through to numbers or to mistakes', {
  cases: fc.oneof({ weight: 3, arbitrary: numbers }, { weight: 1, arbitrary: mutatedTexts }),
  runs: 10_000,
  check: async (text) => {
    await thread.check('goesThrough', text);
  },
  tell: () => `${thread.mostMb.toFixed(0)} MB at most`,
});
