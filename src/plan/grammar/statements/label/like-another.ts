/**
 * Rounds told as another: "the same as R1", "like round 1", "= 2nd". In: a cursor behind a label. Out: true where one is
 * named here; the cursor stays.
 */
import { isUnit } from '../../phrases.ts';
import { says } from '../../rules.ts';
import type { TokenCursor } from '../../token-cursor.ts';

export function likeAnother(c: TokenCursor): boolean {
  const { i } = c;
  c.eatMark('(');
  const like = says(c, 'is|are|the|exactly|just|worked|knitted* same? as|like|=') !== null;
  if (like) says(c, 'for|in|on|the*');
  const found = like && (isUnit(c) || c.word() === 'r' || c.peek()?.kind === 'ordinal');
  c.i = i;
  return found;
}
