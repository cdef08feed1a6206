/**
 * Relaxed sheets against the geometry of paper: a right circular cone made by taking out a wedge, and
 * the same with a square rim. Derived from first principles, exact for a sheet without thickness:
 * a wedge δ out of a disc leaves sin β = 1 − δ/2π between axis and slant.
 *
 * Tolerances. The sheet has thickness: with bending length l its tip is blunt over a few l, which
 * lowers a cone of slant R by less than 3 l (measured: 2.7 l at δ = 30°, less for sharper cones), and
 * where l is below half a stitch the mesh itself may add half a round. The slope between 0.3 R
 * and 0.8 R does not feel the tip: 0.15° covers the mesh of 4 mm rounds.
 */

import { describe, expect, it } from 'vitest';
import { relaxSheet } from '../../src/relax/relax-sheet.ts';
import { coneMetric, polygonMetric } from '../relax/metric-fixtures.ts';
import { ringAt, riseMm } from '../relax/sheet-measures.ts';

const degrees = Math.PI / 180;
const radiusMm = 100;

describe('paper cones', { timeout: 60_000 }, () => {
  // Half-angles β and heights over slant: sin β = 1 − δ/2π, height = cos β.
  it.each([
    { deficitDeg: 15, betaDeg: 73.402, heightShare: 0.28565 },
    { deficitDeg: 30, betaDeg: 66.444, heightShare: 0.39965 },
    { deficitDeg: 45, betaDeg: 61.045, heightShare: 0.48412 },
    { deficitDeg: 60, betaDeg: 56.443, heightShare: 0.55277 },
    { deficitDeg: 90, betaDeg: 48.59, heightShare: 0.66144 },
    { deficitDeg: 120, betaDeg: 41.81, heightShare: 0.74536 },
    { deficitDeg: 180, betaDeg: 30, heightShare: 0.86603 },
  ])('stand as sin β = 1 − δ/2π says for δ = $deficitDeg°', (row) => {
    const sine = 1 - row.deficitDeg / 360;
    expect(Math.asin(sine) / degrees).toBeCloseTo(row.betaDeg, 2);
    for (const bendingMm of [1, 0.5]) {
      const metric = coneMetric({
        radiusMm,
        stitchMm: 4.5,
        roundMm: 4,
        deficitRad: row.deficitDeg * degrees,
        bendingMm,
      });
      const { positions, relaxation } = relaxSheet(metric);
      expect(relaxation.converged).toBe(true);
      const inner = ringAt(metric, positions, 0.7 * radiusMm);
      const outer = ringAt(metric, positions, 0.2 * radiusMm);
      const run = outer.radiusMm - inner.radiusMm;
      const beta = Math.atan2(run, inner.heightMm - outer.heightMm) / degrees;
      expect(Math.abs(beta - row.betaDeg)).toBeLessThan(0.15);
      const short = row.heightShare * radiusMm - riseMm(positions);
      expect(short).toBeLessThan(3 * bendingMm);
      expect(short).toBeGreaterThan(-0.5);
    }
  });

  it('lose height to the blunt tip in proportion to the bending length', () => {
    const short = (bendingMm: number) => {
      const metric = coneMetric({
        radiusMm,
        stitchMm: 3.5,
        roundMm: 3,
        deficitRad: 30 * degrees,
        bendingMm,
      });
      return 0.39965 * radiusMm - riseMm(relaxSheet(metric).positions);
    };
    const [one, two] = [short(1), short(2)];
    expect(two / one).toBeGreaterThan(1.6);
    expect(two / one).toBeLessThan(2.4);
  });
});

describe('square rims on a cone', { timeout: 60_000 }, () => {
  // Apex angle Θ in four sectors: a paper cone with a square rim of apothem a. Corners lie at slant
  // a / cos(Θ/8), so the rim falls between a cos β and a cos β / cos(Θ/8) below the apex; no isometric
  // shape at all can put a corner further from the apex than its slant.
  it.each([300, 320, 270])(
    'keep to the isometric shape and its bounds at Θ = %i°',
    (coneAngleDeg) => {
      const apothemMm = 100;
      const holeMm = 8;
      const angle = coneAngleDeg * degrees;
      const metric = polygonMetric({
        apothemMm,
        rings: 27,
        around: 112,
        sides: 4,
        coneAngleRad: angle,
        holeMm,
      });
      const { positions, relaxation } = relaxSheet(metric);
      expect(relaxation.converged).toBe(true);
      const cosBeta = Math.sqrt(1 - (angle / (2 * Math.PI)) ** 2);
      const cornerMm = apothemMm / Math.cos(angle / 8);
      const rise = riseMm(positions);
      // The hole's rim is cut at its sides' middles, nearest to the apex. A free rim of a sheet 1 mm
      // thick bends away by a few mm: 4 % of the rise (measured 2 % at most).
      const expected = (cornerMm - holeMm) * cosBeta;
      expect(Math.abs(rise / expected - 1)).toBeLessThan(0.04);
      const farthest = (at: number) =>
        Math.hypot(positions[3 * at], positions[3 * at + 1], positions[3 * at + 2]);
      // Corners are the first vertex of each side on the cast-on; distances from corner to corner.
      const [a, b, c] = [0, 28, 56].map((v) => positions.subarray(3 * v, 3 * v + 3));
      const gap = (p: Float64Array, q: Float64Array) =>
        Math.hypot(p[0] - q[0], p[1] - q[1], p[2] - q[2]);
      const sideMm = 2 * apothemMm * Math.tan(angle / 8);
      expect(gap(a, b)).toBeLessThan(1.001 * sideMm);
      expect(gap(a, c)).toBeLessThan(2 * cornerMm);
      expect(farthest(0)).toBeLessThan(cornerMm);
    },
  );
});
