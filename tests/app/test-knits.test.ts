import { describe, expect, it } from 'vitest';
import { stateGauge, states } from '../../src/app/test-knits/state-gauge.ts';
import { parsePlan } from '../../src/plan/parse.ts';
import { knowledgeOf, knownGauges } from '../../src/report/known-gauges.ts';
import type { TestKnit } from '../../src/report/test-knit.ts';

const PLAN = `Title: Sample
Gauge: 20 sts and 28 rounds = 10 cm in stockinette
Gauge: 18 sts and 36 rounds = 10 cm in garter
Cast on 16 sts. Join in the round.
Round 1: knit.
Round 2: *ssk, k2; rep from * to end. (12 sts)
`;

const sample = (id: string, predicted: number, measured: number): TestKnit => ({
  id,
  yarn: 'moss',
  note: '',
  predicted: { stitchMm: predicted, roundMm: 3.5, sideMm: 200 },
  measured: { stitchMm: measured, roundMm: null, sideMm: null },
  counts: true,
});

describe('the gauge that test knits tell', () => {
  it('is what was measured, however the prediction had been corrected in between', () => {
    // The second sample was predicted with the gauge that the first one had taught.
    const log = [sample('1', 4.5, 5), sample('2', 5, 5)];
    expect(knowledgeOf(log, 'moss').gauge?.stitchMm).toBeCloseTo(5, 12);
  });

  it('is unknown where no sample counts', () => {
    expect(knownGauges([{ ...sample('1', 4.5, 5), counts: false }])).toEqual([]);
  });

  it('names the figure that is not believed instead of failing', () => {
    expect(knowledgeOf([sample('1', 4.5, 45)], 'moss').trouble).toMatch(/check the figure/);
  });
});

describe('a gauge put into a plan', () => {
  const gauge = { stitchMm: 100 / 19.2, roundMm: 100 / 27 };

  it('takes the place of the line of its fabric and leaves every other line', () => {
    const text = stateGauge(parsePlan(PLAN), 'stockinette', gauge);
    expect(text?.split('\n')[1]).toBe('Gauge: 19.2 sts and 27 rounds = 10 cm in stockinette');
    expect(text?.split('\n').filter((_, i) => i !== 1)).toEqual(
      PLAN.split('\n').filter((_, i) => i !== 1),
    );
  });

  it('is added where the plan states none for its ground', () => {
    const plan = parsePlan(PLAN.replace(/^Gauge.*\n/gm, ''));
    const text = stateGauge(plan, 'stockinette', gauge);
    if (text === null) throw new Error('not stated');
    expect(text.split('\n')[0]).toBe('Title: Sample');
    expect(states(parsePlan(text).gauges[0], gauge)).toBe(true);
  });

  it('is the same gauge to a ruler after rounding, and another one is not', () => {
    expect(states({ stitchMm: 5, roundMm: 3.5 }, { stitchMm: 5.01, roundMm: 3.5 })).toBe(true);
    expect(states({ stitchMm: 5, roundMm: 3.5 }, { stitchMm: 5.1, roundMm: 3.5 })).toBe(false);
    expect(states({ stitchMm: 5, roundMm: null }, { stitchMm: 5, roundMm: 3.5 })).toBe(false);
  });
});
