import { describe, expect, it } from 'vitest';
import { REST_RESIDUAL, RelaxProgress } from '../../src/app/state/relax-progress.ts';
import { RELAX_DEFAULTS } from '../../src/relax/relax-sheet.ts';

describe('the bar of a relaxation', () => {
  it('ends where the solver ends', () => {
    expect(REST_RESIDUAL).toBe(RELAX_DEFAULTS.tolerance);
  });

  it('never goes back, also when another start or the check of the rest begins', () => {
    const progress = new RelaxProgress();
    const forces = [7, 0.1, 4e-3, 0.3, 1e-3, 2e-5, 5e-3, 8e-6];
    const shares = forces.map((force) => progress.next(force).share);
    for (let k = 1; k < shares.length; k++) expect(shares[k]).toBeGreaterThanOrEqual(shares[k - 1]);
    expect(shares[0]).toBe(0);
    expect(shares.at(-1)).toBe(1);
  });

  it('ends at the rest of what relaxes', () => {
    const yarn = new RelaxProgress(0.01);
    expect([14, 1, 0.1, 0.009].map((force) => yarn.next(force).share).at(-1)).toBe(1);
    const fabric = new RelaxProgress();
    expect([14, 1, 0.1, 0.009].map((force) => fabric.next(force).share).at(-1)).toBeLessThan(0.6);
  });

  it('says that it checks only after rest had been as good as reached', () => {
    const progress = new RelaxProgress();
    const checking = [7, 1e-2, 0.5, 3e-5, 2e-2].map((force) => progress.next(force).checking);
    expect(checking).toEqual([false, false, false, false, true]);
  });

  it('stays within 0 and 1 for a start that is as good as at rest, and for numbers that ran away', () => {
    const progress = new RelaxProgress();
    for (const force of [2e-6, Number.NaN, 0, Number.POSITIVE_INFINITY, 1e-9]) {
      const { share } = progress.next(force);
      expect(share).toBeGreaterThanOrEqual(0);
      expect(share).toBeLessThanOrEqual(1);
    }
  });
});
