/**
 * Rounds between marks of the text: "repeat from * to *", "the part between **". In: a cursor at the words. Out: which marks,
 * by how many asterisks they are; null where none are named here.
 */
import { PASSAGE } from '../lex/passage-marks.ts';
import type { RoundsRef } from './ast.ts';
import type { TokenCursor } from './token-cursor.ts';

/** "from § to §", "the part between § and §", "from §" */
export function betweenMarks(c: TokenCursor): RoundsRef | null {
  return c.attempt<RoundsRef>(() => {
    c.anyPhrase(['the? part|section|rounds|rnds|rows|bit|instructions']);
    // "rep * to *"
    const bare = /^(?:rep|repeat)$/.test(c.word(-1)) && c.mark(PASSAGE) !== false;
    if (!bare && !c.phrase('from|between the?')) return null;
    const level = marks(c);
    if (level === 0 || (bare && !(c.mark('-') || /^(?:to|until|till)$/.test(c.word()))))
      return null;
    // "between *s"
    c.phrase('s');
    c.attempt(() => {
      if (c.eatMark('-') === null && !c.phrase('to|and|until|till the? next|second?')) return null;
      return marks(c) === level || null;
    });
    return { kind: 'passage', level };
  });
}

function marks(c: TokenCursor): number {
  let n = 0;
  while (c.mark(PASSAGE)) {
    c.i++;
    n++;
  }
  return n;
}
