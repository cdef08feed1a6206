import { describe, expect, it } from 'vitest';
import { createRandom } from '../../src/math/random.ts';
import { planTopology } from '../../src/relax/energy/stiffness.ts';
import { spreadNodes } from '../../src/relax/solver/coarse-nodes.ts';
import { dot } from '../../src/relax/solver/descent.ts';
import { SheetPreconditioner } from '../../src/relax/solver/preconditioner.ts';
import { RigidMotions } from '../../src/relax/solver/rigid-motions.ts';
import { startShapes } from '../../src/relax/starts/starts.ts';
import { coneMetric, polygonMetric, swatchMetric, tubeMetric } from './metric-fixtures.ts';

const sheets = {
  cone: coneMetric({ radiusMm: 60, stitchMm: 4, roundMm: 4, deficitRad: 1 }),
  ruffle: polygonMetric({
    apothemMm: 60,
    rings: 16,
    around: 64,
    sides: 4,
    coneAngleRad: 7,
    holeMm: 12,
  }),
  swatch: swatchMetric({ stitches: 20, rows: 15, stitchMm: 4, roundMm: 3 }),
  scrap: swatchMetric({ stitches: 2, rows: 2, stitchMm: 4, roundMm: 3 }),
  band: tubeMetric({ stitches: 40, rows: 4, stitchMm: 4, roundMm: 3, halfTurns: 1 }),
};

describe.each(Object.entries(sheets))('the approximate inverse Hessian of a %s', (_, metric) => {
  const size = 3 * metric.vertices;
  const shape = startShapes(metric)[0].positions;
  const inverse = new SheetPreconditioner(metric, planTopology(metric));
  inverse.refresh(shape);
  const random = createRandom(11);
  const field = () => Float64Array.from({ length: size }, () => random() - 0.5);
  const applied = (f: Float64Array) => {
    const copy = f.slice();
    inverse.apply(copy);
    return copy;
  };

  it('is symmetric', () => {
    for (let k = 0; k < 5; k++) {
      const [a, b] = [field(), field()];
      const [ab, ba] = [dot(applied(a), b), dot(a, applied(b))];
      const scale = Math.sqrt(dot(applied(a), a) * dot(applied(b), b));
      expect(Math.abs(ab - ba)).toBeLessThan(1e-8 * scale);
    }
  });

  it('is positive on everything but rigid motions, which it leaves alone', () => {
    const rigid = new RigidMotions(size);
    rigid.refresh(shape);
    for (let k = 0; k < 5; k++) {
      const a = field();
      const moved = applied(a);
      expect(dot(moved, a)).toBeGreaterThan(0);
      const left = moved.slice();
      rigid.remove(left);
      const change = Math.sqrt(dot(moved, moved)) - Math.sqrt(dot(left, left));
      expect(Math.abs(change)).toBeLessThan(1e-9 * Math.sqrt(dot(moved, moved)));
    }
  });
});

describe.each(Object.entries(sheets))('the Hessian of a %s on a table', (_, metric) => {
  const size = 3 * metric.vertices;
  const shape = startShapes(metric)[0].positions;
  const random = createRandom(12);
  /** A third of the vertices touch. */
  const ground = () =>
    Float64Array.from({ length: size }, (_, k) => (((k / 3) | 0) % 3 === 0 ? random() : 0));

  it('is the same where only the ground is taken anew', () => {
    const [before, now] = [ground(), ground()];
    const whole = new SheetPreconditioner(metric, planTopology(metric));
    whole.refresh(shape, now, 'table');
    const part = new SheetPreconditioner(metric, planTopology(metric));
    part.refresh(shape, before, 'table');
    part.refreshGround(now);
    const a = Float64Array.from({ length: size }, () => random() - 0.5);
    const b = a.slice();
    whole.apply(a);
    part.apply(b);
    const scale = Math.sqrt(dot(a, a));
    for (let k = 0; k < size; k++) expect(Math.abs(a[k] - b[k])).toBeLessThan(1e-9 * scale);
  });
});

it('a Hessian is stale once the sheet has moved, and where it is free to move otherwise', () => {
  const shape = startShapes(sheets.swatch)[0].positions;
  const inverse = new SheetPreconditioner(sheets.swatch, planTopology(sheets.swatch));
  expect(inverse.isStale(shape, 0)).toBe(true);
  inverse.refresh(shape);
  expect(inverse.isStale(shape, 0)).toBe(false);
  expect(inverse.isStale(shape, 0, 'table')).toBe(true);
  const far = 6 * sheets.swatch.bendingMm;
  expect(
    inverse.isStale(
      shape.map((p, k) => (k === 7 ? p + far : p)),
      0,
    ),
  ).toBe(true);
});

describe('coarse nodes', () => {
  it('carry every vertex with weights that sum to 1 and reproduce linear fields', () => {
    const metric = sheets.swatch;
    const shape = startShapes(metric)[0].positions;
    const mean = metric.restMm.reduce((a, b) => a + b, 0) / metric.restMm.length;
    const { start, node, weight, nodeVertex, nodes } = spreadNodes(
      { vertices: metric.vertices, ends: metric.springs, lengthMm: metric.restMm },
      shape,
      4 * mean,
      1.6,
    );
    expect(nodes).toBeGreaterThan(8);
    expect(nodes).toBeLessThan(metric.vertices / 6);
    for (let v = 0; v < metric.vertices; v++) {
      expect(start[v + 1]).toBeGreaterThan(start[v]);
      let sum = 0;
      const at = [0, 0];
      for (let k = start[v]; k < start[v + 1]; k++) {
        sum += weight[k];
        for (let d = 0; d < 2; d++) at[d] += weight[k] * shape[3 * nodeVertex[node[k]] + d];
      }
      expect(sum).toBeCloseTo(1, 12);
      // At the rim a vertex may lie outside its nodes, where the fit is held back.
      const rim = v % 20 < 3 || v % 20 > 16 || v < 60 || v >= 240;
      const miss = Math.hypot(at[0] - shape[3 * v], at[1] - shape[3 * v + 1]);
      // Millimetres, against nodes some 15 mm apart.
      expect(miss).toBeLessThan(rim ? 15 : 1);
    }
  });
});
