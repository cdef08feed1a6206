/** The one extra stitch of a seam is a column with the stitch across it, and shows the face that that one shows. */
import { expect, it } from 'vitest';
import { withSeam } from '../../src/draft/motif/seam-rows.ts';

it('a seam stitch is knitted or purled as the stitch across is, shaped or not', () => {
  const faces = [
    ['k', 'k'],
    ['p', 'p'],
    ['k2tog', 'k'],
    ['s2kp', 'k'],
    ['p2tog', 'p'],
    ['ssp', 'p'],
    ['p2tog tbl', 'p'],
  ] as const;
  for (const [across, face] of faces) {
    expect(withSeam(['k', 'k', across], { begin: 1, end: 0 })[0]).toBe(face);
    expect(withSeam([across, 'k', 'k'], { begin: 0, end: 1 }).at(-1)).toBe(face);
  }
});

it('two seam stitches, which vanish behind the fabric, are knitted on the right side', () => {
  expect(withSeam(['p', 'p2tog', 'p'], { begin: 1, end: 1 })).toEqual([
    'k',
    'p',
    'p2tog',
    'p',
    'k',
  ]);
});
