import { describe, expect, it } from 'vitest';
import { stretch } from '../../src/relax/energy/springs.ts';
import { relaxSheet } from '../../src/relax/relax-sheet.ts';
import { alignSheet, riseAlong, sheetAxis } from '../../src/relax/starts/alignment.ts';
import { crestElevation, meridianOf } from '../../src/relax/starts/meridian.ts';
import { startShapes } from '../../src/relax/starts/starts.ts';
import {
  coneMetric,
  polygonMetric,
  profileMetric,
  swatchMetric,
  tubeMetric,
} from './metric-fixtures.ts';
import { areaVector } from './sheet-measures.ts';

const degrees = Math.PI / 180;
const square = (coneAngleDeg: number, sides = 4) =>
  polygonMetric({
    apothemMm: 60,
    rings: 16,
    around: 20 * sides,
    sides,
    coneAngleRad: coneAngleDeg * degrees,
    holeMm: 12,
  });

/** Root mean square strain of the springs. */
function strain(metric: ReturnType<typeof square>, x: Float64Array): number {
  let sum = 0;
  metric.restMm.forEach((rest, s) => {
    const [i, j] = [3 * metric.springs[2 * s], 3 * metric.springs[2 * s + 1]];
    sum += (Math.hypot(x[i] - x[j], x[i + 1] - x[j + 1], x[i + 2] - x[j + 2]) / rest - 1) ** 2;
  });
  return Math.sqrt(sum / metric.restMm.length);
}

describe('starting shapes', { timeout: 60_000 }, () => {
  it.each([
    ['a cone', coneMetric({ radiusMm: 60, stitchMm: 4, roundMm: 4, deficitRad: 1 })],
    ['a square cup', square(300)],
    ['a triangle cup', square(280, 3)],
    ['a hexagon cup', square(320, 6)],
    ['a flat square', square(360)],
    ['a tube', tubeMetric({ stitches: 40, rows: 10, stitchMm: 4, roundMm: 3 })],
    ['a swatch', swatchMetric({ stitches: 10, rows: 10, stitchMm: 4, roundMm: 3 })],
  ])('hardly strain %s, which bends without stretching', (_, metric) => {
    const [start] = startShapes(metric);
    expect(strain(metric, start.positions)).toBeLessThan(0.01);
  });

  it('strain a slightly ruffled square by no more than a few percent', () => {
    for (const start of startShapes(square(400))) {
      expect(start.name).toBe('saddle');
      expect(strain(square(400), start.positions)).toBeLessThan(0.08);
    }
  });

  it('are what the ring profile allows', () => {
    const names = (metric: ReturnType<typeof square>) => startShapes(metric).map((s) => s.name);
    expect(names(square(360))).toEqual(['flat']);
    expect(names(square(356))).toEqual(['flat', 'cone']);
    expect(names(square(364))).toEqual(['flat', 'saddle', 'saddle']);
    expect(names(square(300))).toEqual(['cone']);
    expect(names(square(420))).toEqual(['saddle', 'saddle']);
    const band = { stitches: 40, rows: 5, stitchMm: 4, roundMm: 3 };
    expect(names(tubeMetric(band))).toEqual(['tube']);
    expect(names(tubeMetric({ ...band, halfTurns: 1 }))).toEqual(['moebius']);
  });

  it('are one wave of an octagon, which an eighth of a turn takes to its other', () => {
    const octagon = square(420, 8);
    const [wave, ...others] = startShapes(octagon);
    expect([wave.name, others.length]).toEqual(['saddle', 0]);
    // A side further on it is as high at the crests as it was at the nodes, with the other wave's sign.
    const rim = 160;
    const height = (k: number) => wave.positions[3 * (k % rim) + 2];
    const heights = Array.from({ length: rim }, (_, k) => height(k));
    const turned = Array.from({ length: rim }, (_, k) => height(k + 20));
    const along = (a: number[], b: number[]) => a.reduce((sum, z, k) => sum + z * b[k], 0);
    const most = along(heights, heights);
    expect(Math.abs(along(heights, turned)) / most).toBeLessThan(0.01);
    expect(
      along(
        heights,
        Array.from({ length: rim }, (_, k) => height(k + 40)),
      ),
    ).toBeCloseTo(-most, -1);
  });

  it('face the right side up, cups with their middle up', () => {
    for (const metric of [square(300), square(420), square(360)]) {
      for (const { positions } of startShapes(metric)) {
        expect(areaVector(metric, positions)[2]).toBeGreaterThan(0);
      }
    }
    const cup = startShapes(square(300))[0].positions;
    expect(cup[cup.length - 1]).toBeGreaterThan(cup[2]);
  });

  it('lay a fan of growing rows flat', () => {
    const swatch = swatchMetric({ stitches: 20, rows: 10, stitchMm: 4, roundMm: 3 });
    const width = swatch.ring.sampleDepthMm.map((d) => 76 + 2 * d);
    const fan = { ...swatch, ring: { ...swatch.ring, samplePerimeterMm: width } };
    const starts = startShapes(fan);
    expect(starts.map((s) => s.name)).toEqual(['flat', 'flat']);
    // Rows of a fan of 2 rad: neighbours on the last row are 2 rad · 65 mm / 19 apart.
    const x = starts[1].positions;
    const last = 3 * (fan.vertices - 1);
    const gap = Math.hypot(x[last] - x[last - 3], x[last + 1] - x[last - 2]);
    expect(gap).toBeCloseTo(width[9] / 19, 1);
  });

  it('give the crest that small surplus has in closed form, and never more than a right angle', () => {
    for (const surplus of [1e-4, 1e-3, 0.01]) {
      // The next term of the series is about half the surplus.
      const ratio = crestElevation(surplus) / Math.sqrt((4 * surplus) / 3);
      expect(Math.abs(ratio - 1)).toBeLessThan(1e-4 + 0.6 * surplus);
    }
    expect(crestElevation(50)).toBe(Math.PI / 2);
  });

  it('follow rings that first cup and then ruffle', () => {
    // From the rim in: 500° for 40 mm, then 250° for 60 mm.
    const perimeterMm = Array.from({ length: 26 }, (_, j) => {
      const out = 104 - 4 * j;
      return degrees * (250 * Math.min(out, 64) + 500 * Math.max(0, out - 64));
    });
    const metric = profileMetric({ perimeterMm, around: 100, roundMm: 4 });
    const meridian = meridianOf(metric.ring);
    expect(meridian.waveRad[10]).toBe(0);
    expect(meridian.waveRad[25]).toBeGreaterThan(0.2);
    const [start] = startShapes(metric);
    expect(start.name).toBe('saddle');
    const { relaxation, positions } = relaxSheet(metric);
    expect(relaxation.converged).toBe(true);
    // Nearly isometric: the relaxed rings keep their lengths.
    expect(strain(metric, positions)).toBeLessThan(0.03);
    // A bare surface of revolution, without the wave, is far worse.
    const bare = startShapes({
      ...metric,
      ring: {
        ...metric.ring,
        samplePerimeterMm: metric.ring.samplePerimeterMm.map((p) => p * 0.8),
      },
    })[0].positions;
    const scratch = new Float64Array(bare.length);
    expect(relaxation.stretchEnergy).toBeLessThan(0.1 * stretch(metric, bare, scratch));
  });
});

describe('alignment', () => {
  it('is a rigid motion, and the identity on an aligned sheet', () => {
    const metric = square(420);
    const x = startShapes(metric)[0].positions.slice();
    alignSheet(metric, x);
    const again = x.slice();
    alignSheet(metric, again);
    again.forEach((p, k) => {
      expect(p).toBeCloseTo(x[k], 9);
    });
    // Turned by half about an axis in the plane: comes back upside up.
    const turned = x.map((p, k) => (k % 3 === 0 ? p : -p));
    alignSheet(metric, turned);
    expect(areaVector(metric, turned)[2]).toBeGreaterThan(0);
  });

  it('stands a tube on its axis, cast-on side down or up but upright', () => {
    const metric = tubeMetric({ stitches: 40, rows: 20, stitchMm: 4, roundMm: 3 });
    const x = startShapes(metric)[0].positions.slice();
    const lying = x.map((_, k) => x[k - (k % 3) + ((k + 1) % 3)]);
    const axis = new Float64Array(3);
    sheetAxis(metric, lying, axis);
    expect(riseAlong(lying, axis)).toBeCloseTo(57, 6);
    alignSheet(metric, lying);
    expect(riseAlong(lying, Float64Array.of(0, 0, 1))).toBeCloseTo(57, 6);
  });
});
