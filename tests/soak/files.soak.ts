/** Ten thousand damaged project files and links: refused in words, or read into the same project again. */
import fc from 'fast-check';
import { afterAll, describe } from 'vitest';
import { planFragment } from '../../src/app/files/plan-link.ts';
import { CheckThread } from './in-worker.ts';
import { CORPUS, mutationsOf } from './mutated.ts';
import { soak } from './soak.ts';

const PROJECT = JSON.stringify({
  format: 'lieflat-project',
  version: 3,
  title: 'Reed bed',
  units: 'inch',
  plans: [
    { id: 'square-1', name: 'Reed', text: CORPUS[0], colours: null },
    {
      id: 'square-2',
      name: 'Sedge',
      text: CORPUS[1],
      colours: { yarns: [{ name: 'mist', hex: '#a0b0c0' }], stripeRounds: 0 },
    },
  ],
  open: 'square-2',
  blanket: {
    rows: [
      ['square-1', null],
      ['square-2', 'square-1'],
    ],
    targetMm: 200,
    easeShare: 0.03,
  },
  testKnits: [
    {
      id: 'knit-1',
      yarn: 'mist',
      predicted: { stitchMm: 5, roundMm: 4, sideMm: 200 },
      measured: { stitchMm: 5.1, roundMm: null, sideMm: 198 },
    },
  ],
});
const fragments = await Promise.all(CORPUS.slice(0, 20).map(planFragment));

const json = fc.json({ maxDepth: 5 });
/** A field of the project replaced by anything. */
const replaced = fc
  .tuple(fc.constantFrom(...(PROJECT.match(/"\w+":/g) ?? [])), json)
  .map(([key, value]) => PROJECT.replace(key, `${key}${value},"was":`));

describe('project files and links', () => {
  const thread = new CheckThread(20_000);

  afterAll(() => thread.close());

  soak('a damaged project file is refused in words, or reads back the same', {
    cases: fc.oneof(mutationsOf(PROJECT), replaced, json),
    runs: 10_000,
    part: 0.5,
    check: async (text) => {
      await thread.check('readsProject', text);
    },
    tell: () => `${thread.mostMb.toFixed(0)} MB at most`,
  });

  soak('a damaged link is refused in words, or carries the same text', {
    cases: fc.constantFrom(...fragments).chain((fragment) => mutationsOf(fragment)),
    runs: 10_000,
    part: 0.5,
    check: async (fragment) => {
      await thread.check('readsLink', fragment);
    },
  });
});
