import { describe, expect, it } from 'vitest';
import { draftPlan } from '../../src/draft/draft.ts';
import { prepare } from '../../src/knit.ts';
import { parsePlan } from '../../src/plan/parse.ts';

describe('the fabric around shaping', () => {
  for (const direction of ['in', 'out'] as const) {
    it(`is read as the ground: a seed square worked ${direction} keeps its round height`, () => {
      const { text } = draftPlan({
        sizeMm: 160,
        stitchMm: 5,
        roundMm: 2.65,
        ground: 'seed',
        direction,
      });
      const { measured, gauge } = prepare(parsePlan(text));
      expect(gauge.ground).toBe('seed');
      const { courseMm } = measured.size;
      for (let c = 1; c < courseMm.length; c++) {
        expect(Math.abs(courseMm[c] / 2.65 - 1)).toBeLessThan(0.02);
      }
    });
  }
});
