import { describe, expect, it } from 'vitest';
import { presentRate, SCHEDULES, threeRates } from '../../src/app/state/retiming.ts';
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
