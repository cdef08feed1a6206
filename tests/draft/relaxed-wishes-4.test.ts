import { describe, expect, it } from 'vitest';
import { relaxSpecs } from './relaxed-wishes.ts';

describe('500 random wishes, relaxed: quarter 4', () => {
  it('lie flat or can be blocked flat, at the size asked, or say that they will not', () => {
    const { drafts, inSize, admitted } = relaxSpecs(10, 125, 250);
    expect(drafts).toBe(125);
    // Some sizes lie flat only a stitch off, and a panel takes more room than one; measured: 89 % of 1,000.
    expect(inSize).toBeGreaterThan(0.82 * drafts);
    expect(admitted).toBeLessThanOrEqual(1);
  }, 600_000);
});
