/**
 * Standard yarn weights. Source: Craft Yarn Council, Standard Yarn Weight System, as reproduced at
 * craftyarncouncil.com/blog/ydkwydk-guide-yarn-weights and cherylmoreo.com (6, 7).
 */
import { describe, expect, it } from 'vitest';
import { weightOfGauge, YARN_WEIGHTS } from '../../src/gauge/gauge/yarn-weights.ts';

describe('standard yarn weights', () => {
  // Stitches to 10 cm → weight number; published ranges, tolerance none (whole stitches).
  const cases: [stitches: number, number: number][] = [
    [36, 0],
    [33, 0],
    [32, 1],
    [28, 1],
    [27, 1],
    [26, 2],
    [22, 3],
    [20, 4],
    [18, 4],
    [16, 4],
    [14, 5],
    [9, 6],
    [6, 7],
  ];
  for (const [stitches, number] of cases) {
    it(`call ${stitches} stitches to 10 cm weight ${number}`, () => {
      expect(weightOfGauge(stitches).number).toBe(number);
    });
  }

  it('are contiguous from lace to jumbo, with the one published overlap at 23 and 24', () => {
    for (let k = 1; k < YARN_WEIGHTS.length; k++) {
      const gap = YARN_WEIGHTS[k - 1].stitchesMin - YARN_WEIGHTS[k].stitchesMax;
      expect(gap).toBe(k === 3 ? -1 : 1);
    }
  });

  it('get thicker needles and shorter balls as the number rises', () => {
    for (let k = 1; k < YARN_WEIGHTS.length; k++) {
      expect(YARN_WEIGHTS[k].needleMinMm).toBeGreaterThanOrEqual(YARN_WEIGHTS[k - 1].needleMinMm);
      expect(YARN_WEIGHTS[k].metresPer100g).toBeLessThan(YARN_WEIGHTS[k - 1].metresPer100g);
    }
  });
});
