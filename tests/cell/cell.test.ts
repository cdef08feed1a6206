/** Periodic cells: symmetries, invariances, honesty about convergence, and impossible input. */
import { describe, expect, it, vi } from 'vitest';
import { JAMMED_LOOP } from '../../src/cell/cell-limits.ts';
import { type FaceGrid, startLoops } from '../../src/cell/loop-start.ts';
import { CELL_FACES, type CellFabric, cellLinks, relaxCell } from '../../src/cell/relax-cell.ts';
import { buildRodSystem } from '../../src/rod/rod-system.ts';
import { whole } from '../runs.ts';

// Each relaxation takes a second or so, more on a busy machine.
vi.setConfig({ testTimeout: 120_000, hookTimeout: 120_000 });

const FABRICS = Object.keys(CELL_FACES) as CellFabric[];

describe('a relaxed cell', () => {
  it('of purl is the mirror image of knit: same size, opposite links', () => {
    const knit = relaxCell({ stitch: 'stockinette', loopMm: 18, yarnMm: 1 });
    const purl = relaxCell({ stitch: 'reverse', loopMm: 18, yarnMm: 1 });
    expect(purl.stitchMm).toBeCloseTo(knit.stitchMm, 6);
    expect(purl.roundMm).toBeCloseTo(knit.roundMm, 6);
    for (let i = 2; i < knit.shape.points.length; i += 3) {
      expect(purl.shape.points[i]).toBeCloseTo(-knit.shape.points[i], 6);
    }
  });

  it('of garter is the same upside down and from the other side', () => {
    const up = relaxCell({ stitch: [[1], [-1]], loopMm: 17, yarnMm: 1 });
    const down = relaxCell({ stitch: [[-1], [1]], loopMm: 17, yarnMm: 1 });
    expect(down.stitchMm / up.stitchMm).toBeCloseTo(1, 2);
    expect(down.roundMm / up.roundMm).toBeCloseTo(1, 1);
  });

  it('scales with the yarn: twice the lengths, twice the fabric', () => {
    const small = relaxCell({ stitch: 'stockinette', loopMm: 17, yarnMm: 1 });
    const large = relaxCell({ stitch: 'stockinette', loopMm: 34, yarnMm: 2 });
    expect(large.stitchMm).toBeCloseTo(2 * small.stitchMm, 9);
    expect(large.kc).toBeCloseTo(small.kc, 9);
  });

  it('does not depend on how many stitches the repeat holds', () => {
    const one = relaxCell({ stitch: [[1]], loopMm: 17, yarnMm: 1 });
    const four: FaceGrid = [
      [1, 1],
      [1, 1],
    ];
    const many = relaxCell({ stitch: four, loopMm: 17, yarnMm: 1 });
    expect(many.relaxation.converged).toBe(true);
    expect(many.stitchMm / one.stitchMm).toBeCloseTo(1, 2);
    expect(many.roundMm / one.roundMm).toBeCloseTo(1, 2);
  });

  it('changes little when the yarn is cut finer', () => {
    const coarse = relaxCell({ stitch: 'stockinette', loopMm: 18, yarnMm: 1, segments: 48 });
    const fine = relaxCell({ stitch: 'stockinette', loopMm: 18, yarnMm: 1, segments: 72 });
    expect(Math.abs(fine.kc / coarse.kc - 1)).toBeLessThan(0.02);
    expect(Math.abs(fine.kw / coarse.kw - 1)).toBeLessThan(0.02);
  });

  it.each(FABRICS)(
    'of %s keeps every loop drawn through the loop below as the graph says',
    (stitch) => {
      const faces = CELL_FACES[stitch];
      const start = startLoops(faces, 18, 24);
      const { system, positions } = buildRodSystem(start.strands);
      const links = cellLinks(
        system,
        positions,
        Float64Array.from([start.width, start.height]),
        faces,
        24,
      );
      const wales = faces[0].length;
      links.forEach((link, k) => {
        // Link k joins row ⌊k/wales⌋ with the one above, whose face decides the side it comes from.
        const face = faces[(Math.floor(k / wales) + 1) % faces.length][k % wales];
        expect(link.first).toBe(-face);
        expect(link.second).toBe(face);
      });
      const cell = relaxCell({ stitch, loopMm: 18, yarnMm: 1, segments: 24 });
      expect(cell.relaxation.linksKept).toBe(true);
      expect(cell.relaxation.closestDiameters).toBeGreaterThan(0.7);
    },
  );

  it.each(whole ? (['stockinette', 'garter', 'seed'] as const) : (['garter'] as const))(
    'of %s comes to the same rest from other starts',
    (stitch) => {
      const plain = relaxCell({ stitch, loopMm: 18, yarnMm: 1 });
      for (const start of [
        { height: 0.8, depth: 1.3 },
        { height: 1.2, depth: 0.7 },
      ]) {
        const other = relaxCell({ stitch, loopMm: 18, yarnMm: 1, start });
        expect(Math.abs(other.stitchMm / plain.stitchMm - 1)).toBeLessThan(0.01);
        expect(Math.abs(other.roundMm / plain.roundMm - 1)).toBeLessThan(0.01);
      }
    },
  );

  it('keeps the yarn length it was given', () => {
    const cell = relaxCell({ stitch: 'garter', loopMm: 17, yarnMm: 1 });
    const { points, pointsPerRow, rows, periodMm } = cell.shape;
    let length = 0;
    for (let row = 0; row < rows; row++) {
      for (let k = 0; k < pointsPerRow; k++) {
        const a = 3 * (row * pointsPerRow + k);
        const last = k === pointsPerRow - 1;
        const b = last ? 3 * row * pointsPerRow : a + 3;
        length += Math.hypot(
          points[b] - points[a] + (last ? periodMm[0] : 0),
          points[b + 1] - points[a + 1],
          points[b + 2] - points[a + 2],
        );
      }
    }
    expect(Math.abs(length / (17 * rows) - 1)).toBeLessThan(0.005);
  });

  it('says so when it was stopped before it came to rest', () => {
    const cell = relaxCell({
      stitch: 'rib 2x2',
      loopMm: 18,
      yarnMm: 1,
      segments: 24,
      maxIterations: 50,
    });
    expect(cell.relaxation.converged).toBe(false);
    expect(cell.relaxation.reason).toBe('iteration-limit');
  });

  it('stops when asked to', () => {
    let calls = 0;
    const cell = relaxCell({
      stitch: 'seed',
      loopMm: 18,
      yarnMm: 1,
      segments: 24,
      onProgress: () => ++calls > 5,
    });
    expect(cell.relaxation.reason).toBe('cancelled');
    expect(cell.relaxation.converged).toBe(false);
  });
});

describe('impossible yarn', () => {
  it.each([
    [0, 1, /loop length/],
    [Number.NaN, 1, /loop length/],
    [-3, 1, /loop length/],
    [17, 0, /thickness/],
    [17, Number.NaN, /thickness/],
    [17, Number.POSITIVE_INFINITY, /thickness/],
    [13, 1, /jammed/],
    [500, 1, /too loose/],
  ])(
    'of %f mm a loop and %f mm thickness is refused with the limits',
    (loopMm, yarnMm, message) => {
      expect(() => relaxCell({ stitch: 'stockinette', loopMm, yarnMm })).toThrow(message);
    },
  );

  it('is told how thick or how long it could be', () => {
    expect(() => relaxCell({ stitch: 'stockinette', loopMm: 21, yarnMm: 2.5 })).toThrow(
      new RegExp(`${(21 / JAMMED_LOOP).toFixed(2)} mm.*${(JAMMED_LOOP * 2.5).toFixed(1)} mm`),
    );
  });

  it('in a ragged or empty repeat is refused', () => {
    expect(() => relaxCell({ stitch: [], loopMm: 17, yarnMm: 1 })).toThrow(/repeat/);
    expect(() => relaxCell({ stitch: [[1, -1], [1]], loopMm: 17, yarnMm: 1 })).toThrow(
      /same number/,
    );
    expect(() =>
      relaxCell({
        stitch: Array.from({ length: 30 }, () => new Array(30).fill(1)),
        loopMm: 17,
        yarnMm: 1,
      }),
    ).toThrow(/too large/);
  });
});
