import { describe, expect, it } from 'vitest';
import { trialWords, withoutWords } from '../../src/app/new-square/trial-words.ts';
import type { PanelSpec } from '../../src/draft/spec/draft-spec.ts';

const CABLE: PanelSpec = { stitches: 'p1 k4 p1', crossEvery: 6, place: 'middle' };
const RIB: PanelSpec = { stitches: 'p1 k1 p1', crossEvery: null, place: 'corner' };
const spec = { sizeMm: 200, stitchMm: 5, roundMm: 4, panels: [CABLE, CABLE, RIB] };
const trial = {
  panels: spec.panels,
  castOn: 160,
  timings: 7,
  relaxed: 2,
  doing: 'timing',
} as const;

describe('what the drafter tries, in words', () => {
  it('names the stitches and what is done with them', () => {
    expect(trialWords(trial)).toBe('160 stitches cast on: timing 7 of the shaping');
    expect(trialWords({ ...trial, doing: 'relaxing' })).toBe(
      '160 stitches cast on: trial 2 comes to rest, to see its size',
    );
  });

  it('says nothing of panels while all are kept as wished', () => {
    expect(withoutWords(spec, trial)).toBe('');
    expect(withoutWords({ ...spec, panels: [] }, { ...trial, panels: [] })).toBe('');
  });

  it('says which panels are left out, told apart where they are alike', () => {
    expect(withoutWords(spec, { ...trial, panels: [CABLE, CABLE] })).toContain(
      'without “p1 k1 p1”.',
    );
    expect(withoutWords(spec, { ...trial, panels: [CABLE, RIB] })).toContain('without “p1 k4 p1”.');
    expect(withoutWords(spec, { ...trial, panels: [] })).toContain(
      'without “p1 k4 p1” and “p1 k4 p1” and “p1 k1 p1”.',
    );
  });

  it('says where cables cross less often', () => {
    const panels = spec.panels.map((panel) => ({
      ...panel,
      crossEvery: panel.crossEvery && 2 * panel.crossEvery,
    }));
    expect(withoutWords(spec, { ...trial, panels })).toMatch(/half as often/);
  });
});
