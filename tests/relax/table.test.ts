import { describe, expect, it } from 'vitest';
import { createRandom } from '../../src/math/random.ts';
import { addFrictionStiffness, type Friction, rub } from '../../src/relax/energy/friction.ts';
import { planTopology } from '../../src/relax/energy/stiffness.ts';
import { addTableStiffness, rest } from '../../src/relax/energy/table.ts';
import { weigh } from '../../src/relax/energy/weight.ts';
import { relaxSheet } from '../../src/relax/relax-sheet.ts';
import type { Load } from '../../src/relax/relaxed-sheet.ts';
import { SheetPreconditioner } from '../../src/relax/solver/preconditioner.ts';
import { settleSheet } from '../../src/relax/table/settle-sheet.ts';
import { coneMetric } from './metric-fixtures.ts';
import { riseMm } from './sheet-measures.ts';

const VERTICES = 40;

function numbers(length: number, seed: number, size = 1): Float64Array {
  const random = createRandom(seed);
  return Float64Array.from({ length }, () => 2 * size * (random() - 0.5));
}

const loadMm = numbers(VERTICES, 1).map(Math.abs);
const friction: Friction = {
  holdMm: numbers(VERTICES, 2).map((n) => Math.max(0, n)),
  setDown: numbers(2 * VERTICES, 3),
  slipMm: 0.5,
};

type Term = (x: Float64Array, g: Float64Array) => number;
const terms: Record<string, Term> = {
  weight: (x, g) => weigh(loadMm, x, g),
  table: (x, g) => rest(0.7, x, g),
  friction: (x, g) => rub(friction, x, g),
};

describe('weight, table and friction', () => {
  it.each(Object.keys(terms))('%s has the gradient that central differences give', (name) => {
    for (let seed = 10; seed < 30; seed++) {
      const x = numbers(3 * VERTICES, seed);
      const along = numbers(3 * VERTICES, seed + 100);
      const g = new Float64Array(x.length);
      terms[name](x, g);
      const at = (t: number) =>
        terms[name](
          x.map((p, k) => p + t * along[k]),
          new Float64Array(x.length),
        );
      const slope = along.reduce((sum, a, k) => sum + a * g[k], 0);
      const h = 1e-6;
      expect((at(h) - at(-h)) / (2 * h)).toBeCloseTo(slope, 5);
    }
  });

  it('the table holds up what is below it and nothing above', () => {
    const x = Float64Array.of(0, 0, -2, 0, 0, 3);
    const g = new Float64Array(6);
    expect(rest(2, x, g)).toBe(4);
    expect([...g]).toEqual([0, 0, -4, 0, 0, 0]);
    const ground = new Float64Array(6);
    expect(addTableStiffness(2, Float64Array.of(1, 1), x, ground)).toBe(1);
    expect([...ground]).toEqual([0, 0, 2, 0, 0, 0]);
  });

  it('a vertex about to touch is reckoned with in part, and does not count as touching', () => {
    const ground = new Float64Array(9);
    const x = Float64Array.of(0, 0, 0.15, 0, 0, 0.6, 0, 0, -1e-9);
    expect(addTableStiffness(2, new Float64Array(3).fill(1), x, ground)).toBe(1);
    expect(ground[2]).toBeCloseTo(1, 12);
    expect(ground[5]).toBe(0);
    expect(ground[8]).toBe(2);
  });

  it('what is light falls to the table in one step all the same', () => {
    const loadMm = 0.001;
    const ground = new Float64Array(3);
    addTableStiffness(2, Float64Array.of(loadMm), Float64Array.of(0, 0, 0.15), ground);
    // With its neighbours' share of the load, which the stiffness there was measured with.
    expect((10 * loadMm) / ground[2]).toBeCloseTo(0.15 + (10 * loadMm) / 2, 12);
  });

  it('friction never holds by more than μN, and by just that once it slips', () => {
    const one: Friction = {
      holdMm: Float64Array.of(0.8),
      setDown: new Float64Array(2),
      slipMm: 0.5,
    };
    const held = (ux: number) => {
      const g = new Float64Array(3);
      rub(one, Float64Array.of(ux, 0, 0), g);
      return g[0];
    };
    expect(held(0.25)).toBeCloseTo(0.4, 12);
    expect(held(0.5)).toBeCloseTo(0.8, 12);
    expect(held(7)).toBeCloseTo(0.8, 12);
    const ground = new Float64Array(3);
    addFrictionStiffness(one, Float64Array.of(2, 0, 0), ground);
    expect(ground[0]).toBeCloseTo(0.4, 12);
  });
});

describe('a sheet on the table', () => {
  const disc = (deficitRad: number) =>
    coneMetric({ radiusMm: 60, stitchMm: 5, roundMm: 4, deficitRad, bendingMm: 1 });
  const laid = (deficitRad: number, perArea: number, mu = 0) => {
    const metric = disc(deficitRad);
    const load: Load = { loadMm: metric.areaMm2.map((a) => perArea * a), friction: mu };
    return { metric, load, sheet: relaxSheet(metric, { load }) };
  };
  /** 560 g/m² over 60 N/m: a medium wool. */
  const WOOL = 9.2e-5;

  it('is borne by the table with just its weight, and sinks in by less than a tenth of a mm', () => {
    const { metric, sheet, load } = laid(0.9, WOOL);
    const preconditioner = new SheetPreconditioner(metric, planTopology(metric));
    const found = settleSheet(metric, preconditioner, sheet.positions, load, {
      maxIterations: 1500,
    });
    const x = found.positions;
    const g = new Float64Array(x.length);
    rest(1, x, g);
    let borne = 0;
    let low = 0;
    for (let z = 2; z < x.length; z += 3) {
      borne -= g[z];
      low = Math.min(low, x[z]);
    }
    const weight = load.loadMm.reduce((sum, f) => sum + f, 0);
    expect(found.converged).toBe(true);
    expect(borne / weight).toBeCloseTo(1, 2);
    expect(low).toBeGreaterThan(-0.1);
  });

  it('lies down where it is two per cent off, and stays up where it is a tenth off', () => {
    const share = (turn: number) => 2 * Math.PI * turn;
    const near = laid(share(0.02), WOOL).sheet;
    expect(riseMm(near.positions)).toBeGreaterThan(1);
    expect(riseMm(near.lying?.positions ?? near.positions)).toBeLessThan(0.2);
    const far = laid(share(0.1), WOOL).sheet;
    const rises = riseMm(far.lying?.positions ?? far.positions);
    expect(rises).toBeGreaterThan(5);
    expect(rises).toBeLessThan(riseMm(far.positions));
  });

  it('comes to rest in the steps it is given, friction and all', () => {
    const { metric, load, sheet } = laid(1.6, WOOL, 0.3);
    const { lying } = sheet;
    expect(lying?.reason).toBe('converged');
    expect(lying?.residual).toBeLessThan(1e-4);
    const preconditioner = new SheetPreconditioner(metric, planTopology(metric));
    const stop = { tolerance: 1e-5, maxIterations: 1500 };
    const still = settleSheet(metric, preconditioner, sheet.positions, load, stop);
    expect(riseMm(lying?.positions ?? sheet.positions)).toBeCloseTo(riseMm(still.positions), 1);
  });

  it('comes to lie the same from how another piece lay, in fewer steps', () => {
    const { metric: narrower, load, sheet: before } = laid(1, WOOL, 0.3);
    const metric = { ...narrower, restMm: narrower.restMm.map((rest) => 1.01 * rest) };
    const sheet = relaxSheet(metric, { load });
    const warm = relaxSheet(metric, {
      load,
      from: before.positions,
      lyingFrom: before.lying?.positions,
    });
    expect(warm.lying?.reason).toBe('converged');
    expect(warm.lying?.iterations).toBeLessThan(sheet.lying?.iterations ?? 0);
    const [rise, cold] = [warm, sheet].map((one) => riseMm(one.lying?.positions ?? one.positions));
    expect(Math.abs(rise / cold - 1)).toBeLessThan(0.01);
  });

  it('is the shape in the air where it weighs next to nothing', () => {
    const { sheet } = laid(0.6, 1e-9);
    const rises = riseMm(sheet.lying?.positions ?? new Float64Array(3));
    expect(rises / riseMm(sheet.positions)).toBeCloseTo(1, 2);
  });

  it('spreads less where the table holds its rim by friction', () => {
    const slides = laid(0.9, WOOL, 0).sheet.lying;
    const held = laid(0.9, WOOL, 0.6).sheet.lying;
    if (!slides || !held) throw new Error('not laid');
    expect(riseMm(held.positions)).toBeGreaterThan(riseMm(slides.positions) - 0.05);
  });
});
