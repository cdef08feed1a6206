/** Every right plan of the corpus, broken into lines of five widths in three ways: read as before it was broken. */
import { afterAll, expect, it } from 'vitest';
import { readWrapped, type WrappedCase, wrappedCases } from '../plan/wrapped.ts';
import { settings } from './soak.ts';

/** Share of all cases that read alike; measured 97.7 % when this was written. */
const LEAST_ALIKE = 0.97;

let told = '';
afterAll(() => process.stdout.write(`${told}\n`));

it('a plan broken into lines reads as it did, or is refused: never otherwise', () => {
  const step = Math.max(1, Math.round(1 / Math.max(settings.share, 0.01)));
  const cases = wrappedCases().filter((_, i) => i % step === settings.seed % step);
  const otherwise: WrappedCase[] = [];
  let alike = 0;
  let all = 0;
  for (const one of cases) {
    const how = readWrapped(one);
    if (how === null) continue;
    all++;
    if (how === 'alike') alike++;
    else if (how === 'otherwise') otherwise.push(one);
  }
  told = `${alike} of ${all} wrapped plans read alike`;
  expect(otherwise.map(({ file, width }) => `${file} at ${width}`)).toEqual([]);
  expect(alike / all).toBeGreaterThan(LEAST_ALIKE);
});
