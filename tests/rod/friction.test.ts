/** Friction: a true gradient, a Coulomb cap, and a state that can be gone back to. */
import { describe, expect, it } from 'vitest';
import { YarnFriction } from '../../src/rod/friction.ts';
import { buildRodSystem } from '../../src/rod/rod-system.ts';

const MATERIAL = { stretch: 400, bending: 1, contact: 10, diameter: 1, plane: 0 };

/** Two yarns crossing at a distance of 0.95 diameters, one of them periodic along x. */
function crossing() {
  const { system, positions } = buildRodSystem([
    {
      points: [0, 0, 0, 1, 0.05, 0, 2, 0, 0.02, 3, 0.03, 0],
      closed: true,
      image: [1, 0],
      rest: [1, 1, 1, 1],
    },
    { points: [1.4, -1, 0.95, 1.5, 0.1, 0.95, 1.45, 1, 0.95], closed: false },
    { points: [3.6, -1, -0.95, 3.5, 0.1, -0.94, 3.55, 1, -0.95], closed: false },
  ]);
  return { system, positions, period: Float64Array.of(4, 0) };
}

function evaluate(friction: YarnFriction, positions: Float64Array, period: Float64Array) {
  const gradient = new Float64Array(positions.length);
  const periodGradient = new Float64Array(2);
  const energy = friction.energy(positions, period, gradient, periodGradient);
  return { energy, gradient, periodGradient };
}

describe('friction between crossing yarns', () => {
  const { system, positions, period } = crossing();
  const friction = new YarnFriction(system, MATERIAL, 0.3);
  friction.settle(positions, period);
  const moved = positions.map((v, i) => v + 0.02 * Math.sin(3 * i + 1));
  const wider = Float64Array.of(4.03, 0);

  it('grips where they touch, over the edge of the repeat too, and pulls nothing at first', () => {
    expect(friction.count).toBeGreaterThanOrEqual(2);
    expect(evaluate(friction, positions, period).energy).toBeCloseTo(0, 20);
  });

  it('has the gradient of its energy, in the points and in the period', () => {
    const { energy, gradient, periodGradient } = evaluate(friction, moved, wider);
    expect(energy).toBeGreaterThan(1e-5);
    const h = 1e-6;
    for (let i = 0; i < moved.length; i++) {
      const at = (by: number) =>
        evaluate(
          friction,
          moved.map((v, k) => (k === i ? v + by : v)),
          wider,
        ).energy;
      expect(gradient[i]).toBeCloseTo((at(h) - at(-h)) / (2 * h), 7);
    }
    const at = (by: number) => evaluate(friction, moved, Float64Array.of(wider[0] + by, 0)).energy;
    expect(Math.abs(periodGradient[0])).toBeGreaterThan(1e-4);
    expect(periodGradient[0]).toBeCloseTo((at(h) - at(-h)) / (2 * h), 7);
  });

  it('pulls equally and oppositely', () => {
    const { gradient } = evaluate(friction, moved, wider);
    for (let c = 0; c < 3; c++) {
      let sum = 0;
      for (let i = c; i < gradient.length; i += 3) sum += gradient[i];
      expect(sum).toBeCloseTo(0, 12);
    }
  });

  it('lets slip what pulls harder than its share of the pressure, and can go back', () => {
    const saved = friction.save();
    // The second yarn drawn along the first by 0.4 diameters.
    const drawn = positions.map((v, i) => (i >= 12 && i < 21 && i % 3 === 0 ? v + 0.4 : v));
    const before = evaluate(friction, drawn, period);
    const slipped = friction.settle(drawn, period);
    expect(slipped).toBeGreaterThan(0.05);
    const after = evaluate(friction, drawn, period);
    expect(after.energy).toBeLessThan(before.energy);
    expect(Math.abs(after.gradient[15])).toBeLessThan(Math.abs(before.gradient[15]));
    expect(friction.settle(drawn, period)).toBeLessThan(1e-9);
    friction.restore(saved);
    expect(evaluate(friction, drawn, period)).toEqual(before);
  });
});
