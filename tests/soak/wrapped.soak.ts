/** Right plans of the corpus, broken into lines of five widths in three ways: read as before they were broken, or refused. */
import fc from 'fast-check';
import { expect, it } from 'vitest';
import { readWrapped, wrappedCases } from '../plan/wrapped.ts';
import { soak } from './soak.ts';

/** Share of all cases that must read alike; measured: 97.0 % of 3,319. A sample may have a few more amiss. */
const LEAST_ALIKE = 0.95;
/** So few say nothing of the share. Chosen: four errors of a hundred are as likely as not. */
const FEW = 300;

const all = wrappedCases();
let alike = 0;
let read = 0;

soak('a plan broken into lines reads as it did, or is refused: never otherwise', {
  cases: fc.nat(all.length - 1),
  runs: all.length,
  check: (which) => {
    const one = all[which];
    const how = readWrapped(one);
    if (how === null) return;
    read++;
    if (how === 'alike') alike++;
    expect(how, `${one.file} at ${one.width}:\n${one.text}`).not.toBe('otherwise');
  },
  tell: () => `${alike} of ${read} read alike`,
});

it('most plans broken into lines read as they did', () => {
  if (read < FEW) return;
  expect(alike / read).toBeGreaterThan(LEAST_ALIKE);
});
