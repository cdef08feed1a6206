import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Metric } from '../../src/gauge/metric.ts';
import { createRandom } from '../../src/math/random.ts';
import { emptyBlocks, type SymmetricBlocks } from '../../src/math/symmetric-blocks.ts';
import { bend } from '../../src/relax/energy/bending.ts';
import { stretch } from '../../src/relax/energy/springs.ts';
import { assembleHessian, planTopology } from '../../src/relax/energy/stiffness.ts';
import { holdOpen, restAreas } from '../../src/relax/energy/unfolded.ts';
import { evaluate } from '../../src/relax/solver/sheet-solver.ts';
import { coneMetric, polygonMetric, swatchMetric } from './metric-fixtures.ts';

/** In the plane: heights take no part. */
const open = (metric: Metric, x: Float64Array, g: Float64Array) =>
  holdOpen(metric.triangles, restAreas(metric), x, g);

const terms = { stretch, bend, open, whole: evaluate } as const;
type Term = keyof typeof terms;

const sheets: Record<string, Metric> = {
  disc: coneMetric({ radiusMm: 20, stitchMm: 4, roundMm: 4, deficitRad: 0.6, bendingMm: 1.3 }),
  square: polygonMetric({
    apothemMm: 20,
    rings: 5,
    around: 16,
    sides: 4,
    coneAngleRad: 6.9,
    bendingMm: 0.7,
  }),
  swatch: swatchMetric({ stitches: 5, rows: 4, stitchMm: 4, roundMm: 3 }),
};

/** Any shape at all: coordinates of about the sheet's size. */
function randomShape(metric: Metric, seed: number): Float64Array {
  const random = createRandom(seed);
  return Float64Array.from({ length: 3 * metric.vertices }, () => 40 * (random() - 0.5));
}

function gradient(term: Term, metric: Metric, x: Float64Array): Float64Array {
  const g = new Float64Array(x.length);
  terms[term](metric, x, g);
  return g;
}

function energyAt(term: Term, metric: Metric, x: Float64Array): number {
  return terms[term](metric, x, new Float64Array(x.length));
}

const anySheet = fc.constantFrom(...Object.keys(sheets));
const anyTerm = fc.constantFrom<Term>('stretch', 'bend', 'whole');
/** With what holds in the plane alone. */
const everyTerm = fc.constantFrom<Term>('stretch', 'bend', 'open', 'whole');

/** Places of xx, xy, xz, yy, yz, zz in a block of three rows. */
const PLACES = [0, 1, 2, 1, 3, 4, 2, 4, 5];

function times({ pattern, diagonal, lower }: SymmetricBlocks, x: Float64Array): Float64Array {
  const y = new Float64Array(x.length);
  const add = (values: Float64Array, block: number, row: number, column: number) => {
    PLACES.forEach((place, k) => {
      y[3 * row + Math.floor(k / 3)] += values[6 * block + place] * x[3 * column + (k % 3)];
    });
  };
  for (let v = 0; v < pattern.vertices; v++) {
    add(diagonal, v, v, v);
    for (let k = pattern.start[v]; k < pattern.start[v + 1]; k++) {
      add(lower, k, v, pattern.column[k]);
      add(lower, k, pattern.column[k], v);
    }
  }
  return y;
}

describe('energy terms', () => {
  it('have the gradient that central differences give, in any shape', () => {
    fc.assert(
      fc.property(anySheet, everyTerm, fc.nat(1e6), (name, term, seed) => {
        const metric = sheets[name];
        const x = randomShape(metric, seed);
        const g = gradient(term, metric, x);
        const random = createRandom(seed + 1);
        const along = Float64Array.from(x, () => random() - 0.5);
        const at = (t: number) =>
          energyAt(
            term,
            metric,
            x.map((p, k) => p + t * along[k]),
          );
        const slope = along.reduce((sum, a, k) => sum + a * g[k], 0);
        // Error of the difference: ~ h² third derivative and ~ 1e-16 E / h.
        const h = 1e-4;
        const measured = (at(h) - at(-h)) / (2 * h);
        const scale = Math.abs(slope) + energyAt(term, metric, x) * 1e-3;
        expect(Math.abs(measured - slope)).toBeLessThan(1e-6 * scale);
      }),
      { seed: 3, numRuns: 60 },
    );
  });

  it('push and turn the sheet as a whole by nothing', () => {
    fc.assert(
      fc.property(anySheet, anyTerm, fc.nat(1e6), (name, term, seed) => {
        const metric = sheets[name];
        const x = randomShape(metric, seed);
        const g = gradient(term, metric, x);
        const total = [0, 0, 0, 0, 0, 0];
        let size = 0;
        for (let v = 0; v < g.length; v += 3) {
          for (let d = 0; d < 3; d++) {
            const e = (d + 1) % 3;
            const f = (d + 2) % 3;
            total[d] += g[v + d];
            total[3 + d] += x[v + e] * g[v + f] - x[v + f] * g[v + e];
            size += Math.abs(g[v + d]) * 40;
          }
        }
        for (const t of total) expect(Math.abs(t)).toBeLessThan(1e-12 * size);
      }),
      { seed: 4, numRuns: 60 },
    );
  });

  it('do not change when the sheet is carried and turned', () => {
    fc.assert(
      fc.property(
        anySheet,
        anyTerm,
        fc.nat(1e6),
        fc.double({ min: -3, max: 3, noNaN: true }),
        (name, term, seed, angle) => {
          const metric = sheets[name];
          const x = randomShape(metric, seed);
          const [c, s] = [Math.cos(angle), Math.sin(angle)];
          const moved = x.slice();
          for (let v = 0; v < x.length; v += 3) {
            moved[v] = c * x[v] - s * x[v + 2] + 7;
            moved[v + 1] = x[v + 1] - 3;
            moved[v + 2] = s * x[v] + c * x[v + 2] + 1;
          }
          const before = energyAt(term, metric, x);
          expect(Math.abs(energyAt(term, metric, moved) / before - 1)).toBeLessThan(1e-10);
        },
      ),
      { seed: 5, numRuns: 40 },
    );
  });

  it('have the Hessian that differences of the gradient give where every spring is stretched', () => {
    for (const sheet of Object.values(sheets)) {
      const metric = { ...sheet, restMm: sheet.restMm.map(() => 1e-3) };
      const random = createRandom(9);
      const x = randomShape(metric, 8);
      const topology = planTopology(metric);
      const hessian = emptyBlocks(topology.pattern);
      assembleHessian(metric, topology, x, hessian);
      const along = Float64Array.from(x, () => random() - 0.5);
      const product = times(hessian, along);
      const h = 1e-4;
      const [a, b] = [h, -h].map((t) =>
        gradient(
          'whole',
          metric,
          x.map((p, k) => p + t * along[k]),
        ),
      );
      const largest = product.reduce((most, p) => Math.max(most, Math.abs(p)), 0);
      product.forEach((p, k) => {
        expect(Math.abs((a[k] - b[k]) / (2 * h) - p)).toBeLessThan(1e-5 * largest);
      });
    }
  });

  it('stay finite where two vertices coincide', () => {
    const metric = sheets.disc;
    const x = new Float64Array(3 * metric.vertices);
    const g = new Float64Array(x.length);
    expect(Number.isFinite(evaluate(metric, x, g))).toBe(true);
    expect(g.every(Number.isFinite)).toBe(true);
  });
});
