import { describe, expect, it } from 'vitest';
import {
  firstChoices,
  presentRate,
  rateChoices,
  SCHEDULES,
  threeRates,
} from '../../src/app/state/retiming.ts';
import type { Advice } from '../../src/report/report.ts';
import { planOf } from '../fabric/plan-maker.ts';

describe('rates to compare', () => {
  it('are three different ones, from quick to slow, with the present one among them', () => {
    for (const present of SCHEDULES) {
      for (const flat of [null, ...SCHEDULES.map((rate) => rate.every)]) {
        const [quick, middle, slow] = threeRates(present.every, flat);
        expect(quick.every).toBeLessThan(middle.every);
        expect(middle.every).toBeLessThan(slow.every);
        // At either end of the list the middle gives way by one place.
        if (flat !== null && flat > 1 && flat < 6) {
          expect([quick.every, middle.every, slow.every]).toContain(flat);
          expect([quick.every, middle.every, slow.every]).toContain(present.every);
        }
      }
    }
  });

  it('reads the present rate from the plan', () => {
    const everySecond = planOf(12, ['k2tog k10', 'k11', 'k2tog k9', 'k10', 'k2tog k8']);
    expect(presentRate(everySecond)).toBe(2);
    const everyRound = planOf(12, ['k2tog k10', 'k2tog k9', 'k2tog k8']);
    expect(presentRate(everyRound)).toBe(1);
  });
});

describe('plans set side by side', () => {
  const plan = planOf(12, ['k2tog k10', 'k11', 'k2tog k9', 'k10', 'k2tog k8']);
  const advised = (every: number | null): Advice => ({
    text: 'To lie flat, decrease otherwise.',
    every,
    planText: 'the plan advised',
    fromRound: 1,
    toRound: 5,
  });

  it('are the plan itself and the plan advised, not others at about their rates', () => {
    for (const every of [null, 1, 1.3, 5 / 3, 2, 2.1, 3, 7]) {
      const choices = rateChoices(plan, advised(every));
      const keys = firstChoices(presentRate(plan), advised(every));
      expect(new Set(keys).size).toBe(3);
      const texts = keys.map((key) => choices.find((one) => one.key === key)?.text());
      expect(texts).toContain(plan.text);
      expect(texts[1]).toBe('the plan advised');
    }
    expect(rateChoices(plan, advised(5 / 3)).map(({ words }) => words)).toEqual(
      expect.arrayContaining(['every 2nd round, as written', '3 rounds of 5, as advised']),
    );
  });

  it('are the plan between a quicker and a slower rate where nothing is advised', () => {
    expect(firstChoices(presentRate(plan), null)[1]).toBe('written');
    expect(rateChoices(plan, null).some(({ key }) => key === 'advised')).toBe(false);
  });
});
