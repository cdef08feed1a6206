/** Five hundred random plans: advice followed makes them flat or blockable, or says why it cannot. */
import fc from 'fast-check';
import { expect, it } from 'vitest';
import { expectHelp } from '../report/advice-rule.ts';
import { randomPlans } from '../report/random-plans.ts';

const PLANS = 500;
const CHUNK = 100;

for (let from = 0; from < PLANS; from += CHUNK) {
  it(`advice helps or says why not, plans ${from + 1} to ${from + CHUNK}`, () => {
    const plans = fc.sample(randomPlans, { seed: 23, numRuns: from + CHUNK }).slice(from);
    const helped = plans.map(expectHelp).filter((outcome) => outcome === 'helped').length;
    expect(helped).toBeGreaterThan(10);
  });
}
