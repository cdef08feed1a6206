import fc from 'fast-check';
import { expect, it } from 'vitest';
import { draftPlan } from '../../src/draft/draft.ts';
import { prepare } from '../../src/knit.ts';
import { parsePlan } from '../../src/plan/parse.ts';
import { runs } from '../runs.ts';
import { smallSpecs } from './wishes-arbitrary.ts';

it('a small disc is told as a disc, and shapes with corners by their corners, over random wishes', () => {
  const plain = smallSpecs.map((spec) => ({ ...spec, panels: [] }));
  const wrong = fc
    .sample(plain, { seed: 11, numRuns: runs(16) })
    .map((spec) => ({ spec, shape: prepare(parsePlan(draftPlan(spec).text)).report.shape }))
    .filter(({ spec, shape }) => shape !== spec.shape);
  expect(wrong.map(({ spec, shape }) => `${shape}: ${JSON.stringify(spec)}`)).toEqual([]);
});
