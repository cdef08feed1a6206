import { describe, expect, it } from 'vitest';
import type { Metric } from '../../src/gauge/metric.ts';
import {
  computeBend,
  computeNormals,
  computeStrain,
} from '../../src/view/fabric/surface-measures.ts';
import { cutSection } from '../../src/view/marks/section-cut.ts';
import { castShadow } from '../../src/view/scene/contact-shadow.ts';

/** A grid of `n` × `n` vertices, `side` mm wide, with the parts of a Metric that the view reads. */
function grid(n: number, side: number, height: (x: number, y: number) => number) {
  const positions = new Float64Array(3 * n * n);
  const triangles: number[] = [];
  const springs: number[] = [];
  const at = (i: number, j: number) => j * n + i;
  for (let j = 0; j < n; j++) {
    for (let i = 0; i < n; i++) {
      const x = (i / (n - 1) - 0.5) * side;
      const y = (j / (n - 1) - 0.5) * side;
      positions.set([x, y, height(x, y)], 3 * at(i, j));
      if (i + 1 < n) springs.push(at(i, j), at(i + 1, j));
      if (j + 1 < n) springs.push(at(i, j), at(i, j + 1));
      if (i + 1 < n && j + 1 < n) {
        // Alternating diagonals, so that no direction is preferred.
        const quad = [at(i, j), at(i + 1, j), at(i + 1, j + 1), at(i, j + 1)];
        const order = (i + j) % 2 ? [0, 1, 2, 0, 2, 3] : [0, 1, 3, 1, 2, 3];
        triangles.push(...order.map((k) => quad[k]));
      }
    }
  }
  const restMm = new Float64Array(springs.length / 2).fill(side / (n - 1));
  const metric = {
    vertices: n * n,
    triangles: Int32Array.from(triangles),
    springs: Int32Array.from(springs),
    restMm,
  } as unknown as Metric;
  return { metric, positions, middle: at((n - 1) / 2, (n - 1) / 2) };
}

describe('measures of the surface', () => {
  it('find bend 1/R on a ball of radius R, + where the right side bulges', () => {
    const radius = 200;
    const cap = (x: number, y: number) => Math.sqrt(radius * radius - x * x - y * y);
    const { metric, positions, middle } = grid(21, 80, cap);
    const bend = computeBend(metric, positions, computeNormals(metric, positions));
    // Tolerance: the mean over neighbours and the coarse mesh of 4 mm cells.
    expect(bend[middle]).toBeGreaterThan(0.97 / radius);
    expect(bend[middle]).toBeLessThan(1.03 / radius);
    const bowl = grid(21, 80, (x, y) => -cap(x, y));
    const hollow = computeBend(
      bowl.metric,
      bowl.positions,
      computeNormals(bowl.metric, bowl.positions),
    );
    expect(hollow[middle]).toBeCloseTo(-bend[middle], 6);
  });

  it('find no bend on a tilted plane and on a saddle’s middle', () => {
    for (const height of [
      (x: number, y: number) => 0.4 * x - 0.3 * y,
      (x: number, y: number) => (x * x - y * y) / 300,
    ]) {
      const { metric, positions, middle } = grid(21, 80, height);
      const bend = computeBend(metric, positions, computeNormals(metric, positions));
      expect(Math.abs(bend[middle])).toBeLessThan(2e-5);
    }
  });

  it('find the strain of a sheet that was stretched evenly', () => {
    const { metric, positions } = grid(9, 80, () => 0);
    const strain = computeStrain(
      metric,
      positions.map((x) => 1.05 * x),
    );
    for (const value of strain) expect(value).toBeCloseTo(0.05, 6);
  });
});

describe('the section', () => {
  it('of a cone is two straight flanks at its slope, at every angle', () => {
    const cone = (x: number, y: number) => 50 - 0.5 * Math.hypot(x, y);
    const { metric, positions } = grid(41, 100, cone);
    for (const angle of [0, 0.7, 1.3, 2.9]) {
      const cut = cutSection(metric, positions, angle, Number.POSITIVE_INFINITY);
      const base = 50 - 0.5 * Math.hypot(50, 50);
      for (let k = 0; k < cut.profile.length; k += 2) {
        const expected = cone(cut.profile[k], 0) - base;
        // Chords of the 2.5 mm mesh lie below the cone by at most this.
        expect(Math.abs(cut.profile[k + 1] - expected)).toBeLessThan(0.7);
      }
      expect(cut.alongMaxMm).toBeGreaterThan(49.9);
      expect(cut.alongMinMm).toBeLessThan(-49.9);
    }
  });

  it('leaves out what is not knitted yet', () => {
    const { metric, positions } = grid(11, 100, () => 0);
    const all = cutSection(metric, positions, Math.PI / 2, 121);
    const half = cutSection(metric, positions, Math.PI / 2, 66);
    expect(all.alongMaxMm - all.alongMinMm).toBeCloseTo(100, 6);
    expect(half.alongMaxMm - half.alongMinMm).toBeCloseTo(50, 6);
  });
});

describe('the shadow', () => {
  it('is dark under a sheet on the table and fades as the sheet rises', () => {
    const low = grid(21, 100, () => 0);
    const high = grid(21, 100, () => 60);
    const under = (sheet: typeof low) => {
      const shadow = castShadow(
        sheet.positions,
        sheet.metric.triangles,
        0,
        Number.POSITIVE_INFINITY,
      );
      return shadow.darkness[(shadow.size / 2) * shadow.size + shadow.size / 2];
    };
    expect(under(low)).toBeGreaterThan(180);
    expect(under(high)).toBeLessThan(under(low));
    expect(under(high)).toBeGreaterThan(60);
  });

  it('is dark inside a cup, however high, and light under what stands open all round', () => {
    const under = (height: (x: number, y: number) => number) => {
      const { metric, positions } = grid(41, 200, height);
      const { darkness, size } = castShadow(
        positions,
        metric.triangles,
        0,
        Number.POSITIVE_INFINITY,
      );
      return darkness[(size / 2) * size + size / 2];
    };
    const cup = (x: number, y: number) => 60 * (1 - Math.max(Math.abs(x), Math.abs(y)) / 100);
    expect(under(cup)).toBeGreaterThan(200);
    expect(under(() => 60)).toBeLessThan(150);
  });

  it('leaves the table’s far edge light', () => {
    const { metric, positions } = grid(21, 100, () => 0);
    const { darkness } = castShadow(positions, metric.triangles, 0, Number.POSITIVE_INFINITY);
    expect(darkness[0]).toBe(0);
  });
});
