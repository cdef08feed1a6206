import fc from 'fast-check';
import { expect, it } from 'vitest';
import { draftPlan } from '../../src/draft/draft.ts';
import { gradePlan } from '../../src/draft/search/grade-measured.ts';
import { SEGMENTS, type SpecInput } from '../../src/draft/spec/draft-spec.ts';
import { prepare } from '../../src/knit.ts';
import { parsePlan } from '../../src/plan/parse.ts';
import { runs } from '../runs.ts';
import { smallSpecs } from './wishes-arbitrary.ts';

const reportOf = (text: string) => prepare(parsePlan(text)).report;

it('small motifs are told by the shape they are drafted in, all but one in fifty where panels crowd their sides', () => {
  const specs = fc.sample(smallSpecs, { seed: 11, numRuns: runs(400) });
  const wrong = specs
    .map((spec) => ({ spec, shape: reportOf(draftPlan(spec).text).shape }))
    .filter(({ spec, shape }) => shape !== spec.shape);
  const said = wrong.map(({ spec, shape }) => `${shape}: ${JSON.stringify(spec)}`);
  expect(said.slice(Math.ceil(specs.length / 50))).toEqual([]);
  expect(wrong.filter(({ spec }) => spec.panels?.length === 0)).toEqual([]);
});

it('a disc is still one at another size: what a larger rim adds makes no corners, in any ground, round or flat', () => {
  const discs: fc.Arbitrary<SpecInput> = fc.record({
    shape: fc.constant('disc' as const),
    direction: fc.constantFrom('in', 'out'),
    ground: fc.constantFrom('stockinette', 'garter', 'reverse', 'seed'),
    worked: fc.constantFrom('round', 'flat'),
    sizeMm: fc.integer({ min: 95, max: 160 }),
    stitchMm: fc.constant(4.3),
    roundMm: fc.constantFrom(2.2, 3.1),
  });
  const graded = fc.record({ spec: discs, larger: fc.constantFrom(1.3, 1.6, 2) });
  const wrong = fc.sample(graded, { seed: 3, numRuns: runs(24) }).filter(({ spec, larger }) => {
    const { stitchMm, roundMm } = spec;
    const to = { sizeMm: spec.sizeMm * larger, stitchMm, roundMm, corners: 0 };
    const byStitches = { measure: () => null, relax: () => null };
    const { text } = gradePlan(parsePlan(draftPlan(spec).text), to, byStitches);
    return reportOf(text).corners !== 0;
  });
  expect(wrong.map((one) => JSON.stringify(one))).toEqual([]);
});

it('a panel along the corners leaves the corners of its shape, from its rim or its centre, eaten by several stitches a round', () => {
  const wishes = fc.record({
    shape: fc.constantFrom('triangle', 'square', 'pentagon', 'hexagon'),
    stitches: fc.constantFrom('p1 k3 p1', 'seed5', 'p1 k4 p1', 'k6', 'p2 k8 p2', 'p2 k12 p2'),
    direction: fc.constantFrom('in', 'out'),
    ground: fc.constantFrom('stockinette', 'garter', 'seed'),
    sizeMm: fc.integer({ min: 120, max: 240 }),
  });
  const wrong = fc
    .sample(wishes, { seed: 5, numRuns: runs(32) })
    .map(({ stitches, ...spec }) => {
      const roundMm = spec.ground === 'garter' ? 2.1 : 3;
      const panels = [{ stitches, crossEvery: null, place: 'corner' as const }];
      const draft = draftPlan({ ...spec, stitchMm: 4.2, roundMm, panels } as SpecInput);
      return { spec, stitches, corners: reportOf(draft.text).corners };
    })
    .filter(({ spec, corners }) => corners !== SEGMENTS[spec.shape as keyof typeof SEGMENTS]);
  expect(wrong.map((one) => JSON.stringify(one))).toEqual([]);
});

it('seed runs on round a disc, from each of its parts to the next', () => {
  for (const sizeMm of [80, 95, 110, 125, 150]) {
    const spec = { shape: 'disc', ground: 'seed', sizeMm, stitchMm: 4.3, roundMm: 3.1 } as const;
    const { rounds, kinds } = parsePlan(draftPlan(spec).text);
    const names = Array.from(rounds[0].works, (id) => kinds[id].name);
    expect(names.filter((name, i) => name === names[(i + 1) % names.length])).toEqual([]);
  }
});
