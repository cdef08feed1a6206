/** Generated orders above the cast-on, in notes, among the rounds and behind the end: none is passed over in silence. */
import fc from 'fast-check';
import { expect } from 'vitest';
import { fateOf, order, PLANS } from '../plan/silent-orders.ts';
import { soak } from './soak.ts';

soak('orders where nothing is worked are followed or refused', {
  cases: fc.record({ plan: fc.constantFrom(...PLANS), put: order }),
  runs: 20_000,
  check: ({ plan, put: { sentence, spot } }) => {
    expect(fateOf(plan, spot, sentence), `${spot}: ${sentence}`).not.toBe('passed over');
  },
});
