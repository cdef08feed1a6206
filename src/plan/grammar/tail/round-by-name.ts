/**
 * A round as a sentence names it: "round 3", "the plain one", "a RS row", "point 4", "the first of these". In: a cursor at
 * the words. Out: the round; null and the cursor unmoved otherwise.
 */
import { DECREASE_WORDS, INCREASE_WORDS } from '../../lexicon/words.ts';
import type { EndRound } from '../ast.ts';
import { eatStitch, isUnit, unit } from '../phrases.ts';
import { itemRef } from '../round-refs.ts';
import { says } from '../rules.ts';
import type { TokenCursor } from '../token-cursor.ts';

/** `a RS row`, `round 3`, `the plain round`, `the first of these` */
export function roundByName(c: TokenCursor): EndRound | null {
  return c.attempt<EndRound>(() => {
    says(c, 'a|an|the|your|another|this|that|one|single|complete|following|next*');
    const items = itemRef(c);
    if (items) return items.length === 1 ? { item: items[0] } : null;
    if (unit(c)) {
      const letter = /^[a-h]$/.exec(c.word());
      if (letter) {
        c.i++;
        return { letter: letter[0] };
      }
      const n = c.number();
      return n === null ? null : { number: n };
    }
    if (c.word() === 'r' && c.isNumber(1)) {
      c.i++;
      return { number: c.number() ?? 0 };
    }
    const nth = c.ordinal();
    if (nth !== null) {
      if (unit(c)) return { number: nth };
      if (!c.phrase('of the|these')) return null;
      c.number();
      unit(c);
      return { nth };
    }
    // "a s2kp row"
    if (c.takes(() => (eatStitch(c)?.name.length ?? 0) > 1 && unit(c) !== null))
      return { like: 'shaped' };
    const article = /^(?:an?|the)$/.test(c.word(-1));
    const like = likeOf(c);
    if (!like) return null;
    c.i++;
    c.eatMark('-');
    c.phrase('side');
    // "a plain knit round"
    if (like === 'plain') c.phrase('knit|knitted|purl|purled');
    // "the plain one"
    const one = article && c.here() === '1' && !isUnit(c, 1) && c.word(1) !== 'more';
    if (one) c.i++;
    // "ending with the purl"
    const bare = article && /^(?:knit|purl|plain|shaped)$/.test(like) && (c.done || c.mark('.,;)'));
    return one || bare || (unit(c) && !/s$/.test(c.word(-1))) ? { like } : null;
  });
}

export function likeOf(c: TokenCursor): Extract<EndRound, { like: unknown }>['like'] | null {
  const w = c.word();
  if (/^(?:knit|knitted|k)$/.test(w)) return 'knit';
  if (/^(?:purl|purled|p)$/.test(w)) return 'purl';
  if (/^(?:rs|right)$/.test(w)) return 'RS';
  if (/^(?:ws|wrong)$/.test(w)) return 'WS';
  if (w === 'plain' || w === 'even' || w === 'odd') return w;
  return c.isWord(DECREASE_WORDS) || c.isWord(INCREASE_WORDS) || w === 'shaping' ? 'shaped' : null;
}
