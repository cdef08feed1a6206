/** A thousand random plans: verdict, angle, rim and rise never contradict. */
import { expect } from 'vitest';
import { judgeFabric, prepare } from '../../src/knit.ts';
import { parsePlan } from '../../src/plan/parse.ts';
import { randomPlans } from '../report/random-plans.ts';
import { checkVerdict } from '../report/verdict-rule.ts';
import { soak } from './soak.ts';

const tally = new Map<string, number>();

soak('verdict and figures agree', {
  cases: randomPlans,
  runs: 1000,
  check: (text) => {
    const verdict = checkVerdict(text);
    expect(judgeFabric(prepare(parsePlan(text))).verdict, text).toBe(verdict);
    tally.set(verdict, (tally.get(verdict) ?? 0) + 1);
  },
  tell: () => JSON.stringify(Object.fromEntries(tally)),
});
