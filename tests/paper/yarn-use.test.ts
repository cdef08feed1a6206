import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { draftPlan } from '../../src/draft/draft.ts';
import { prepare } from '../../src/knit.ts';
import { writePattern } from '../../src/paper/pattern/written.ts';
import { ballsFor, yarnUse } from '../../src/paper/pattern/yarn-use.ts';
import { parsePlan } from '../../src/plan/parse.ts';
import { coloursOf } from '../../src/plan/write/colours.ts';
import { colourJoins } from '../../src/report/colour-joins.ts';
import { seamLengthMm } from '../../src/report/yarn-estimate.ts';
import { smallSpecs } from '../draft/wishes-arbitrary.ts';
import { colouring, coloursIn, inColours } from './pattern-properties.ts';

function told(words: RegExp, text: string): RegExpExecArray {
  const found = words.exec(text);
  if (!found) throw new Error(`${words} is not in ${text}`);
  return found;
}

const SWATCH = parsePlan(
  `Worked: flat, no seam\nCO 20 sts.\nRows 1-28: knit.\nBind off all sts.\n`,
);

describe('yarn for a piece', () => {
  it('takes 4.2 stitch widths a stitch: Munden, fully relaxed plain knit', () => {
    const use = yarnUse(SWATCH, { stitchMm: 5, tex: 500, allowance: 0 });
    expect(use.stitches).toBe(560);
    expect(use.fabricM).toBeCloseTo((560 * 4.2 * 5) / 1000, 12);
    // Cast-on and bound-off edge, three widths each; the loops cast on; two ends of 15 cm.
    expect(use.lengthM).toBeCloseTo(11.76 + 0.6 + (20 * 4.2 * 5) / 1000 + 0.3, 12);
    expect(use.massG).toBeCloseTo((use.lengthM * 500) / 1000, 12);
  });

  it('is a tenth more than the report says without an allowance, for every kind of piece', () => {
    for (const asked of fc.sample(smallSpecs, { seed: 3, numRuns: 12 })) {
      const { plan, gauge, report } = prepare(parsePlan(draftPlan(asked).text));
      const { lengthM, massG } = yarnUse(plan, {
        stitchMm: gauge.sizes.stockinette.stitchMm,
        tex: gauge.tex,
        seamMm: seamLengthMm(plan, gauge.groundSize.roundMm),
      });
      expect(lengthM).toBeCloseTo(1.1 * report.yarn.lengthM, 9);
      expect(massG).toBeCloseTo(1.1 * report.yarn.massG, 9);
    }
  });

  it('takes the yarn model’s loop instead where it is given', () => {
    const use = yarnUse(SWATCH, { stitchMm: 5, tex: 500, loopMm: 20, allowance: 0 });
    expect(use.fabricM).toBeCloseTo(11.2, 12);
    expect(use.origin).toContain('yarn model');
  });

  it('adds the allowance to everything and the seam at one and a half times its length', () => {
    const plain = yarnUse(SWATCH, { stitchMm: 5, tex: 500, allowance: 0 });
    const more = yarnUse(SWATCH, { stitchMm: 5, tex: 500, allowance: 0.1, seamMm: 200 });
    expect(more.lengthM).toBeCloseTo((plain.lengthM + 0.3) * 1.1, 12);
  });

  it('is told colour by colour, which together are all of it, in metres, grams, yards, ounces and balls', () => {
    const cases = fc.record({
      asked: smallSpecs,
      colours: colouring,
      wishes: fc.record({
        stitchMm: fc.double({ min: 3, max: 7, noNaN: true }),
        tex: fc.double({ min: 80, max: 900, noNaN: true }),
        seamMm: fc.double({ min: 0, max: 400, noNaN: true }),
        ballGrams: fc.constantFrom(null, 50, 100),
        ballMetres: fc.constantFrom(null, 85, 200),
      }),
      unit: fc.constantFrom('cm' as const, 'inch' as const),
    });
    for (const { asked, colours, wishes, unit } of fc.sample(cases, { seed: 8, numRuns: 10 })) {
      const plan = inColours(parsePlan(draftPlan(asked).text), colours);
      const use = yarnUse(plan, wishes);
      const names = coloursOf(plan);
      expect(use.colours.map((one) => one.colour)).toEqual(names.length > 1 ? names : []);
      // Two ends wherever a colour is joined: each at least once, and a piece of one colour once.
      expect(use.ends).toBe(2 * Math.max(1, colourJoins(plan).length));
      expect(use.ends).toBeGreaterThanOrEqual(2 * Math.max(1, names.length));
      const text = writePattern(plan, { yarnUse: use, units: unit }).text;
      const [, length, mass, balls] = told(
        /Yarn needed: about (.+) \((.+)\).*?(?:: (\d+) ball.*)?$/m,
        text,
      );
      const again = parsePlan(text);
      expect(again.diagnostics.filter((d) => d.severity === 'error')).toEqual([]);
      expect(coloursIn(again)).toEqual(coloursIn(plan));
      if (names.length < 2) continue;
      const sum = (of: (one: (typeof use.colours)[number]) => number) =>
        use.colours.reduce((all, one) => all + of(one), 0);
      expect(sum((one) => one.lengthM)).toBeCloseTo(use.lengthM, 9);
      expect(sum((one) => one.massG)).toBeCloseTo(use.massG, 9);
      const lines = [...text.matchAll(/^Of which .+: about (.+) \((.+)\)(?:: (\d+) balls?)?$/gm)];
      expect(lines.length).toBe(names.length);
      const added = (part: number) => lines.reduce((all, m) => all + Number.parseFloat(m[part]), 0);
      expect(added(1)).toBeCloseTo(Number.parseFloat(length), 6);
      expect(added(2)).toBeCloseTo(Number.parseFloat(mass), 6);
      if (balls !== undefined) expect(added(3)).toBe(Number(balls));
    }
  });

  it('buys whole balls, by length where the band tells it, else by weight', () => {
    expect(ballsFor(240, 100, 50, 120)).toBe(2);
    expect(ballsFor(241, 100, 50, 120)).toBe(3);
    expect(ballsFor(241, 101, 50, null)).toBe(3);
    expect(ballsFor(241, 101, null, null)).toBeNull();
  });

  it('agrees with the shop rule within its allowance', () => {
    // yards = length(in) · width(in) · gauge(sts/in) / 6, twistedyarnshop.com (rule of thumb, which
    // gives 4.6 stitch widths a stitch at Munden's loop shape 1.3; within 20 %).
    const stitchMm = 5;
    const roundMm = stitchMm / 1.3;
    const area = ((20 * stitchMm) / 25.4) * ((28 * roundMm) / 25.4);
    const ruleM = ((area * (25.4 / stitchMm)) / 6) * 0.9144;
    const { fabricM } = yarnUse(SWATCH, { stitchMm, tex: 500, allowance: 0 });
    expect(Math.abs(fabricM / ruleM - 1)).toBeLessThan(0.2);
  });
});
