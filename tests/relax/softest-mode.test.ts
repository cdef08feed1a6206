import { describe, expect, it } from 'vitest';
import { createRandom } from '../../src/math/random.ts';
import { stretchCurvature } from '../../src/relax/energy/springs.ts';
import { pressSheet } from '../../src/relax/flatness/press-sheet.ts';
import { planSheet, relaxSheet } from '../../src/relax/relax-sheet.ts';
import { evaluate, SheetSolver } from '../../src/relax/solver/sheet-solver.ts';
import { softestMode } from '../../src/relax/solver/softest-mode.ts';
import { coneMetric } from './metric-fixtures.ts';
import { riseMm } from './sheet-measures.ts';

const disc = (deficitRad: number) =>
  coneMetric({ radiusMm: 40, stitchMm: 4, roundMm: 4, deficitRad, bendingMm: 1 });

function noise(length: number, seed: number): Float64Array {
  const random = createRandom(seed);
  return Float64Array.from({ length }, () => random() - 0.5);
}

describe('the softest mode', () => {
  it('is the lowest eigenvector of a small matrix', () => {
    // Second differences with one negative spring: the lowest eigenvalue by inverse iteration elsewhere.
    const diagonal = [3, 1, -0.5, 4, 2, 6];
    const times = (v: Float64Array, out: Float64Array) => {
      for (let k = 0; k < 6; k++)
        out[k] = diagonal[k] * v[k] - 0.3 * ((v[k - 1] ?? 0) + (v[k + 1] ?? 0));
    };
    const found = softestMode({ times, precondition: () => {} }, noise(6, 1), 200, -1e9);
    const image = new Float64Array(6);
    times(found.mode, image);
    const off = Math.max(...image.map((h, k) => Math.abs(h - found.curvature * found.mode[k])));
    expect(found.curvature).toBeLessThan(-0.5);
    expect(off).toBeLessThan(0.1);
  });

  it('rests on the exact Hessian of the springs', () => {
    const metric = disc(0.6);
    const x = noise(3 * metric.vertices, 2).map((r) => 60 * r);
    const v = noise(3 * metric.vertices, 3);
    const product = new Float64Array(x.length);
    stretchCurvature(metric, x, v, product);
    const gradient = (t: number) => {
      const g = new Float64Array(x.length);
      evaluate(
        { ...metric, bendingMm: 0 },
        x.map((p, k) => p + t * v[k]),
        g,
      );
      return g;
    };
    const [up, down] = [gradient(1e-4), gradient(-1e-4)];
    const most = Math.max(...product.map(Math.abs));
    product.forEach((p, k) => {
      expect(Math.abs(p - (up[k] - down[k]) / 2e-4)).toBeLessThan(1e-6 * most);
    });
  });

  it('shows that a ruffling disc held in its plane is balanced there, and at rest that it is not', () => {
    const metric = disc(-0.8);
    const pressed = pressSheet(metric);
    const solver = new SheetSolver(metric, planSheet(metric));
    const guess = noise(3 * metric.vertices, 4);
    expect(solver.softest(pressed.positions, guess, 40, -1e-6).curvature).toBeLessThan(-1e-6);
    const rest = relaxSheet(metric, { from: pressed.positions });
    expect(riseMm(rest.positions)).toBeGreaterThan(10);
    expect(solver.softest(rest.positions, guess, 40, -1e-6).curvature).toBeGreaterThan(0);
  });
});
