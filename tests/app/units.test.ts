import { describe, expect, it } from 'vitest';
import { fixed, lengthText, powerText, smallLengthText } from '../../src/app/state/units.ts';

describe('lengths as the user reads them', () => {
  it('says sides in cm with one decimal and in inches with two', () => {
    expect(lengthText(203.2, 'cm')).toBe('20.3 cm');
    expect(lengthText(203.2, 'in')).toBe('8.00 in');
  });

  it('says only what is smaller than a centimetre in mm', () => {
    expect(smallLengthText(4.23, 'cm')).toBe('4.2 mm');
    expect(smallLengthText(9.94, 'cm')).toBe('9.9 mm');
    expect(smallLengthText(42.3, 'cm')).toBe('4.2 cm');
    expect(smallLengthText(-42.3, 'cm')).toBe('−4.2 cm');
    expect(smallLengthText(42.3, 'in')).toBe('1.67 in');
  });

  it('has a true minus sign and no negative zero', () => {
    expect(fixed(-3.14, 1)).toBe('−3.1');
    expect(fixed(-0.04, 1)).toBe('0.0');
  });

  it('says a dash where there is no number', () => {
    expect(lengthText(Number.NaN, 'cm')).toBe('–');
  });

  it('writes small residuals as powers of ten', () => {
    expect(powerText(3.14e-5)).toBe('3.1·10⁻⁵');
    expect(powerText(0.25)).toBe('0.25');
  });
});
