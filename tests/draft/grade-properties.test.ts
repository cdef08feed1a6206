import fc from 'fast-check';
import { expect, it } from 'vitest';
import { draftPlan } from '../../src/draft/draft.ts';
import { gradePlan } from '../../src/draft/search/grade-measured.ts';
import type { SpecInput } from '../../src/draft/spec/draft-spec.ts';
import { prepare } from '../../src/knit.ts';
import { parsePlan } from '../../src/plan/parse.ts';
import { runs } from '../runs.ts';
import {
  checkCornerPanels,
  checkGrade,
  checkOwnSize,
  checkPanelsKept,
  cornerCases,
  gradeCases,
  newGradeTally,
} from './grade-checks.ts';

/** Five hundred, all relaxed, are in tests/soak/grade.soak.ts. */
it('grading keeps every panel with its edges and cables or refuses, over random plans', () => {
  let graded = 0;
  for (const one of fc.sample(gradeCases, { seed: 4, numRuns: runs(48) }))
    if (checkPanelsKept(one)) graded++;
  expect(graded).toBeGreaterThan(0.5 * runs(48));
});

it('a panel that stood as its ground until it was wide enough, and had few rounds left, is kept with both its edges', () => {
  const panels = [{ stitches: 'p1 k3 p1', crossEvery: 6, place: 15 }];
  const worked = { direction: 'out', worked: 'flat', ground: 'seed' } as const;
  const spec: SpecInput = { sizeMm: 68, stitchMm: 3, roundMm: 2.48, ...worked, panels };
  for (const larger of [0.5, 0.75]) checkPanelsKept({ spec, larger, finer: 1 });
});

it('decreases have the face of their garter round also where they eat a panel, and both edges of a panel end together', () => {
  const rope = { stitches: 'p2 2/2RC p2', crossEvery: 4, place: 'middle', paired: true } as const;
  const ropes = { corner: 'paired 2', ground: 'garter', sizeMm: 240, panels: [rope] } as const;
  const gauge = { stitchMm: 100 / 18, roundMm: 100 / 34 };
  for (const larger of [0.6, 0.85, 1.2])
    checkPanelsKept({ spec: { ...ropes, ...gauge }, larger, finer: 1 });

  const rib = { stitches: 'p1 k4 p1', crossEvery: null, place: 'corner' } as const;
  const spec = { shape: 'hexagon', sizeMm: 130, stitchMm: 5, roundMm: 100 / 28 } as const;
  const plan = parsePlan(draftPlan({ ...spec, panels: [rib] }).text);
  const to = { ...spec, sizeMm: 180, corners: 6 };
  const larger = parsePlan(gradePlan(plan, to, { measure: () => null, relax: () => null }).text);
  const purls = larger.rounds.map(
    ({ works }) => works.filter((id) => larger.kinds[id].name === 'p').length,
  );
  expect(purls.filter((count) => count !== 12 && count !== 0)).toEqual([]);
  // Two rounds eat the rib, and three gather the rest.
  expect(purls.filter((count) => count === 0).length).toBeLessThan(6);
});

it('a piece of two centimetres, that lies as it is let down, has the verdict of its own fabric', async () => {
  const panels = [{ stitches: 'k6', crossEvery: null, place: 28 }];
  const worked = { shape: 'octagon', worked: 'flat', seamStitches: 1 } as const;
  const spec: SpecInput = { ...worked, sizeMm: 38, stitchMm: 3.194, roundMm: 3.194, panels };
  await checkGrade({ spec, larger: 0.5, finer: 0.85 }, newGradeTally());
});

it('panels on corners are found there, over random plans', () => {
  fc.assert(fc.property(cornerCases, checkCornerPanels), { seed: 1, numRuns: runs(200) });
});

/** Shaping beside shaping: pairs of increases on each side, three decreases at a corner, a seam at one. */
it('corners are found where several stitches shape each side of them, and across a seam', () => {
  const wide = { stitches: 'p2 k12 p2', crossEvery: 4, place: 'corner' } as const;
  const triangle = { shape: 'triangle', panels: [wide] } as const;
  const cases: SpecInput[] = [
    { ...triangle, direction: 'out', corner: 'paired 0', ground: 'garter', sizeMm: 69, stitchMm: 3.123, roundMm: 3.123 },
    { ...triangle, direction: 'out', corner: 'paired 0', worked: 'flat', seamStitches: 2, sizeMm: 131, stitchMm: 5.9466, roundMm: 4.8931 },
    { ...triangle, corner: 'centred', ground: 'seed', worked: 'flat', sizeMm: 80, stitchMm: 3.6894, roundMm: 3.5316 },
    { ...triangle, direction: 'out', corner: 'paired 0', sizeMm: 64, stitchMm: 3, roundMm: 2.1147131952875835 },
    { ...triangle, shape: 'pentagon', corner: 'centred', ground: 'garter', worked: 'flat', seamStitches: 2, sizeMm: 46, stitchMm: 3.4241, roundMm: 2.607, panels: [{ stitches: 'p2 k2 p2 k2 p2', crossEvery: 4, place: 'middle' }, wide] },
    // A panel nearly as wide as the side, whose ends stood at the corners until the side was wider.
    { shape: 'octagon', stitchMm: 4.8048, direction: 'out', corner: 'paired 0', worked: 'flat', sizeMm: 58, roundMm: 4.20495, panels: [{ stitches: 'p2 k2 p2 k2 p2', crossEvery: null, place: 'middle' }] },
  ]; // biome-ignore format: one case a line
  for (const spec of cases) checkCornerPanels(spec);
});

it('a disc made larger is one still: what is added at its rim makes no corners, over random discs', () => {
  const discs = gradeCases.filter(
    ({ spec: { shape, ground } }) => shape === 'disc' && ground !== 'seed',
  );
  const shape = (text: string) => prepare(parsePlan(text)).report.shape;
  let graded = 0;
  for (const { spec } of fc.sample(discs, { seed: 2, numRuns: runs(4) })) {
    const { text } = draftPlan({ ...spec, panels: [] });
    if (shape(text) !== 'disc') continue;
    const { sizeMm, stitchMm, roundMm } = spec;
    const to = { sizeMm: 1.6 * sizeMm, stitchMm, roundMm, corners: 0 };
    const wider = gradePlan(parsePlan(text), to, { measure: () => null, relax: () => null });
    expect(shape(wider.text), wider.text).toBe('disc');
    graded++;
  }
  expect(graded).toBeGreaterThan(0.5 * runs(4));
});

it('a panel on a corner stays one though its last telling round is a crossing, and ropes that may be two are refused', () => {
  const octagon = { shape: 'octagon', direction: 'out', corner: 'centred', ground: 'garter', sizeMm: 56, stitchMm: 4.679649, roundMm: 4.058083, panels: [{ stitches: 'p1 k3 p1', crossEvery: 8, place: 'corner' }, { stitches: 'p1 k4 p1', crossEvery: 5, place: 'middle' }] } as const; // biome-ignore format: one case a line
  const disc = { shape: 'disc', corner: 'centred', sizeMm: 63, stitchMm: 3, roundMm: 1.84381, panels: [{ stitches: 'p1 k4 p1', crossEvery: null, place: 'middle' }] } as const; // biome-ignore format: one case a line
  expect(checkPanelsKept({ spec: octagon, larger: 1.5, finer: 0.85 })).toBe(true);
  expect(checkPanelsKept({ spec: disc, larger: 1.5, finer: 1 })).toBe(false);
});

it('the first round of a piece all in moss is its ground, the same on every side, and no border', () => {
  const panels = [{ stitches: 'p2 k2 p2 k2 p2', crossEvery: 4, place: 30 }];
  const spec = { shape: 'hexagon', corner: 'paired 2', ground: 'seed', panels, sizeMm: 48, stitchMm: 4.028, roundMm: 1.8295 } as const; // biome-ignore format: one case a line
  expect(checkPanelsKept({ spec, larger: 0.9, finer: 1 })).toBe(true);
});

/** Two hundred random ones are in the soak. */
it('a plan graded to its own size is left as it is', () => {
  const panels = [{ stitches: 'p1 k4 p1', crossEvery: 4, place: 'middle' as const }];
  checkOwnSize({ sizeMm: 80, stitchMm: 5, roundMm: 3.6, panels });
});

it('what grade prints is what its fabric is, and so is its exit code', async () => {
  const tally = newGradeTally();
  for (const one of fc.sample(gradeCases, { seed: 5, numRuns: runs(3) }))
    await checkGrade(one, tally);
  expect(tally.graded + tally.refused).toBe(runs(3));
});

it('has the verdict of its fabric where that hangs on a tenth of a millimetre', async () => {
  const panels = [
    { stitches: 'p2 k2 p2 k2 p2', crossEvery: 6, place: 'middle' },
    { stitches: 'p2 k12 p2', crossEvery: 5, place: 15 },
  ] as const;
  const spec = { shape: 'hexagon', corner: 'paired 2', ground: 'garter', panels, sizeMm: 49, stitchMm: 3, roundMm: 2.4836320780416514 } as const; // biome-ignore format: one case a line
  await checkGrade({ spec, larger: 1.2, finer: 0.85 }, newGradeTally());
});

it('decreases keep the face of their round where panels on the corners are most of the last rounds', () => {
  const corner = { stitches: 'p1 k3 p1', crossEvery: null, place: 'corner' } as const;
  const spec: SpecInput = { sizeMm: 72, stitchMm: 3, roundMm: 2.9363, corner: 'paired 2', ground: 'garter', panels: [corner] };
  expect(checkPanelsKept({ spec, larger: 1.2, finer: 1 })).toBe(true);
}); // biome-ignore format: one case a line
