/**
 * Rounds told as another: "the same as R1", "like round 1", "= 2nd". In: a cursor behind a label. Out: true where one is
 * named here; the cursor stays.
 */
import { STITCH_WORDS } from '../../../lexicon/words.ts';
import { isUnit } from '../../phrases.ts';
import { says } from '../../rules.ts';
import type { TokenCursor } from '../../token-cursor.ts';

/** "as 3-4", "= 3-4", "rep 3 and 4" behind numbers that may be rounds'. */
export function likeNumbers(c: TokenCursor): boolean {
  return c.ahead(() => {
    const like =
      says(c, 'is|are|the|exactly|just|worked* same? as|like|=') ?? says(c, 'rep|repeat');
    return like !== null && c.isNumber() && !c.isWord(STITCH_WORDS, 1);
  });
}

export function likeAnother(c: TokenCursor): boolean {
  return c.ahead(() => {
    c.eatMark('(');
    if (!says(c, 'is|are|the|exactly|just|worked|knitted* same? as|like|=')) return false;
    says(c, 'for|in|on|the*');
    return isUnit(c) || c.word() === 'r' || c.peek()?.kind === 'ordinal';
  });
}
