/**
 * The two rounds that go on in turn, by what they look like: "one holey round and one plain one", "one with holes, one
 * without". In: a cursor at the phrase, what has been said so far. Out: true where one of them is plain and the other is not.
 */
import { FABRIC_WORDS, INSTRUCTING_VERBS } from '../../../lexicon/words.ts';
import { isUnit } from '../../phrases.ts';
import { says, saysAny } from '../../rules.ts';
import type { TokenCursor } from '../../token-cursor.ts';
import { type OpenGoing, type Phrase, SHAPING } from './going.ts';

/** A round knitted, purled or worked plain; `shaped`: by any other word for it. */
type Sort = 'k' | 'p' | 'plain' | 'shaped';

const PLAIN = /^(?:plain|even|straight|unshaped|resting)$/;
/** Words that say what a round has none of. */
const NONE =
  'holes|decreases|increases|decreasing|increasing|eyelets|overs|yarnovers|shaping|lace|them|any?';
const WITHOUT = [`without any? ${NONE}`, `with no ${NONE}`];
/** "the holey and the plain": no other noun stands behind. */
const ENDS = /^(?:and|then|until|till|by|in|over|again|alternately|alternating|twice)$/;
/** Most words of what a round is called. Chosen. */
const MOST_WORDS = 2;

/** "one holey round", "the plain one", "a round with yarn overs", "one round knit" */
function oneRound(c: TokenCursor): Sort | null {
  return c.attempt(() => {
    says(c, 'always|with|first|alternating|alternate|turn|by|in|then|next|working|ie|that|is|now*');
    const one = says(c, 'a|an|the|#')?.[0];
    if (one === undefined || (one !== null && one !== 1)) return null;
    let sort: Sort | null = null;
    for (let n = 0; n < MOST_WORDS; n++) {
      const w = c.word();
      const unit = isUnit(c) || w === 'one' || c.here() === '1';
      if (unit || c.peek()?.kind !== 'word') break;
      if (/^(?:with|without|in|of|and|then|is|followed|by)$/.test(w)) break;
      const told = sortOf(w);
      if (!told) return null;
      sort = sort === null || sort === 'plain' ? told : sort;
      c.i++;
    }
    if (isUnit(c) || c.here() === '1' || c.word() === 'one') c.i++;
    else if (
      sort === null ? c.here(-1) !== '1' : !(c.done || c.mark('.,;:)-') || ENDS.test(c.word()))
    )
      return null;
    if (saysAny(c, WITHOUT)) return 'plain';
    if (sort === null && says(c, 'is|being|worked|all* knit|knitted')) return 'k';
    if (sort === null && says(c, 'is|being|worked|all* purl|purled')) return 'p';
    if (sort === null && says(c, 'is|being|worked|all* plain|even|straight')) return 'plain';
    const with_ = says(
      c,
      'with|of the|some|its* holes|yarn|overs|yarnovers|eyelets|lace|decreases|increases|decreasing|increasing|shaping over|overs?',
    );
    // "one round without decreasing and one with"
    const bare = with_ ?? (c.word() === 'with' && (c.mark('.,;', 1) || c.peek(1) === null));
    if (bare === true) c.i++;
    return sort ?? (bare ? 'shaped' : null);
  });
}

function sortOf(word: string): Sort | null {
  if (/^(?:knit|knitted|k)$/.test(word)) return 'k';
  if (/^(?:purl|purled|p)$/.test(word)) return 'p';
  if (PLAIN.test(word)) return 'plain';
  if (
    /^(?:dec|decrease|decreasing|inc|increase|increasing|shaping|shaped|corner|yo|yarn|over)$/.test(
      word,
    )
  )
    return 'shaped';
  if (
    /^(?:right|wrong|side|odd|even|other|first|last|next|same|double|single|following)$/.test(word)
  )
    return null;
  const changes = FABRIC_WORDS.has(word) || INSTRUCTING_VERBS.has(word);
  return changes || !/^[a-z-]{4,}$/.test(word) ? null : 'shaped';
}

/** "alternate plain and decrease rounds" */
function bothSorts(c: TokenCursor, s: OpenGoing): boolean {
  return c.takes(() => {
    const { i } = c;
    const told =
      says(c, `${SORTS} and|&|+|with ${SHAPING} @unit`) ??
      says(c, `${SHAPING} and|&|+|with ${SORTS} @unit`);
    if (!told || !/s$/.test(c.word(-1))) return null;
    const plain = /\b(?:(purl\w*)|(knit\w*))/.exec(c.slice(i, c.i));
    if (plain) s.tail.between ??= plain[1] ? 'p' : 'k';
    s.shapedRound = true;
    s.plainRounds = 1;
    return true;
  });
}
const SORTS = 'plain|even|straight|unshaped|resting|knit|knitted|purl|purled';

export const describedPair: Phrase = (c, s) =>
  c.takes(() => {
    if (s.plainRounds > 0 || !(s.asks || s.which)) return null;
    const open = c.eatMark(':-(') !== null;
    if (bothSorts(c, s)) return !open || c.eatMark(')-,') !== null || null;
    const first = oneRound(c);
    if (!first || !says(c, ',|and|then|&|+|by|with|followed*')) return null;
    const second = oneRound(c);
    const plain = first === 'shaped' ? second : first;
    if (!second || !plain || plain === 'shaped' || (first !== 'shaped' && second !== 'shaped'))
      return null;
    if (open) c.eatMark(')-,');
    says(c, 'alternately|alternating|always') ?? says(c, 'in|by turn|turns|alternation');
    if (plain === 'k' || plain === 'p') s.tail.between ??= plain;
    s.shapedRound = true;
    s.plainRounds = 1;
    return true;
  });
