/** A million mutated texts read: no exception, no misplaced or endless message, nothing slow, no memory without end. */
import fc from 'fast-check';
import { afterAll, beforeAll, expect } from 'vitest';
import { CheckThread } from './in-worker.ts';
import { CORPUS, mutatedTexts } from './mutated.ts';
import { soak } from './soak.ts';
import { TEXT_SHARES } from './vitest.config.ts';

/** Promised: 1 s for 100 kB; shorter texts get as long as a tenth of it. */
const allowedMs = (text: string) => 1000 * Math.max(0.25, text.length / 100_000);

/** Characters of a long text. */
const LONG = 100_000;

/** A mutated text may take so many times what the plans themselves take, where the machine is too slow for the promise. */
const TIMES_ORDINARY = 3;

const thread = new CheckThread(20_000);
let slowest = 0;
/** Processor time of a long text of right plans, ms. */
let ordinaryMs = 0;

// The first texts are read by code that has not run before.
beforeAll(async () => {
  for (const text of CORPUS.slice(0, 20)) await thread.check('readsText', text);
  const long = CORPUS.join('\n').repeat(4).slice(0, LONG);
  for (let k = 0; k < 3; k++) ordinaryMs = await thread.check('readsText', long);
});
afterAll(() => thread.close());

/** Texts over and over until they are long, line by line or in one line. */
const longTexts = fc
  .tuple(fc.array(mutatedTexts, { minLength: 1, maxLength: 6 }), fc.boolean())
  .map(([texts, inOneLine]) => {
    const all = texts.join('\n');
    const long = all.repeat(Math.ceil(LONG / Math.max(1, all.length))).slice(0, LONG);
    return inOneLine ? long.replace(/\s+/g, ' ') : long;
  });

soak('any text is read in time, and every message lies in it', {
  cases: mutatedTexts,
  runs: 1_000_000,
  part: 0.8 * TEXT_SHARES,
  check: async (text) => {
    const ms = await thread.check('readsText', text);
    slowest = Math.max(slowest, ms);
    expect(ms).toBeLessThan(allowedMs(text));
  },
  tell: () =>
    `slowest ${slowest.toFixed(0)} ms of processor time, ${thread.mostMb.toFixed(0)} MB at most`,
});

// Behind the short ones: what long ones leave to be cleared away would count to the next text.
soak('a text of 100 kB is read within a second', {
  cases: longTexts,
  runs: 2_000,
  part: 0.2 * TEXT_SHARES,
  check: async (text) => {
    const limit = Math.max(1000, TIMES_ORDINARY * ordinaryMs);
    expect(await thread.check('readsText', text)).toBeLessThan(limit);
  },
});
