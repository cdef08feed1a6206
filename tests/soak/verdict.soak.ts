/** A thousand random plans: verdict, angle, rim and rise never contradict. */
import { expect } from 'vitest';
import { knit } from '../../src/knit.ts';
import { randomPlans } from '../report/random-plans.ts';
import { expectAgreement } from '../report/verdict-rule.ts';
import { soak } from './soak.ts';

const tally = new Map<string, number>();

soak('verdict and figures agree', {
  cases: randomPlans,
  runs: 1000,
  check: (text) => {
    const { plan, knitted } = knit(text);
    expect(
      plan.diagnostics.filter((d) => d.severity === 'error'),
      text,
    ).toEqual([]);
    if (!knitted) throw new Error(`cannot be relaxed:\n${text}`);
    expectAgreement(knitted.report, text);
    tally.set(knitted.report.verdict, (tally.get(knitted.report.verdict) ?? 0) + 1);
  },
  tell: () => JSON.stringify(Object.fromEntries(tally)),
});
