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

it('a square with a wide panel along its corners is one, worked from its rim or from its centre', () => {
  const wrong = ['p1 k4 p1', 'p2 k8 p2', 'p2 k12 p2'].flatMap((stitches) =>
    (['in', 'out'] as const).flatMap((direction) =>
      (['stockinette', 'garter'] as const).flatMap((ground) => {
        const roundMm = ground === 'garter' ? 2 : 3;
        const panels = [{ stitches, crossEvery: null, place: 'corner' as const }];
        const draft = draftPlan({ sizeMm: 190, stitchMm: 4, roundMm, direction, ground, panels });
        const { corners } = prepare(parsePlan(draft.text)).report;
        return corners === 4 ? [] : [`${corners} corners: ${stitches} ${direction} ${ground}`];
      }),
    ),
  );
  expect(wrong).toEqual([]);
});
