import { describe, expect, it } from 'vitest';
import { timeFlat } from '../../src/app/flat-timing.ts';
import { gradeMeasured } from '../../src/app/grading.ts';
import { rimStitches } from '../../src/draft/grade.ts';
import { draftMeasured, type Knitted, knit, prepare } from '../../src/knit.ts';
import { parsePlan } from '../../src/plan/parse.ts';

const GAUGE = { stitchMm: 5, roundMm: 100 / 28 };
const CABLED = draftMeasured({
  sizeMm: 140,
  ...GAUGE,
  panels: [{ stitches: 'p1 k4 p1', crossEvery: 6, place: 'middle' }],
}).text;

function knitted(text: string): Knitted {
  const { knitted: made } = knit(text);
  if (!made) throw new Error('the plan has mistakes');
  return made;
}

const angleDeg = (text: string) =>
  (prepare(parsePlan(text)).measured.metric.ring.coneAngleRad * 180) / Math.PI;

describe('another size', () => {
  const { plan, report } = knitted(CABLED);

  it('comes within a round of shaping of the size, with the panel’s pull-in counted', () => {
    for (const sizeMm of [100, 180]) {
      const { graded } = gradeMeasured(plan, report, { sizeMm, ...GAUGE });
      if (!graded) throw new Error('not graded');
      const now = knitted(graded.text).report.sideMm;
      // A round of shaping is two stitches a side; half of it is 5 mm, and the pull-in varies a little.
      expect(Math.abs(now - sizeMm)).toBeLessThan(7);
      expect(rimStitches(parsePlan(graded.text)) % 4).toBe(0);
    }
  });

  it('timed by what its fabric measures makes a full turn, no further off than before', () => {
    for (const sizeMm of [100, 180]) {
      const { graded } = gradeMeasured(plan, report, { sizeMm, ...GAUGE });
      if (!graded) throw new Error('not graded');
      const timed = Math.abs(angleDeg(timeFlat(graded, { ...GAUGE, corners: 4 })) - 360);
      expect(timed).toBeLessThanOrEqual(Math.abs(angleDeg(graded.text) - 360));
      expect(timed).toBeLessThan(6);
    }
  });

  it('is refused in words where nothing would be left', () => {
    expect(gradeMeasured(plan, report, { sizeMm: 3, ...GAUGE }).trouble).toMatch(/too small/);
  });
});
