import { describe, expect, it } from 'vitest';
import { readForm, startForm } from '../../src/app/new-square/spec-form.ts';
import { YARN_WEIGHTS } from '../../src/gauge/gauge/yarn-weights.ts';
import { draftMeasured, prepare } from '../../src/knit.ts';
import { parsePlan } from '../../src/plan/parse.ts';

const FORM = startForm(null, 'cm');

describe('the form of wishes', () => {
  it('asks for what was typed, in mm', () => {
    const { spec } = readForm({ ...FORM, size: '12,5', stitches: '20', rounds: '28' }, 'cm', []);
    expect(spec?.sizeMm).toBe(125);
    expect(spec?.stitchMm).toBe(5);
    expect(spec?.roundMm).toBeCloseTo(100 / 28, 12);
  });

  it('counts gauge over 4 in where inches are shown', () => {
    const { spec } = readForm({ ...FORM, size: '8', stitches: '20', rounds: '28' }, 'in', []);
    expect(spec?.sizeMm).toBeCloseTo(203.2, 9);
    expect(spec?.stitchMm).toBeCloseTo(5.08, 9);
  });

  it('starts from the gauge, the needles and the way of the plan at hand', () => {
    const plan = parsePlan(
      'Gauge: 18 sts and 36 rows = 10 cm in garter\nNeedles: 5 mm\nWorked: flat, no seam\nCO 20 sts.\nRow 1: knit.\n',
    );
    const form = startForm(plan, 'cm');
    expect([form.stitches, form.rounds, form.needleMm]).toEqual(['18', '36', '5']);
    expect([form.ground, form.worked]).toEqual(['garter', 'flat']);
  });

  it('starts from the yarn that the verdict takes for a plan that names none', () => {
    for (const gauge of [
      '28 sts and 38 rounds = 10 cm in stockinette',
      '22 sts and 30 rounds = 10 cm in stockinette',
      '18 sts and 36 rounds = 10 cm in garter',
      '20 sts and 34 rounds = 10 cm in seed stitch',
    ]) {
      const plan = parsePlan(`Gauge: ${gauge}\nCO 20 sts, join in the round.\nRound 1: knit.\n`);
      const { gauge: known } = prepare(plan);
      const form = startForm(plan, 'cm', known.sizes.stockinette.stitchMm);
      const { name, needleMinMm, needleMaxMm } = YARN_WEIGHTS[form.weight];
      expect([gauge, known.texOrigin]).toEqual([gauge, `taken as ${name}, by the gauge`]);
      expect(Number(form.needleMm)).toBeGreaterThanOrEqual(needleMinMm);
      expect(Number(form.needleMm)).toBeLessThanOrEqual(needleMaxMm);
    }
  });

  it('names the field that cannot be read', () => {
    expect(readForm({ ...FORM, size: 'large' }, 'cm', []).mistake?.field).toBe('size');
    expect(readForm({ ...FORM, stitches: '0' }, 'cm', []).mistake?.field).toBe('gauge');
    const panel = {
      key: 1,
      stitches: ' ',
      crossEvery: '',
      place: 'middle',
      fromRight: '',
    } as const;
    expect(readForm({ ...FORM, panels: [panel] }, 'cm', []).mistake?.field).toBe('panels');
    const often = { ...panel, stitches: 'p1 k4 p1', crossEvery: 'six' };
    expect(readForm({ ...FORM, panels: [often] }, 'cm', []).mistake?.message).toMatch(
      /whole rounds/,
    );
  });

  it('makes a plan without mistakes from every way to a gauge', () => {
    for (const gaugeFrom of ['swatch', 'yarn'] as const) {
      const { spec } = readForm({ ...FORM, size: '10', gaugeFrom }, 'cm', []);
      if (!spec) throw new Error('not read');
      const plan = parsePlan(draftMeasured(spec).text);
      expect(plan.diagnostics.filter((d) => d.severity === 'error')).toEqual([]);
      expect(plan.needles?.mm).toBe(4.5);
      expect(plan.yarn?.weight).toBe(3);
    }
  });
});
