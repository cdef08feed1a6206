import { describe, expect, it } from 'vitest';
import { fineLengthTold, fixed, powerText } from '../../src/app/state/units.ts';

describe('figures on the page', () => {
  it('have a true minus sign and no negative zero', () => {
    expect(fixed(-3.14, 1)).toBe('−3.1');
    expect(fixed(-0.04, 1)).toBe('0.0');
  });

  it('are reckoned with as they are told: 2.4 mm beside 1.2 mm is twice as wide', () => {
    expect(2.36 / 1.24).toBeLessThan(1.95);
    expect(fineLengthTold(2.36, 'cm') / fineLengthTold(1.24, 'cm')).toBe(2);
    expect(fineLengthTold(2.36, 'in')).toBe(0.09);
  });

  it('writes small residuals as powers of ten', () => {
    expect(powerText(3.14e-5)).toBe('3.1·10⁻⁵');
    expect(powerText(0.25)).toBe('0.25');
  });
});
