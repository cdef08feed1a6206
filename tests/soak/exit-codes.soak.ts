/** Random plans through every command that hands over a piece: 0 only for one to knit. */
import fc from 'fast-check';
import { checkExitCodes } from '../cli/exit-code-rule.ts';
import { randomPlans } from '../report/random-plans.ts';
import { soak } from './soak.ts';

const tally = new Map<string, number>();

soak('a command ends with 0 only on a piece to knit', {
  cases: fc.tuple(randomPlans, fc.array(fc.nat(11), { minLength: 8, maxLength: 8 })),
  runs: 200,
  check: async ([text, dice]) => {
    let at = 0;
    const verdict = await checkExitCodes(text, (ways) => dice[at++ % dice.length] % ways);
    tally.set(verdict, (tally.get(verdict) ?? 0) + 1);
  },
  tell: () => JSON.stringify(Object.fromEntries(tally)),
});
