import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { prepare } from '../../src/knit.ts';
import { parsePlan } from '../../src/plan/parse.ts';
import { planTopology } from '../../src/relax/energy/stiffness.ts';
import { planSheet, relaxSheet } from '../../src/relax/relax-sheet.ts';
import { Descent } from '../../src/relax/solver/descent.ts';
import { SheetPreconditioner } from '../../src/relax/solver/preconditioner.ts';
import { evaluate } from '../../src/relax/solver/sheet-solver.ts';
import { startShapes } from '../../src/relax/starts/starts.ts';
import { runs } from '../runs.ts';
import { coneMetric, inUnits, polygonMetric, swatchMetric, tubeMetric } from './metric-fixtures.ts';
import { areaVector, largestDifference, riseMm, shapeOf } from './sheet-measures.ts';

const degrees = Math.PI / 180;
const disc = (deficitDeg: number, holeMm = 0) =>
  coneMetric({
    radiusMm: 60,
    stitchMm: 4.5,
    roundMm: 3.5,
    deficitRad: deficitDeg * degrees,
    holeMm,
  });
const square = (coneAngleDeg: number) =>
  polygonMetric({
    apothemMm: 60,
    rings: 16,
    around: 64,
    sides: 4,
    coneAngleRad: coneAngleDeg * degrees,
    holeMm: 12,
  });

/** An octagon grown from its middle in rows of purl, sewn up from the middle: balanced in its plane. */
function sewnOctagon(): string {
  const shaped = new Map([
    [2, 'p1, [(k1 tbl, k1) in 1 st] 8 times, p1'],
    [7, 'k1, [pfb] 16 times, k1'],
    [11, 'k1, [pfb, p1] 16 times, k1'],
    [17, 'k1, [pfb, p3, pfb, p1] 8 times, k1'],
    [23, 'k1, [pfb, p5, pfb, p1] 8 times, k1'],
    [27, 'k1, [pfb, p7, pfb, p1] 8 times, k1'],
  ]);
  const rows = Array.from({ length: 29 }, (_, k) => {
    const [side, plain] =
      k % 2 === 0 ? ['RS', 'k1, p to last st, k1'] : ['WS', 'p1, k to last st, p1'];
    return `Row ${k + 1} (${side}): ${shaped.get(k + 1) ?? plain}.`;
  });
  return [
    'Gauge: 21.7 sts and 48.2 rows = 10 cm in reverse stockinette',
    'Worked: flat, seam stitches 1 + 1',
    'Cast on 10 sts.',
    ...rows,
    'Bind off all sts.',
  ].join('\n');
}

describe('relaxation', { timeout: 60_000 }, () => {
  it.each([
    ['a disc', disc(0)],
    ['a disc with a hole', disc(0, 15)],
    ['a square of four sectors', square(360)],
    ['a swatch', swatchMetric({ stitches: 20, rows: 25, stitchMm: 4, roundMm: 3 })],
  ])('leaves an exactly flat metric flat: %s', (_, metric) => {
    const { positions, relaxation } = relaxSheet(metric);
    expect(relaxation.converged).toBe(true);
    expect(riseMm(positions)).toBeLessThan(1e-6);
    expect(relaxation.energy).toBeLessThan(1e-12);
  });

  it('finds the flat shape again from a crumpled one', () => {
    const metric = swatchMetric({ stitches: 12, rows: 12, stitchMm: 4, roundMm: 4 });
    const from = startShapes(metric)[0].positions.slice();
    for (let v = 0; v < metric.vertices; v++) {
      from[3 * v + 2] = 4 * Math.sin(from[3 * v] / 7) + 3 * Math.cos(from[3 * v + 1] / 9);
    }
    const { positions, relaxation } = relaxSheet(metric, { from, tolerance: 1e-7 });
    expect(relaxation.converged).toBe(true);
    expect(relaxation.start).toBe('given');
    expect(riseMm(positions)).toBeLessThan(0.05);
  });

  it('keeps a sheet flat below the buckling threshold, and says flat', () => {
    // 1 degree of 60 mm: 1 mm of rim, less than the stiffness holds.
    for (const deficit of [1, -1]) {
      const { positions, relaxation } = relaxSheet(disc(deficit, 15));
      expect(relaxation.start).toBe('flat');
      expect(riseMm(positions)).toBeLessThan(0.05);
    }
  });

  it('leaves the plane above the threshold even when it starts in it, exactly balanced', () => {
    const metric = disc(40);
    const from = startShapes(metric)[0].positions.slice();
    for (let v = 0; v < metric.vertices; v++) from[3 * v + 2] = 0;
    const kicked = relaxSheet(metric, { from });
    const shaped = relaxSheet(metric);
    expect(riseMm(kicked.positions)).toBeGreaterThan(15);
    expect(kicked.relaxation.energy / shaped.relaxation.energy).toBeCloseTo(1, 3);
  });

  it('leaves the plane where edges are sewn together too, which leaves vertices that nothing holds', () => {
    const { metric } = prepare(parsePlan(sewnOctagon())).measured;
    expect(new Set(metric.springs).size).toBeLessThan(metric.vertices);
    const { positions, relaxation } = relaxSheet(metric);
    const bowl = positions.map((p, k) =>
      k % 3 === 2 ? p + (positions[k - 2] ** 2 + positions[k - 1] ** 2) / 200 : p,
    );
    const off = relaxSheet(metric, { from: bowl });
    expect(relaxation.energy).toBeLessThan(1.002 * off.relaxation.energy);
  });

  it('never lets the energy rise over an accepted step', () => {
    for (const metric of [disc(60), disc(-40), square(300), square(420)]) {
      for (const start of startShapes(metric)) {
        const preconditioner = new SheetPreconditioner(metric, planTopology(metric));
        preconditioner.refresh(start.positions);
        const descent = new Descent(
          { size: 3 * metric.vertices, evaluate: (x, g) => evaluate(metric, x, g) },
          preconditioner,
        );
        descent.reset(start.positions);
        for (let k = 0; k < 60; k++) {
          const before = descent.energy;
          if (!descent.step()) break;
          // Sums of a few thousand terms in double precision.
          expect(descent.energy).toBeLessThanOrEqual(before * (1 + 1e-13));
        }
      }
    }
  });

  it('hands back a sheet whose centroid is 0 and whose right side faces +z', () => {
    for (const metric of [disc(60), disc(-40), square(300), square(420)]) {
      const { positions } = relaxSheet(metric);
      const [ax, ay, az] = areaVector(metric, positions);
      expect(az).toBeGreaterThan(0);
      expect(Math.hypot(ax, ay)).toBeLessThan(1e-9 * az);
      for (let d = 0; d < 3; d++) {
        const moment = metric.areaMm2.reduce((sum, a, v) => sum + a * positions[3 * v + d], 0);
        const area = metric.areaMm2.reduce((sum, a) => sum + a, 0);
        expect(Math.abs(moment / area)).toBeLessThan(1e-9);
      }
    }
  });

  it('cups with the middle on the right side and ruffles up and down alike', () => {
    const cup = relaxSheet(disc(60)).positions;
    const middle = cup.length - 1;
    expect(cup[middle]).toBeGreaterThan(0);
    const ruffle = relaxSheet(disc(-40)).positions;
    const heights = ruffle.filter((_, k) => k % 3 === 2);
    // The crests reach as high as the troughs, but for the mesh and the mean of the heights.
    expect(Math.abs(Math.max(...heights) / -Math.min(...heights) - 1)).toBeLessThan(0.15);
  });

  it('comes to the same shape whatever the unit of length', () => {
    for (const metric of [disc(60), square(300)]) {
      const base = relaxSheet(metric, { tolerance: 1e-7 });
      for (const factor of [0.1, 1 / 25.4, 1000]) {
        const other = relaxSheet(inUnits(metric, factor), { tolerance: 1e-7 });
        expect(other.relaxation.converged).toBe(true);
        expect(other.relaxation.start).toBe(base.relaxation.start);
        const scaled = other.positions.map((p) => p / factor);
        expect(largestDifference(shapeOf(scaled), shapeOf(base.positions))).toBeLessThan(0.02);
      }
    }
  });

  it('comes to the same shape wherever it starts in space', () => {
    const metric = square(300);
    const from = startShapes(metric)[0].positions;
    const moved = from.slice();
    const [c, s] = [Math.cos(2), Math.sin(2)];
    for (let v = 0; v < from.length; v += 3) {
      moved[v] = from[v] + 50;
      moved[v + 1] = c * from[v + 1] - s * from[v + 2] - 20;
      moved[v + 2] = s * from[v + 1] + c * from[v + 2];
    }
    const a = relaxSheet(metric, { from, tolerance: 1e-7 });
    const b = relaxSheet(metric, { from: moved, tolerance: 1e-7 });
    expect(largestDifference(shapeOf(a.positions), shapeOf(b.positions))).toBeLessThan(0.02);
  });

  it('is the same to the last bit for the same seed, and nearly so for another', () => {
    const metric = disc(50);
    const a = relaxSheet(metric, { seed: 7 });
    expect(relaxSheet(metric, { seed: 7 }).positions).toEqual(a.positions);
    const b = relaxSheet(metric, { seed: 8 });
    expect(b.relaxation.energy / a.relaxation.energy).toBeCloseTo(1, 5);
  });

  it('restarts from where it was in far fewer steps, topology passed on', () => {
    const metric = square(300);
    const topology = planSheet(metric);
    const cold = relaxSheet(metric, {}, topology);
    const again = relaxSheet(metric, { from: cold.positions }, topology);
    expect(again.relaxation.converged).toBe(true);
    expect(again.relaxation.iterations).toBeLessThan(cold.relaxation.iterations / 2);
    // A gauge 1 % wider: the same sheet nearly at rest.
    const wider = { ...metric, restMm: metric.restMm.map((r) => 1.01 * r) };
    const warm = relaxSheet(wider, { from: cold.positions }, topology);
    const fresh = relaxSheet(wider, {}, topology);
    expect(warm.relaxation.iterations).toBeLessThan(fresh.relaxation.iterations);
    expect(warm.relaxation.energy / fresh.relaxation.energy).toBeCloseTo(1, 4);
  });

  it('mirrors the sheet when the metric is mirrored', () => {
    const metric = square(300);
    const { ring, triangles } = metric;
    const mirrored = {
      ...metric,
      triangles: triangles.map((_, k) => triangles[k - (k % 3) + ((2 * k) % 3)]),
      ring: { ...ring, clockwise: -1 as const },
    };
    const a = relaxSheet(metric, { tolerance: 1e-7 }).positions;
    const b = relaxSheet(mirrored, { tolerance: 1e-7 }).positions;
    expect(largestDifference(shapeOf(a), shapeOf(b))).toBeLessThan(0.02);
    expect(areaVector(mirrored, b)[2]).toBeGreaterThan(0);
  });

  it('holds a tube round and a twisted band one-sided', () => {
    const tube = tubeMetric({ stitches: 40, rows: 20, stitchMm: 4, roundMm: 3 });
    const relaxed = relaxSheet(tube);
    expect(relaxed.relaxation.start).toBe('tube');
    expect(riseMm(relaxed.positions)).toBeCloseTo(57, 0);
    const band = tubeMetric({ stitches: 60, rows: 5, stitchMm: 4, roundMm: 3, halfTurns: 1 });
    const twisted = relaxSheet(band);
    expect(twisted.relaxation.start).toBe('moebius');
    expect(twisted.relaxation.converged).toBe(true);
    expect(twisted.positions.every(Number.isFinite)).toBe(true);
  });
});

describe('the record of a relaxation', { timeout: 60_000 }, () => {
  it('says that the limit of iterations ended it', () => {
    const { relaxation } = relaxSheet(disc(60), { maxIterations: 3 });
    expect(relaxation.converged).toBe(false);
    expect(relaxation.reason).toBe('iteration-limit');
    expect(relaxation.iterations).toBe(3);
    expect(relaxation.residual).toBeGreaterThan(1e-5);
  });

  it('says that the listener stopped it, soon after it did', () => {
    let calls = 0;
    const { relaxation, positions } = relaxSheet(square(420), {
      onProgress: ({ iteration }) => {
        calls++;
        return iteration >= 10;
      },
    });
    expect(relaxation.reason).toBe('cancelled');
    expect(relaxation.converged).toBe(false);
    expect(relaxation.iterations).toBeLessThanOrEqual(15);
    // At the start, after 5 and after 10 steps.
    expect(calls).toBe(3);
    expect(positions.every(Number.isFinite)).toBe(true);
  });

  it('adds up: stretch and bending make the energy, the residual is under the tolerance', () => {
    const { relaxation } = relaxSheet(square(300));
    expect(relaxation.converged).toBe(true);
    expect(relaxation.residual).toBeLessThan(1e-5);
    const { stretchEnergy, bendingEnergy, energy } = relaxation;
    expect((stretchEnergy + bendingEnergy) / energy).toBeCloseTo(1, 9);
  });

  it('is honest when it cannot reach a tolerance below rounding', () => {
    const { relaxation } = relaxSheet(disc(60), { tolerance: 1e-19, maxIterations: 400 });
    expect(relaxation.converged).toBe(false);
    expect(['stalled', 'iteration-limit']).toContain(relaxation.reason);
  });

  it.each(['restMm', 'stiffness', 'hingeWeights', 'areaMm2'] as const)(
    'says not-a-number, with finite positions, when %s holds one',
    (field) => {
      const metric = disc(30);
      const spoiled = {
        ...metric,
        [field]: metric[field].map((v, k) => (k === 5 ? Number.NaN : v)),
      };
      const { relaxation, positions } = relaxSheet(spoiled);
      expect(relaxation.converged).toBe(false);
      expect(relaxation.reason).toBe('not-a-number');
      expect(positions.every(Number.isFinite)).toBe(true);
    },
  );

  it('never hands out a position that is not finite, whatever the rest lengths', () => {
    fc.assert(
      fc.property(
        fc.array(fc.double({ min: 0, max: 1e6, noNaN: true }), { minLength: 8, maxLength: 8 }),
        (factors) => {
          const metric = swatchMetric({ stitches: 5, rows: 5, stitchMm: 4, roundMm: 3 });
          const wild = { ...metric, restMm: metric.restMm.map((r, s) => r * factors[s % 8]) };
          const { positions, relaxation } = relaxSheet(wild, { maxIterations: 200 });
          expect(positions.every(Number.isFinite)).toBe(true);
          expect(Number.isFinite(relaxation.energy)).toBe(true);
        },
      ),
      { seed: 6, numRuns: runs(30) },
    );
  });

  it('refuses a start of the wrong length by naming both lengths', () => {
    expect(() => relaxSheet(disc(30), { from: new Float64Array(6) })).toThrow(/6 coordinates/);
  });
});
