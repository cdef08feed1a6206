/** Ten thousand plans with a word garbled or missing: each is noticed, but for a small share that reads right again. */
import fc from 'fast-check';
import { afterAll, expect } from 'vitest';
import { garble, isNoticed, isRight, JOINTS, joinAnew, planTexts } from '../plan/garbled-plans.ts';
import { settings, soak } from './soak.ts';

const PLANS = planTexts().filter(isRight);
let tried = 0;
let missed = 0;

/** Share that may go unnoticed: stitches missing where the rest goes "to end". Measured 1.5 %, with room. */
const MOST_MISSED = 0.025;

afterAll(() => {
  if (tried >= 1000 * settings.share) expect(missed / Math.max(1, tried)).toBeLessThan(MOST_MISSED);
});

/** Share of sentence ends put otherwise that may come to another piece without a word. Measured 0.4 %, with room. */
const MOST_JOINED = 0.01;
let joined = 0;
let misjoined = 0;

afterAll(() => {
  if (joined >= 1000 * settings.share)
    expect(misjoined / Math.max(1, joined)).toBeLessThan(MOST_JOINED);
});

soak('sentences joined otherwise come to the same piece, or that is told', {
  cases: fc.tuple(
    fc.constantFrom(...PLANS),
    fc.double({ min: 0, max: 0.999, noNaN: true }),
    fc.constantFrom(...JOINTS),
  ),
  runs: 10_000,
  part: 0.5,
  check: async ([text, place, joint]) => {
    const other = joinAnew(text, place, joint);
    if (!other) return;
    joined++;
    if (!isNoticed(text, other)) misjoined++;
  },
  tell: () => `${misjoined} of ${joined} unnoticed`,
});

soak('garbled and missing words of right plans are noticed', {
  cases: fc.tuple(
    fc.constantFrom(...PLANS),
    fc.record({
      word: fc.double({ min: 0, max: 0.999, noNaN: true }),
      letter: fc.double({ min: 0, max: 0.999, noNaN: true }),
      how: fc.constantFrom('swap', 'drop', 'double', 'delete', 'nonsense' as const),
    }),
  ),
  runs: 10_000,
  part: 0.5,
  check: async ([text, how]) => {
    const garbled = garble(text, how);
    if (!garbled) return;
    tried++;
    if (!isNoticed(text, garbled)) missed++;
  },
  tell: () => `${missed} of ${tried} unnoticed`,
});
