import { describe, expect, it } from 'vitest';
import {
  colourByBend,
  colourByRounds,
  colourByStrain,
  colourByYarn,
  MAPS,
  parseColour,
  toLinear,
} from '../../src/view/colour/colour-scale.ts';
import { niceCeiling } from '../../src/view/colour/nice-ceiling.ts';

/** Relative luminance, WCAG 2.2. */
function luminance(colour: string): number {
  const [r, g, b] = parseColour(colour).map(toLinear);
  return 0.2126 * r + 0.7152 * g + 0.0722 * b;
}

/**
 * What an eye without green cones sees: Viénot, Brettel and Mollon 1999, deuteranope, linear RGB
 * (matrix as commonly printed; from memory, so the test asks only for a clear difference).
 */
function withoutGreenCones(colour: string): number[] {
  const [r, g, b] = parseColour(colour).map(toLinear);
  const red = 0.29275 * r + 0.70725 * g;
  const blue = -0.02234 * r + 0.02234 * g + b;
  return [red, red, blue];
}

describe('colour maps', () => {
  it('rounds grow steadily lighter, so that they read without colour too', () => {
    for (let k = 1; k <= 20; k++) {
      expect(luminance(MAPS.rounds(k / 20))).toBeGreaterThan(luminance(MAPS.rounds((k - 1) / 20)));
    }
  });

  it('both signs of strain and bend stay apart without green cones', () => {
    for (const map of [MAPS.strain, MAPS.bend]) {
      const low = withoutGreenCones(map(0.15));
      const high = withoutGreenCones(map(0.85));
      const apart = Math.hypot(...low.map((value, k) => value - high[k]));
      expect(apart).toBeGreaterThan(0.25);
    }
  });

  it('the middle of a signed map is its lightest part', () => {
    const middle = luminance(MAPS.strain(0.5));
    expect(middle).toBeGreaterThan(luminance(MAPS.strain(0)));
    expect(middle).toBeGreaterThan(luminance(MAPS.strain(1)));
  });
});

describe('legends', () => {
  it('carry the unit and grow with the values, but not for single stitches', () => {
    const strain = new Float32Array(1000).fill(0.02);
    strain[0] = 0.9;
    const { legend } = colourByStrain(strain);
    expect(legend?.title).toBe('Stretch, %');
    expect(legend?.ticks.map((tick) => tick.text)).toEqual(['−2', '−1', '0', '+1', '≥ +2']);
  });

  it('say bend in the user’s unit', () => {
    const bend = new Float32Array(100).fill(0.02);
    const { legend } = colourByBend(bend, { mm: 10, name: 'cm' });
    expect(legend?.ticks.map((tick) => tick.text)).toEqual(['5', '10', 'flat', '10', '5']);
    const inches = colourByBend(bend, { mm: 25.4, name: 'in' });
    expect(inches.legend?.title).toBe('Bend: radius, in');
    expect(inches.legend?.ticks.at(-1)?.text).toBe('1');
  });

  it('say where a bend is sharper than the scale goes', () => {
    const bend = new Float32Array(1000).fill(0.02);
    bend[7] = 0.3;
    const { legend } = colourByBend(bend, { mm: 10, name: 'cm' });
    expect(legend?.ticks.at(-1)?.text).toBe('≤ 5');
    expect(legend?.ticks[0].text).toBe('5');
  });

  it('give pieces beside each other one scale', () => {
    const [little, much] = [0.01, 0.08].map((value) => new Float32Array(200).fill(value));
    const alone = colourByStrain(little);
    const beside = colourByStrain(little, [little, much]);
    expect(alone.rgb).not.toEqual(beside.rgb);
    expect(beside.legend).toEqual(colourByStrain(much, [little, much]).legend);
  });

  it('count rounds', () => {
    const { legend } = colourByRounds(new Int32Array([0, 10, 20, 41]), 5, 42);
    expect(legend?.ticks.map((tick) => tick.text)).toEqual(['0', '10', '20', '30', '40']);
    expect(colourByRounds(new Int32Array([0, 9]), 2, 10, 'flat').legend?.title).toBe('Row');
  });

  it('round up to 1, 2 or 5', () => {
    expect([0.03, 0.2, 7, 11].map(niceCeiling)).toEqual([0.05, 0.2, 10, 20]);
  });
});

describe('yarn', () => {
  it('is the colour that was chosen, in linear light, and stripes alternate', () => {
    const { rgb } = colourByYarn(new Int32Array([0, 1, 2, 3]), 4, '#ff0000', '#0000ff', 2);
    expect([...rgb]).toEqual([1, 0, 0, 1, 0, 0, 0, 0, 1, 0, 0, 1]);
  });
});
