import { describe, expect, it } from 'vitest';
import { relaxSheet } from '../../src/relax/relax-sheet.ts';
import type { RelaxOptions } from '../../src/relax/relaxed-sheet.ts';
import { KeptSolver } from '../../src/relax/solver/kept-solver.ts';
import { coneMetric, swatchMetric } from './metric-fixtures.ts';
import { riseMm } from './sheet-measures.ts';

const cup = (roundMm: number) =>
  coneMetric({ radiusMm: 60, stitchMm: 4.5, roundMm, deficitRad: 1 });
const load = { loadMm: new Float64Array(cup(3.5).vertices).fill(1e-3), friction: 0.3 };

describe('a solver that is kept', () => {
  const kept = new KeptSolver();
  const first = relaxSheet(cup(3.5), { load, kept });
  const from = first.positions;
  const lyingFrom = first.lying?.positions ?? null;
  /** Sheets of other stiffness and rest lengths, and the first again. */
  const others = [1.01, 0.97, 1].map((share) => {
    const metric = cup(3.5);
    return { ...metric, restMm: metric.restMm.map((r, s) => (s % 2 ? share * r : r)) };
  });

  it('brings the next sheets to the same rest as a new one, in no more steps', () => {
    for (const metric of others) {
      const warm: Partial<RelaxOptions> = { load, from, lyingFrom };
      const anew = relaxSheet(metric, warm);
      const again = relaxSheet(metric, { ...warm, kept });
      expect(again.relaxation.converged).toBe(true);
      expect(again.relaxation.energy / anew.relaxation.energy).toBeCloseTo(1, 5);
      expect(riseMm(again.positions)).toBeCloseTo(riseMm(anew.positions), 2);
      expect(again.relaxation.iterations).toBeLessThanOrEqual(anew.relaxation.iterations + 5);
      const heights = [again, anew].map(({ lying }) => riseMm(lying?.positions ?? from));
      expect(Math.abs(heights[0] - heights[1])).toBeLessThan(0.01 * heights[1]);
    }
  });

  it('is none for a sheet that starts afresh, or of other springs', () => {
    relaxSheet(others[0], { kept, from });
    expect(relaxSheet(cup(3.5), { load, kept })).toEqual(first);
    const swatch = swatchMetric({ stitches: 12, rows: 12, stitchMm: 4, roundMm: 4 });
    const shape = relaxSheet(swatch).positions;
    expect(relaxSheet(swatch, { from: shape, kept })).toEqual(relaxSheet(swatch, { from: shape }));
  });
});
