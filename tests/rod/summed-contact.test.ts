/** Contact summed over points: its gradient, the closed form of two crossing lines, and cells that settle with finer segments. */
import { describe, expect, it } from 'vitest';
import { relaxCell } from '../../src/cell/relax-cell.ts';
import { createRandom } from '../../src/math/random.ts';
import { contactEnergy, emptyContactState } from '../../src/rod/contact.ts';
import { emptyPairList, findPairs } from '../../src/rod/pair-list.ts';
import { elasticEnergy } from '../../src/rod/rod-elasticity.ts';
import { buildRodSystem, type Strand } from '../../src/rod/rod-system.ts';
import { summedContactEnergy } from '../../src/rod/summed-contact.ts';

/** Energy and gradients of the contact alone. */
function contactOf(
  strands: readonly Strand[],
  size: readonly [number, number],
  reach: number,
  samples: number,
) {
  const { system, positions } = buildRodSystem(strands);
  const period = Float64Array.from(size);
  const at = (x: Float64Array, p: Float64Array) => {
    const gradient = new Float64Array(x.length);
    const periodGradient = new Float64Array(2);
    const tangents = new Float64Array(4 * system.segments);
    const place = { positions: x, period: p, gradient, periodGradient, tangents };
    elasticEnergy(system, { stretch: 0, bending: 0 }, place);
    gradient.fill(0);
    periodGradient.fill(0);
    const pairs = emptyPairList();
    findPairs(system, x, p, { reach: reach + 0.2, exclusion: 1.25 * reach }, pairs);
    const contact = { contact: 1, diameter: reach, law: 'fibres' } as const;
    const state = emptyContactState();
    const energy =
      samples > 0
        ? summedContactEnergy(system, pairs, { ...contact, samples }, place, state)
        : contactEnergy(system, pairs, contact, place, state);
    return { energy, gradient, periodGradient, closest: state.closest };
  };
  return { positions, period, at };
}

const line = (axis: 0 | 1, z: number, length: number, n: number): Strand => {
  const points = new Float64Array(3 * n + 3);
  for (let k = 0; k <= n; k++) {
    points[3 * k + axis] = length * (k / n - 0.5);
    points[3 * k + 2] = z;
  }
  return { points, closed: false };
};

describe('contact summed over points', () => {
  it('has the gradient that finite differences give, periods included', () => {
    const random = createRandom(3);
    const bent = (axis: 0 | 1, z: number, closed: boolean): Strand => {
      const n = 8;
      const points = new Float64Array(3 * n).map((_, i) => {
        const along = i % 3 === axis ? (4 * Math.floor(i / 3)) / n : 0;
        return along + (i % 3 === 2 ? z : 0) + 0.3 * (random() - 0.5);
      });
      return closed
        ? { points, closed, image: [1, 0], rest: new Float64Array(n).fill(0.5) }
        : { points, closed };
    };
    const { positions, period, at } = contactOf(
      [bent(0, 0, true), bent(1, 0.8, false), bent(1, -0.7, false)],
      [4, 0],
      1.4,
      2,
    );
    const { energy, gradient, periodGradient } = at(positions, period);
    expect(energy).toBeGreaterThan(1);
    const step = 1e-6;
    const slope = (values: Float64Array, i: number, energyAt: () => number) => {
      const value = values[i];
      values[i] = value + step;
      const up = energyAt();
      values[i] = value - step;
      const down = energyAt();
      values[i] = value;
      return (up - down) / (2 * step);
    };
    const now = () => at(positions, period).energy;
    for (let i = 0; i < positions.length; i++) {
      const off = Math.abs(slope(positions, i, now) - gradient[i]);
      expect(off).toBeLessThan(1e-5 * (1 + Math.abs(gradient[i])));
    }
    expect(slope(period, 0, now)).toBeCloseTo(periodGradient[0], 4);
  });

  // ∫∫ k D⁴/(r² + x² + y²)² dx dy = π k D⁴/r², so the force is 2π k D⁴/r³ (van Wyk 1946: as the inverse cube).
  it('presses two crossing lines by the closed form, where closest points press harder the longer the segments', () => {
    const reach = 40;
    const force = (samples: number, n: number) => {
      const { positions, period, at } = contactOf(
        [line(0, 0, 16, n), line(1, 1, 16, n)],
        [0, 0],
        reach,
        samples,
      );
      const { gradient, closest } = at(positions, period);
      // Whatever the points, the distance that a step must keep is the true one.
      expect(closest).toBeCloseTo(1, 6);
      let sum = 0;
      for (let i = 3 * (n + 1) + 2; i < gradient.length; i += 3) sum -= gradient[i];
      return sum / reach ** 4 / (2 * Math.PI) - 1;
    };
    for (const n of [32, 40, 64]) expect(Math.abs(force(2, n))).toBeLessThan(0.02);
    const [coarse, fine] = [force(0, 32), force(0, 64)];
    expect(coarse).toBeGreaterThan(0.2);
    expect(fine).toBeGreaterThan(0.1);
    expect(fine).toBeLessThan(0.7 * coarse);
  });

  it('lets a cell settle with the square of its segments, as its polyline does', () => {
    const widths = [24, 48, 96].map((segments) => {
      const cell = relaxCell({
        stitch: 'stockinette',
        loopMm: 18,
        yarnMm: 1,
        segments,
        samples: 2,
      });
      expect(cell.relaxation.converged).toBe(true);
      return cell.stitchMm;
    });
    const ratio = (widths[1] - widths[0]) / (widths[2] - widths[1]);
    expect(ratio).toBeGreaterThan(3);
    expect(ratio).toBeLessThan(6);
  });
});
