/** Five hundred random plans: advice followed makes them flat or blockable, or says why it cannot. */
import { expectHelp } from '../report/advice-rule.ts';
import { randomPlans } from '../report/random-plans.ts';
import { soak } from './soak.ts';

let helped = 0;

soak('advice helps or says why not', {
  cases: randomPlans,
  runs: 500,
  check: (text) => {
    if (expectHelp(text) === 'helped') helped++;
  },
  tell: () => `${helped} helped`,
});
