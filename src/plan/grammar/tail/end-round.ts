/**
 * Behind which round something stops: "ending with a purl round", "after a round 3", "and you have done the plain round
 * after them". In: a cursor and the tail read so far. Out: true where something was read and kept.
 */
import { DECREASE_WORDS, INCREASE_WORDS } from '../../lexicon/words.ts';
import type { EndRound } from '../ast.ts';
import { eatStitch, isUnit, unit } from '../phrases.ts';
import { says, saysAny } from '../rules.ts';
import type { TokenCursor } from '../token-cursor.ts';
import { readWhatItIs } from './last-round.ts';
import type { OpenTail } from './open-tail.ts';

/** "and make sure that", "so that" */
const SEEING_TO_IT =
  ',|;|.|and|but|so|that|always|make|making|be|being|sure|certain|see|to|it|you|we*';
/** "the last round being a decrease round", "your last one is" */
const LAST_ROUND_IS =
  'the|your|this? last|final dec|decrease|inc|increase|shaping? @unit|# that|you|we|have|work|worked|do|done|knit* is|was|being|must|should|will|has|to|be* :|=?';
/** "do not purl another round", "without a final purl round": the shaping round is the last. */
const NO_MORE =
  ",|;|.|and|but|there|is|do|you|need|must|should|to|(* not|don't|no|without|omitting|omit purl|knit|work|working|a|another|the|any|last|final|more|further* knit|purl|plain? @unit|# this? time? )?";
/** "don't stop before the plain round" */
const NOT_BEFORE =
  ",|;|.|-|(|and|but|please|do|you|must|should* not|don't|never stop|end|finish|quit|break before|until|without|unless|till you|we|have|having|worked|working|done|doing|knitted|also|just*";
const OMITS =
  ',|;|(|and|but|always* omit|omitting|omits|skip|skipping|leave|leaving out? that|the?';
const LEFT_OUT = `${OMITS} very? last|final? @unit # the|this|at? last|final? time|repeat? )?`;
const WORKED = 'worked|done|knitted|knit|purled|completed|finished';
const HAVE = `have|has|had|just just|also|then|been* ${WORKED}`;
const YOU_HAVE = 'you|we|i|one|have|has|had|just|also|then|been*';

/** `a RS row`, `round 3`, `the plain round`, `the first of these` */
function endRound(c: TokenCursor): EndRound | null {
  return c.attempt<EndRound>(() => {
    says(c, 'a|an|the|your|another|this|that|one|single|complete|following|next*');
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

function likeOf(c: TokenCursor): Extract<EndRound, { like: unknown }>['like'] | null {
  const w = c.word();
  if (/^(?:knit|knitted|k)$/.test(w)) return 'knit';
  if (/^(?:purl|purled|p)$/.test(w)) return 'purl';
  if (/^(?:rs|right)$/.test(w)) return 'RS';
  if (/^(?:ws|wrong)$/.test(w)) return 'WS';
  if (w === 'plain' || w === 'even' || w === 'odd') return w;
  return c.isWord(DECREASE_WORDS) || c.isWord(INCREASE_WORDS) || w === 'shaping' ? 'shaped' : null;
}

/** "a knit row on the wrong side": of rows the side tells which. */
function onSide(c: TokenCursor, end: EndRound): EndRound {
  const { i } = c;
  const row = c.word(-1) === 'row';
  const told = saysAny(c, [
    'on|from|at the? right|wrong|rs|ws side? of? the? work?',
    '( the|a? right|wrong|rs|ws side? @unit? )',
  ]);
  if (!told || !row || !('like' in end)) return end;
  return { like: /\b(?:wrong|ws)\b/.test(c.slice(i, c.i)) ? 'WS' : 'RS' };
}

/** The round, where it stands in one of the turns of phrase that name the last one. */
function lastOne(c: TokenCursor): EndRound | null {
  const none = c.takes(() => {
    const { i } = c;
    if (!says(c, NO_MORE) || !/\b(?:knit|purl|plain)\b/.test(c.slice(i, c.i))) return null;
    behind(c);
    return !/s$/.test(c.word(-1)) && !/^(?:in|between|before)$/.test(c.word());
  });
  if (none) return { like: 'shaped' };
  const left = c.attempt(() => says(c, LEFT_OUT) ?? says(c, `${OMITS} very? last|final @unit`));
  if (left) return { before: left[0] ?? null };
  if (says(c, NOT_BEFORE)) {
    const end = endRound(c);
    if (end) says(c, 'is|has|been* done|worked|knitted|knit|purled|finished?');
    return end;
  }
  says(c, SEEING_TO_IT);
  if (c.phrase('end|ending|finish|finishing|ends|stop|stopping')) {
    c.phrase('with|after|on|having|by');
    c.phrase('worked|working|completed|completing');
    const end = endRound(c);
    return end && onSide(c, end);
  }
  if (says(c, LAST_ROUND_IS)) {
    c.phrase('worked|working|completed|completing');
    const end = endRound(c);
    if (end) return end;
    // "the last round purled"
    const alone = c.i + 1 >= c.end || c.mark('.,;)', 1);
    const sort = alone ? /^(?:purled|knitted|knit|purl|plain)$/ : /^(?:purled|knitted)$/;
    const like = sort.test(c.word()) ? likeOf(c) : null;
    if (like) c.i++;
    return like && { like };
  }
  // "after a RS row", "on completion of round 4"
  if (says(c, 'always? just? after|following') || says(c, 'on|at|upon the? completion|end of')) {
    says(c, `${YOU_HAVE} ${WORKED}|working|knitting|completing?`);
    return endRound(c);
  }
  // "and you have just purled"
  const verb = c.attempt<EndRound>(() => {
    const { i } = c;
    if (!says(c, 'you|we|i|one|have|has|had|just|last*')) return null;
    // "and you just knit back" asks for it.
    const done = /\bha(?:ve|s|d)\b/.test(c.slice(i, c.i))
      ? /^(?:purled|knitted|knit)$/
      : /^(?:purled|knitted)$/;
    const like = done.test(c.word()) ? likeOf(c) : null;
    if (like) c.i++;
    // "you have knitted back": rows that face away
    if (like && says(c, 'back across? them|it|again?')) return { like: 'WS' };
    says(c, 'the|your|this|that|last|final* @unit');
    return like && (c.done || c.mark('.,;')) ? { like } : null;
  });
  if (verb) return verb;
  // "you have done the plain round after them"
  if (says(c, `you|we|i|one? ${HAVE}`)) {
    const end = endRound(c);
    if (end) behind(c);
    return end;
  }
  // "round 4 being the last one", "(a plain round last)"
  const last = c.attempt(() => {
    const end = endRound(c);
    return end && says(c, 'is|being? the|your? last|final one|worked|@unit?') ? end : null;
  });
  if (last) return last;
  // "the plain round after has been knitted", "round 4 is knitted after the last decreasing"
  const end = endRound(c);
  if (!end) return null;
  behind(c);
  if (!says(c, `is|are|has|have|had been|again|also* ${WORKED}`)) return null;
  behind(c);
  return end;
}

/** "after them", "that follows", "after the last decrease" */
function behind(c: TokenCursor): void {
  saysAny(c, [
    'back|across them|it|again?',
    'that|which? follows',
    'after|behind|following|upon the? last|final? decreasing|decrease|decreases|increase|increases|increasing @unit?',
    'after|behind|following|upon them|it|that|this|those|these?',
  ]);
}

export function readEndWith(c: TokenCursor, tail: OpenTail): boolean {
  const end = c.attempt(() => lastOne(c));
  if (!end) return false;
  tail.endWith = end;
  if ('number' in end) readWhatItIs(c, tail);
  return true;
}

/** "a decrease round", "you have worked a RS row and": what stands between "until" and the count. */
export function readEndBefore(c: TokenCursor, tail: OpenTail): boolean {
  const end = c.attempt(() => {
    c.eatMark(',');
    const told = says(c, 'after|following') !== null || says(c, `you|we|i|one? ${HAVE}`) !== null;
    const found = endRound(c);
    if (!found) return null;
    const leads = /^(?:leaves|leaving|left|has|with|gives|makes|that|which|ends|brings)$/;
    if (!told && !leads.test(c.word())) return null;
    c.eatMark(',');
    c.phrase('and');
    return found;
  });
  if (!end) return false;
  tail.endWith = end;
  return true;
}
