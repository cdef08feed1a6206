import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  applyCalibration,
  calibrate,
  compareTestKnit,
  switchEntry,
  type TestKnit,
} from '../../src/report/test-knit.ts';

function sample(
  id: string,
  stitchMm: number | null,
  roundMm: number | null,
  sideMm: number | null = null,
): TestKnit {
  return {
    id,
    yarn: 'moss dk',
    note: '',
    predicted: { stitchMm: 4.5, roundMm: 3.3, sideMm: 200 },
    measured: { stitchMm, roundMm, sideMm },
    counts: true,
  };
}

describe('the test-knit log', () => {
  it('compares what was measured and only that', () => {
    const rows = compareTestKnit(sample('1', 4.95, null, 210));
    expect(rows.map((r) => r.part)).toEqual(['stitch width', 'side']);
    expect(rows[0].share).toBeCloseTo(0.1, 12);
    expect(rows[1].differenceMm).toBe(10);
  });

  it('calibrates by the geometric mean, so that one tenth over and under cancel', () => {
    const log = [sample('1', 4.5 * 1.1, 3.3), sample('2', 4.5 / 1.1, 3.3)];
    const found = calibrate(log, 'moss dk');
    expect(found.stitchFactor).toBeCloseTo(1, 12);
    expect(found.stitchSamples).toBe(2);
    expect(found.stitchSpread).toBeGreaterThan(0.1);
  });

  it('learns the width from the side where no stitch was measured', () => {
    expect(calibrate([sample('1', null, null, 190)], 'moss dk').stitchFactor).toBeCloseTo(0.95, 12);
  });

  it('leaves other yarns alone and a yarn without samples as it was', () => {
    const none = calibrate([sample('1', 5, 4)], 'other');
    expect([none.stitchFactor, none.roundFactor]).toEqual([1, 1]);
  });

  it('can be undone: an entry switched off no longer counts', () => {
    const log = [sample('1', 4.95, 3.3), sample('2', 9, 3.3)];
    expect(calibrate(switchEntry(log, '2', false), 'moss dk').stitchFactor).toBeCloseTo(1.1, 12);
    expect(log[1].counts).toBe(true);
  });

  it('predicts the sample itself once calibrated', () => {
    const log = [sample('1', 4.8, 3.5)];
    const gauge = applyCalibration({ stitchMm: 4.5, roundMm: 3.3 }, calibrate(log, 'moss dk'));
    expect(gauge.stitchMm).toBeCloseTo(4.8, 12);
    expect(gauge.roundMm).toBeCloseTo(3.5, 12);
  });

  it('stays on the gauge first predicted, however often the plan was corrected in between', () => {
    fc.assert(
      fc.property(
        fc.array(fc.tuple(fc.double({ min: 4, max: 5.2, noNaN: true }), fc.boolean()), {
          minLength: 1,
          maxLength: 6,
        }),
        (samples) => {
          const first = { stitchMm: 4.5, roundMm: 3.3 };
          const log: TestKnit[] = [];
          samples.forEach(([measuredMm, corrected], i) => {
            // Some samples are knitted from a plan that states the gauge learnt so far.
            const now = applyCalibration(first, calibrate(log, 'moss dk'));
            const { stitchMm, roundMm } = corrected ? now : first;
            log.push({
              ...sample(String(i), measuredMm, null),
              predicted: { stitchMm, roundMm, sideMm: (200 * stitchMm) / 4.5 },
            });
          });
          const found = calibrate(log, 'moss dk');
          const mean = Math.exp(
            samples.reduce((sum, [mm]) => sum + Math.log(mm), 0) / samples.length,
          );
          expect(found.first).toEqual(first);
          expect(found.stitchFactor).toBeCloseTo(mean / 4.5, 9);
          expect(found.roundFactor).toBe(1);
        },
      ),
      { seed: 6, numRuns: 200 },
    );
  });

  it('learns from a side as from a stitch, also after a correction', () => {
    const corrected = { stitchMm: 5, roundMm: 3.3, sideMm: 220 };
    const log = [sample('1', 5, null), { ...sample('2', null, null, 220), predicted: corrected }];
    const found = calibrate(log, 'moss dk');
    expect(found.stitchFactor).toBeCloseTo(5 / 4.5, 12);
    expect(found.stitchSpread).toBeCloseTo(0, 12);
  });

  it('does not believe a slip of the pen', () => {
    expect(() => calibrate([sample('1', 45, 3.3)], 'moss dk')).toThrow(/check the figure/);
  });
});
