/** A thousand random plans: verdict, angle, rim and rise never contradict. */
import { expect, it } from 'vitest';
import { checkVerdicts } from '../report/verdict-rule.ts';

const PLANS = 1000;
const CHUNK = 100;

for (let from = 0; from < PLANS; from += CHUNK) {
  it(`verdict and figures agree, plans ${from + 1} to ${from + CHUNK}`, {
    timeout: 600_000,
  }, () => {
    const tally = checkVerdicts(19, from, from + CHUNK);
    expect(tally.size).toBeGreaterThan(5);
  });
}
