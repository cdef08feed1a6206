import { unzipSync } from 'fflate';
import { describe, expect, it } from 'vitest';
import { loopAngle, zipPictures } from '../../src/app/files/film.ts';

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

  it('as pictures is one zip of them all, numbered in their order', async () => {
    const pictures = Array.from({ length: 12 }, (_, k) => new Blob([Uint8Array.of(137, 80, k)]));
    const zip = await zipPictures(pictures, 'creek-square');
    const files = unzipSync(new Uint8Array(await zip.arrayBuffer()));
    const names = Object.keys(files).sort();
    expect(names[0]).toBe('creek-square-0001.png');
    expect(names.map((name) => files[name][2])).toEqual(pictures.map((_, k) => k));
  });
});
