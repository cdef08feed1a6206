import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { lengthText } from '../../../src/app/state/units.ts';
import { drawBlanket } from '../../../src/paper/blanket/blanket-picture.ts';
import { writePattern } from '../../../src/paper/pattern/written.ts';
import { parsePlan } from '../../../src/plan/parse.ts';
import { layOutBlanket } from '../../../src/report/blanket.ts';
import {
  counted,
  halfStitches,
  listed,
  stitchCount,
  times,
} from '../../../src/report/words/counts.ts';
import { gaugeCount, gaugeSpan, gaugeWords, statedGauge } from '../../../src/report/words/gauge.ts';
import {
  bothUnits,
  fineLengthWords,
  lengthWords,
  signedLengthWords,
} from '../../../src/report/words/length.ts';
import { massWords, yarnLengthWords } from '../../../src/report/words/yarn.ts';

describe('lengths', () => {
  it('are read as off a tape: to the millimetre or the eighth of an inch', () => {
    expect(lengthWords(202, 'cm')).toBe('20.2 cm');
    expect(lengthWords(202, 'inch')).toBe('8 in');
    expect(lengthWords(200, 'cm')).toBe('20 cm');
    expect(lengthWords(200, 'inch')).toBe('7⅞ in');
    expect(lengthWords(9, 'cm')).toBe('9 mm');
    expect(lengthWords(9.7, 'cm')).toBe('1 cm');
    expect(lengthWords(9, 'inch')).toBe('⅜ in');
    expect(bothUnits(184, 'inch')).toBe('7¼ in (18.4 cm)');
  });

  it('have a true minus sign, and no sign where they are nothing', () => {
    expect(lengthWords(-42.3, 'cm')).toBe('−4.2 cm');
    expect(signedLengthWords(9, 'cm')).toBe('+9 mm');
    expect(signedLengthWords(-171, 'cm')).toBe('−17.1 cm');
    expect(signedLengthWords(0.2, 'cm')).toBe('0 mm');
    expect(signedLengthWords(-0.2, 'inch')).toBe('0 in');
    expect(lengthWords(Number.NaN, 'cm')).toBe('–');
  });

  it('of yarn and gaps are finer than any tape', () => {
    expect(fineLengthWords(1.23, 'cm')).toBe('1.2 mm');
    expect(fineLengthWords(1.23, 'inch')).toBe('0.05 in');
  });

  it('are worded alike wherever they are said, and never far from the truth', () => {
    const plan = parsePlan('Cast on 16 sts.\nRound 1: knit.\n');
    fc.assert(
      fc.property(
        fc.double({ min: 20, max: 900, noNaN: true }),
        fc.constantFrom('cm' as const, 'inch' as const),
        (mm, unit) => {
          const words = lengthWords(mm, unit);
          expect(lengthText(mm, unit === 'cm' ? 'cm' : 'in')).toBe(words);
          expect(bothUnits(mm, unit).split(' (')[0]).toBe(words);
          expect(signedLengthWords(mm, unit)).toBe(`+${words}`);
          const { text } = writePattern(plan, { units: unit, sizeMm: mm, shape: 'square' });
          expect(text).toContain(`${words} (`);
          const square = { id: 'a', name: 'A', sideMm: mm, sideStitches: 40, sides: 4, yarn: [] };
          const layout = { rows: [['a']], targetMm: null, easeShare: 0.03 };
          expect(drawBlanket(layout, layOutBlanket([square], layout, unit), unit)).toContain(words);
          const step = unit === 'cm' ? 1 : 25.4 / 8;
          expect(Math.abs(lengthOf(words) - mm)).toBeLessThanOrEqual(step / 2 + 1e-9);
        },
      ),
      { numRuns: 200, seed: 9 },
    );
  });
});

/** The length that words say, mm. */
function lengthOf(words: string): number {
  const [, whole, part, unit] = /^([\d.]*)([⅛¼⅜½⅝¾⅞]?) (mm|cm|in)$/.exec(words) ?? [];
  const eighths = part ? '⅛¼⅜½⅝¾⅞'.indexOf(part) + 1 : 0;
  const scale = { mm: 1, cm: 10, in: 25.4 }[unit] ?? Number.NaN;
  return (Number(whole || 0) + eighths / 8) * scale;
}

describe('gauge', () => {
  it('is told in whole and half stitches where they are as good, else in tenths', () => {
    expect(gaugeWords({ stitchMm: 100 / 22, roundMm: 100 / 30 }, 'cm', 'round')).toBe(
      '22 sts and 30 rounds to 10 cm',
    );
    expect(gaugeWords({ stitchMm: 100 / 23, roundMm: 100 / (92 / 3) }, 'cm', 'flat')).toBe(
      '23 sts and 30½ rows to 10 cm',
    );
    expect(gaugeWords({ stitchMm: 100 / 9.3, roundMm: null }, 'cm', 'round')).toBe(
      '9.3 sts to 10 cm',
    );
  });

  it('is stated over the span that gives the rounder figures', () => {
    const inches = { stitchMm: 101.6 / 20, roundMm: 101.6 / 28 };
    expect(statedGauge(inches, 'cm', 'round')).toBe('20 sts and 28 rounds to 4 in (10 cm)');
    const metric = { stitchMm: 100 / 20, roundMm: 100 / 28 };
    expect(statedGauge(metric, 'inch', 'round')).toBe('20 sts and 28 rounds to 10 cm (4 in)');
  });

  it('is never rounded by more than a swatch can tell', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.8, max: 20, noNaN: true }),
        fc.constantFrom('cm' as const, 'inch' as const),
        (mm, unit) => {
          const span = gaugeSpan(unit);
          const said = Number(gaugeCount(mm, span).replace(/(\d*)½/, (_, n) => String(+n + 0.5)));
          const count = span.mm / mm;
          expect(Math.abs(said / count - 1)).toBeLessThanOrEqual(Math.max(0.006, 0.05 / count));
        },
      ),
      { numRuns: 500, seed: 9 },
    );
  });
});

describe('yarn', () => {
  it('is rounded up, since it must suffice', () => {
    expect(yarnLengthWords(66.1, 'cm')).toBe('67 m');
    expect(yarnLengthWords(66, 'inch')).toBe('73 yd');
    expect(massWords(28.1, 'cm')).toBe('29 g');
    expect(massWords(29, 'inch')).toBe('1.1 oz');
    expect(yarnLengthWords(66, 'cm')).toBe('66 m');
    // What is told as 58.0 m in a table is not 59 m above it.
    expect(yarnLengthWords(58.04, 'cm')).toBe('58 m');
    expect(yarnLengthWords(58.06, 'cm')).toBe('59 m');
  });
});

describe('counts', () => {
  it('tell a width in half stitches', () => {
    expect([0.5, 0.7, 0.8, 1.2, 1.4, 2, 2.6].map(halfStitches)).toEqual([
      'half a stitch',
      'half a stitch',
      '1 stitch',
      '1 stitch',
      '1½ stitches',
      '2 stitches',
      '2½ stitches',
    ]);
  });

  it('agree in number', () => {
    expect([stitchCount(1), stitchCount(12), counted(1, 'ball'), counted(2, 'ball')]).toEqual([
      '1 st',
      '12 sts',
      '1 ball',
      '2 balls',
    ]);
    expect([1, 2, 3].map(times)).toEqual(['once', 'twice', '3 times']);
    expect(listed(['1', '2', '3'])).toBe('1, 2 and 3');
  });
});
