/** A thousand random plans: verdict, angle, rim and rise never contradict. */
import { randomPlans } from '../report/random-plans.ts';
import { checkVerdict } from '../report/verdict-rule.ts';
import { soak } from './soak.ts';

const tally = new Map<string, number>();

soak('verdict and figures agree', {
  cases: randomPlans,
  runs: 1000,
  check: (text) => {
    const verdict = checkVerdict(text);
    tally.set(verdict, (tally.get(verdict) ?? 0) + 1);
  },
  tell: () => JSON.stringify(Object.fromEntries(tally)),
});
