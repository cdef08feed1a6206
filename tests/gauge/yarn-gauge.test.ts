import { describe, expect, it } from 'vitest';
import { readYarnAndNeedle, usualNeedleMm } from '../../src/gauge/gauge/yarn-gauge.ts';
import { YARN_WEIGHTS } from '../../src/gauge/gauge/yarn-weights.ts';
import { gaugeOfYarn } from '../../src/knit.ts';

describe('the gauge of yarn and needle', () => {
  it('stays within the published range over the published needles, looser on thicker ones', () => {
    for (const weight of YARN_WEIGHTS) {
      const fine = 100 / gaugeOfYarn(weight.number, weight.needleMinMm, 'stockinette').stitchMm;
      const thick = 100 / gaugeOfYarn(weight.number, weight.needleMaxMm, 'stockinette').stitchMm;
      expect(fine).toBeCloseTo(weight.stitchesMax, 9);
      expect(thick).toBeCloseTo(weight.stitchesMin, 9);
    }
  });

  it('stays sane on needles that nobody takes for that yarn', () => {
    for (const { number } of YARN_WEIGHTS)
      for (const needle of [0.5, 40]) {
        const { stitchMm, roundMm } = gaugeOfYarn(number, needle, 'stockinette');
        expect(stitchMm).toBeGreaterThan(2);
        expect(stitchMm).toBeLessThanOrEqual(100);
        // Both are told to the half stitch.
        expect(Math.abs(roundMm / stitchMm / 0.75 - 1)).toBeLessThan(0.15);
      }
  });

  it('gives garter two rounds to about a stitch', () => {
    const { stitchMm, roundMm } = gaugeOfYarn(4, 5, 'garter');
    expect(roundMm / stitchMm).toBeGreaterThan(0.45);
    expect(roundMm / stitchMm).toBeLessThan(0.56);
  });
});

describe('a yarn and its needles in words', () => {
  it.each([
    ['light', '4 mm', 3, 4],
    ['Hedge wool, DK (light)', 'US 6', 3, 4],
    ['weight 5', '6,5 mm circular', 5, 6.5],
    ['Super Bulky', '10 mm', 6, 10],
  ])('reads "%s" on "%s"', (yarn, needles, number, mm) => {
    const read = readYarnAndNeedle(yarn, needles);
    expect([read.weight.number, read.needleMm, read.usual]).toEqual([number, mm, false]);
  });

  it('takes the middle of the published needles where none are given', () => {
    const read = readYarnAndNeedle('medium', '');
    expect([read.needleMm, read.usual]).toEqual([usualNeedleMm(4), true]);
    expect(read.needleMm).toBe(5);
  });

  it('names the line that it cannot read', () => {
    expect(() => readYarnAndNeedle('blue', '4 mm')).toThrow(
      /yarn "blue" names no standard weight.*lace/,
    );
    expect(() => readYarnAndNeedle('light', 'my old ones')).toThrow(
      /needles "my old ones".*"4 mm"/,
    );
  });
});
