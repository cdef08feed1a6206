/**
 * Things that cannot be followed, known by name: picked-up stitches, a second piece. In: a cursor where such
 * a sentence may begin. Out: what is said of it, null where it is something else.
 */
import { LEADS } from '../lexicon/words.ts';
import type { Refused } from './ast.ts';
import { says } from './rules.ts';
import type { TokenCursor } from './token-cursor.ts';

export const SECOND_PIECE: Refused = {
  code: 'second-piece',
  message: 'a second piece begins here, and only one can be followed',
  hint: 'Make a plan of its own for every piece.',
};

const NEXT_PIECE =
  'sts|stitches|for|from|the|your|a|its* next|second|neighbouring|neighboring|adjoining|following square|block|patch|piece|motif|tile|hexagon|hexie|one';

/** Nothing of it is worked otherwise. */
function sameAgain(c: TokenCursor): boolean {
  for (let n = 0; n < 30 && !c.done && !c.mark('.!'); n++, c.i++)
    if (
      c.isNumber() ||
      /^(?:but|except|until|with|without|instead|cast|dec\w*|inc\w*|knit|purl)$/.test(c.word())
    )
      return false;
  return true;
}

/** Rounds are told behind the sentence. */
function worksBehind({ tokens, i }: TokenCursor): boolean {
  const end = tokens.findIndex((t, k) => k > i && '.!'.includes(t.text));
  return tokens
    .slice(end < 0 ? tokens.length : end)
    .some(({ text }) =>
      /^(?:round|rnd|row|rounds|rnds|rows|cast|co|[kp]\d+|ssk|k2tog)$/.test(text),
    );
}

export function readRefused(c: TokenCursor, ended: boolean): Refused | null {
  const again = c.attempt(() => {
    if (!ended || !c.phrase('work|knit|make|repeat')) return null;
    // "Make as many as you wish" asks for more of the same.
    if (c.phrase('as many')) return null;
    // "Make a second square for the back": the same again
    if (
      says(c, 'a|another|1|one second? square|piece|one|block|patch|panel|tile') &&
      (sameAgain(c) || !worksBehind(c))
    )
      return null;
    c.phrase('the|a|exactly');
    c.phrase('same|another|second');
    return c.phrase('as|like') || c.phrase('piece|square|side|front|back') ? SECOND_PIECE : null;
  });
  if (again) return again;
  return c.attempt(() => {
    c.eatMark('(');
    c.skip(LEADS);
    for (let n = 0; n < 12 && !c.done && !c.mark('.;(*['); n++) {
      if (c.phrase('pick|picking up')) {
        // "pick up your next square from here", "… sts for the next square": that is another piece's
        if (says(c, NEXT_PIECE)) return null;
        c.phrase('and knit|purl');
        if (!c.isNumber() && !c.phrase('sts|stitches|st|all')) return null;
        return {
          code: 'picked-up-stitches',
          message:
            'stitches picked up along an edge begin a second piece of fabric, which cannot be followed',
          hint: 'Make a plan of its own of what is knitted on.',
        };
      }
      if (
        /^(?:round|rnd|row|rounds|rnds|rows|knit|purl|k|p|work|repeat|rep)$/.test(c.word()) ||
        /^[kp]\d/.test(c.word())
      )
        return null;
      c.i++;
    }
    if (ended) return null;
    return null;
  });
}
