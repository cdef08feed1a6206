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
  const { i } = c;
  const like = says(c, 'is|are|the|exactly|just|worked* same? as|like|=') ?? says(c, 'rep|repeat');
  const found = like !== null && c.isNumber() && !c.isWord(STITCH_WORDS, 1);
  c.i = i;
  return found;
}

export function likeAnother(c: TokenCursor): boolean {
  const { i } = c;
  c.eatMark('(');
  const like = says(c, 'is|are|the|exactly|just|worked|knitted* same? as|like|=') !== null;
  if (like) says(c, 'for|in|on|the*');
  const found = like && (isUnit(c) || c.word() === 'r' || c.peek()?.kind === 'ordinal');
  c.i = i;
  return found;
}
