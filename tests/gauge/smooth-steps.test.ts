import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { smoothSteps } from '../../src/gauge/shaping/smooth-steps.ts';

/** Counts that fall by `drop` after each of the given treads, in turn, until `courses` are made. */
function staircase(treads: readonly number[], drop: number, courses: number): Float64Array {
  const values: number[] = [];
  let value = 100;
  for (let k = 0; values.length < courses; k++) {
    for (let g = 0; g < treads[k % treads.length]; g++) values.push(value);
    value -= drop;
  }
  return Float64Array.from(values.slice(0, courses));
}

describe('smoothed steps', () => {
  it('make an even staircase exactly straight', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 6 }),
        fc.integer({ min: 1, max: 3 }),
        fc.integer({ min: 4, max: 12 }),
        (tread, drop, steps) => {
          const smooth = smoothSteps(staircase([tread], drop, tread * steps));
          const slope = -drop / tread;
          for (let c = 1; c < smooth.length; c++) {
            expect(smooth[c] - smooth[c - 1]).toBeCloseTo(slope, 9);
          }
        },
      ),
      { seed: 11 },
    );
  });

  it('pass through the middle of every tread of an even staircase', () => {
    const steps = staircase([2], 1, 20);
    const smooth = smoothSteps(steps);
    for (let c = 0; c < 20; c += 2)
      expect((smooth[c] + smooth[c + 1]) / 2).toBeCloseTo(steps[c], 9);
  });

  it('keep the ripple of 3 rounds in 4 below a twentieth of a stitch', () => {
    const smooth = smoothSteps(staircase([1, 1, 2], 2, 60));
    for (let c = 12; c < 48; c++) {
      const bend = smooth[c + 1] - 2 * smooth[c] + smooth[c - 1];
      expect(Math.abs(bend)).toBeLessThan(0.05);
    }
  });

  it('leave a level stretch level', () => {
    const values = new Float64Array(30).fill(40);
    expect([...smoothSteps(values)]).toEqual([...values]);
    const late = Float64Array.from({ length: 40 }, (_, c) => (c < 20 ? 60 : 60 - (c - 19)));
    for (let c = 0; c < 10; c++) expect(smoothSteps(late)[c]).toBeCloseTo(60, 2);
  });

  it('never turn a falling count upwards', () => {
    fc.assert(
      fc.property(
        fc.array(fc.integer({ min: 1, max: 4 }), { minLength: 3, maxLength: 8 }),
        (treads) => {
          const smooth = smoothSteps(staircase(treads, 1, 40));
          for (let c = 1; c < 40; c++) expect(smooth[c]).toBeLessThan(smooth[c - 1] + 1e-9);
        },
      ),
      { seed: 12 },
    );
  });
});
