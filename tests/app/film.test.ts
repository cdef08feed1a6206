import { describe, expect, it } from 'vitest';
import { loopAngle } from '../../src/app/files/film.ts';

describe('a film', () => {
  it('ends where it begins, whichever way it goes, and never jumps', () => {
    for (const way of ['round', 'swing'] as const) {
      const turn = 2 * Math.PI;
      const left = Math.abs(loopAngle(way, 1) - loopAngle(way, 0)) % turn;
      expect(Math.min(left, turn - left)).toBeCloseTo(0, 9);
      for (let k = 0; k < 100; k++) {
        expect(Math.abs(loopAngle(way, (k + 1) / 100) - loopAngle(way, k / 100))).toBeLessThan(
          0.07,
        );
      }
    }
  });
});
