/** `k2`, `k 2`, `knit 2`, `p1`: a plain stitch with its number, among tokens. */
import type { TokenCursor } from './token-cursor.ts';

export function readStitchNumber(c: TokenCursor, letter: 'k' | 'p'): number | null {
  return c.attempt(() => {
    const w = c.word();
    const tight = /^([kp])(\d{1,3})$/.exec(w);
    if (tight) {
      if (tight[1] !== letter) return null;
      c.i++;
      c.phrase('tbl');
      return Number(tight[2]);
    }
    if (w !== letter && w !== (letter === 'k' ? 'knit' : 'purl')) return null;
    c.i++;
    const n = c.number();
    return n !== null && Number.isInteger(n) ? n : null;
  });
}
