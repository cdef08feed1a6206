import { describe, expect, it } from 'vitest';
import { fixed, powerText } from '../../src/app/state/units.ts';

describe('figures on the page', () => {
  it('have a true minus sign and no negative zero', () => {
    expect(fixed(-3.14, 1)).toBe('−3.1');
    expect(fixed(-0.04, 1)).toBe('0.0');
  });

  it('writes small residuals as powers of ten', () => {
    expect(powerText(3.14e-5)).toBe('3.1·10⁻⁵');
    expect(powerText(0.25)).toBe('0.25');
  });
});
