/**
 * Stiffness of fabrics by the yarn cell. Order as in Singal et al., Nat. Commun. 15, 2622 (2024): stockinette
 * stiffest both ways, garter soft along the wales, rib along the courses, seed both ways (order from memory,
 * their numbers were not seen).
 */
import { describe, expect, it } from 'vitest';
import { cellStiffness, stiffnessRatios } from '../../src/cell/fabric-stiffness.ts';
import { FABRIC_STIFFNESS_TABLE } from '../../src/cell/fabric-stiffness-table.ts';

const row = (fabric: string, loop: number) =>
  FABRIC_STIFFNESS_TABLE.find((r) => r.fabric === fabric && r.loop === loop);

describe('stiffness of fabrics', () => {
  it('is what the yarn model gives, in the table', () => {
    const { course, wale, converged } = cellStiffness('garter', 20);
    expect(converged).toBe(true);
    expect(course).toBeCloseTo(row('garter', 20)?.course ?? 0, 2);
    expect(wale).toBeCloseTo(row('garter', 20)?.wale ?? 0, 2);
  });

  it.each([18, 20])('falls in the published order at a loop of %d yarn diameters', (loop) => {
    const { garter, rib, seed } = stiffnessRatios(loop);
    for (const soft of [garter.wale, rib.course, seed.course, seed.wale])
      expect(soft).toBeLessThan(0.7);
    expect(garter.course).toBeLessThan(1);
    expect(garter.wale).toBeLessThan(garter.course);
    expect(rib.course).toBeLessThan(rib.wale);
  });

  it('keeps it at 24, the loop taken for hand knits, but for ribs that are hardly softer', () => {
    const { garter, rib, seed } = stiffnessRatios(24);
    expect(garter.wale).toBeLessThan(0.2);
    expect(Math.max(seed.course, seed.wale, garter.course)).toBeLessThan(0.7);
    expect(rib.course).toBeGreaterThan(0.8);
  });

  it('goes on beyond the table as at its ends', () => {
    expect(stiffnessRatios(10)).toEqual(stiffnessRatios(18));
    expect(stiffnessRatios(40)).toEqual(stiffnessRatios(26));
  });
});
