/** Polishing: laid yarn comes to rest without passing through itself, and stays where its sheet is. */
import { describe, expect, it, vi } from 'vitest';
import { knit } from '../../src/knit.ts';
import { layYarn } from '../../src/yarn/lay/lay-yarn.ts';
import { REST_FORCE, relaxYarn } from '../../src/yarn/rest/relax-yarn.ts';
import { smallPiece } from './small-piece.ts';

// Each relaxation takes a second or so, more on a busy machine.
vi.setConfig({ testTimeout: 120_000, hookTimeout: 120_000 });

const piece = smallPiece({
  castOn: 10,
  rounds: ['k*10', 'p*10', 'k*3,2/2 LC,k*3', 'p*10', 'k*3,k2tog,k*5', 'p*9'],
  worked: 'flat',
});
const laid = layYarn(piece.graph, piece.cells, piece.positions);
const diameter = 2 * laid.radiusMm;

describe('relaxing a whole piece', () => {
  const relaxed = relaxYarn(laid, piece.graph, { maxIterations: 400 });

  it('parts yarns that overlapped, to within a tenth of their thickness', () => {
    expect(laid.check.minCentreDistanceMm).toBeLessThan(0.5 * diameter);
    expect(relaxed.curves.check.minCentreDistanceMm).toBeGreaterThan(0.9 * diameter);
  });

  it('passes no yarn through yarn', () => {
    expect(relaxed.relaxation.linksKept).toBe(true);
    expect(relaxed.curves.check.linksWrong).toBe(laid.check.linksWrong);
  });

  it('keeps the length of the yarn within one percent', () => {
    expect(Math.abs(relaxed.curves.lengthMm / laid.lengthMm - 1)).toBeLessThan(0.01);
  });

  it('leaves the piece on its sheet', () => {
    for (let i = 0; i < laid.points.length; i++) {
      expect(Math.abs(relaxed.curves.points[i] - laid.points[i])).toBeLessThan(3 * diameter);
    }
  });
});

describe('relaxing twelve by twelve stitches', () => {
  const patch = smallPiece({
    castOn: 12,
    rounds: Array.from({ length: 11 }, (_, r) => `${r % 2 ? 'p' : 'k'}*12`),
    worked: 'flat',
  });
  const start = layYarn(patch.graph, patch.cells, patch.positions);
  const stops = [REST_FORCE, REST_FORCE / 10].map((tolerance) =>
    relaxYarn(start, patch.graph, { tolerance }),
  );

  it('comes to rest, every loop drawn through its parents as before', () => {
    for (const { curves, relaxation } of stops) {
      expect(relaxation.converged).toBe(true);
      expect(relaxation.linksKept).toBe(true);
      expect(curves.check.linksWrong).toBe(start.check.linksWrong);
    }
  });

  it('stops where a stop a decade tighter moves no point by 1 % of the yarn’s thickness', () => {
    const [usual, tight] = stops.map(({ curves }) => curves.points);
    let most = 0;
    for (let i = 0; i < usual.length; i += 3) {
      const step = Math.hypot(...[0, 1, 2].map((c) => usual[i + c] - tight[i + c]));
      most = Math.max(most, step);
    }
    expect(most).toBeGreaterThan(0);
    expect(most).toBeLessThan(0.01 * 2 * start.radiusMm);
  });
});

describe('relaxing a region', () => {
  it('moves nothing far from it', () => {
    const free = new Uint8Array(piece.graph.loops);
    for (let i = 0; i < piece.graph.loops; i++) {
      if (piece.graph.course[i] >= 5 && piece.graph.position[i] < 3) free[i] = 1;
    }
    const { curves, relaxation } = relaxYarn(laid, piece.graph, { free, maxIterations: 100 });
    expect(relaxation.linksKept).toBe(true);
    let moved = 0;
    for (let i = 0; i < laid.points.length / 3; i++) {
      const step = Math.hypot(
        curves.points[3 * i] - laid.points[3 * i],
        curves.points[3 * i + 1] - laid.points[3 * i + 1],
      );
      const loop = laid.loop[i];
      if (loop >= 0 && free[loop]) moved = Math.max(moved, step);
      if (loop >= 0 && piece.graph.course[loop] < 2) expect(step).toBe(0);
    }
    expect(moved).toBeGreaterThan(0.05 * diameter);
  });

  it('of no loops at all is refused', () => {
    const free = new Uint8Array(piece.graph.loops);
    expect(() => relaxYarn(laid, piece.graph, { free })).toThrow(/no yarn/);
    expect(() => relaxYarn(laid, piece.graph, { free: new Uint8Array(3) })).toThrow(/3 entries/);
  });

  it('stops when asked to and says so', () => {
    const { relaxation } = relaxYarn(laid, piece.graph, { onProgress: (_r, k) => k >= 3 });
    expect(relaxation.reason).toBe('cancelled');
    expect(relaxation.converged).toBe(false);
  });
});

describe('relaxing a tube drawn up at its end', () => {
  it('comes to rest, twenty-four loops crowded on one thread', () => {
    const { knitted } = knit(
      'Gauge: 20 sts and 27 rounds to 10 cm\nCast on 24 sts and join in the round.\nKnit 3 rounds.\nDraw yarn through remaining sts.',
      { advise: false },
    );
    if (!knitted) throw new Error('the plan has errors');
    const start = layYarn(knitted.graph, knitted.cells, knitted.sheet.positions);
    const { curves, relaxation } = relaxYarn(start, knitted.graph);
    expect(relaxation.reason).toBe('converged');
    expect(curves.check.linksWrong).toBe(0);
    expect(curves.check.minCentreDistanceMm).toBeGreaterThan(0.9 * 2 * start.radiusMm);
  });
});
