/**
 * Colours of rounds: "with CC", "change to MC", "join colour B". In: a cursor at the words. Out: the colour
 * in one spelling (`MC`, `CC`, `CC2`, `colour B`), the cursor behind it; null otherwise.
 */
import type { TokenCursor } from './token-cursor.ts';

export function readColour(c: TokenCursor): string | null {
  return c.attempt(() => {
    const led =
      c.phrase(
        'with|using|in|change|join|switch|changing|joining|switching|attach|continue|drop',
      ) || c.phrase('break');
    if (led) c.phrase('to|in|with|back');
    if (led) c.phrase('to');
    c.phrase('the');
    const colour = colourName(c);
    if (!colour || !led) return null;
    return colour;
  });
}

export function colourName(c: TokenCursor): string | null {
  return c.attempt(() => {
    const w = c.word();
    if (/^(?:mc|cc\d?)$/.test(w)) {
      c.i++;
      return w.toUpperCase();
    }
    if (c.phrase('main colour|color')) return 'MC';
    if (c.phrase('contrast|contrasting colour|color')) {
      const letter = /^[a-d]$/.exec(c.word());
      if (letter) c.i++;
      return letter ? `CC ${letter[0].toUpperCase()}` : 'CC';
    }
    if (c.phrase('colour|color|yarn|shade')) {
      const letter = /^[a-f]$/.exec(c.word());
      const n = c.isNumber() ? c.number() : null;
      if (letter) c.i++;
      else if (n === null) return null;
      return `colour ${letter ? letter[0].toUpperCase() : n}`;
    }
    if (/^[bcd]$/.test(w) || (w === 'a' && c.mark('.,;:', 1))) {
      c.i++;
      return `colour ${w.toUpperCase()}`;
    }
    return null;
  });
}
