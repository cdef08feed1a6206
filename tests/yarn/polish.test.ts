/** Polishing: laid yarn comes to rest without passing through itself, and stays where its sheet is. */
import { describe, expect, it, vi } from 'vitest';
import { layYarn } from '../../src/yarn/lay-yarn.ts';
import { polishYarn } from '../../src/yarn/polish-yarn.ts';
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

describe('polishing a whole piece', () => {
  const polished = polishYarn(laid, piece.graph, { maxIterations: 400 });

  it('parts yarns that overlapped, to within a tenth of their thickness', () => {
    expect(laid.check.minCentreDistanceMm).toBeLessThan(0.5 * diameter);
    expect(polished.curves.check.minCentreDistanceMm).toBeGreaterThan(0.9 * diameter);
  });

  it('passes no yarn through yarn', () => {
    expect(polished.relaxation.linksKept).toBe(true);
  });

  it('keeps the length of the yarn within one percent', () => {
    expect(Math.abs(polished.curves.lengthMm / laid.lengthMm - 1)).toBeLessThan(0.01);
  });

  it('leaves the piece on its sheet', () => {
    for (let i = 0; i < laid.points.length; i++) {
      expect(Math.abs(polished.curves.points[i] - laid.points[i])).toBeLessThan(3 * diameter);
    }
  });
});

describe('polishing a region', () => {
  it('moves nothing far from it', () => {
    const free = new Uint8Array(piece.graph.loops);
    for (let i = 0; i < piece.graph.loops; i++) {
      if (piece.graph.course[i] >= 5 && piece.graph.position[i] < 3) free[i] = 1;
    }
    const { curves, relaxation } = polishYarn(laid, piece.graph, { free, maxIterations: 100 });
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
    expect(() => polishYarn(laid, piece.graph, { free })).toThrow(/no yarn/);
    expect(() => polishYarn(laid, piece.graph, { free: new Uint8Array(3) })).toThrow(/3 entries/);
  });

  it('stops when asked to and says so', () => {
    const { relaxation } = polishYarn(laid, piece.graph, { onProgress: (_r, k) => k >= 3 });
    expect(relaxation.reason).toBe('cancelled');
    expect(relaxation.converged).toBe(false);
  });
});
