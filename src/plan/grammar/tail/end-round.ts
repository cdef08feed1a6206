/**
 * Behind which round something stops: "ending with a purl round", "after a round 3", "and you have done the plain round
 * after them". In: a cursor and the tail read so far. Out: true where something was read and kept.
 */
import type { EndRound } from '../ast.ts';
import { says, saysAny } from '../rules.ts';
import type { TokenCursor } from '../token-cursor.ts';
import { readWhatItIs } from './last-round.ts';
import { leftOut, onLastPass } from './left-out.ts';
import type { OpenTail } from './open-tail.ts';
import { likeOf, roundByName } from './round-by-name.ts';

/** "and make sure that", "so that" */
const SEEING_TO_IT =
  ',|;|.|and|but|so|that|always|make|making|be|being|sure|certain|see|to|it|you|we*';
/** "the last round being a decrease round", "your last one is" */
const LAST_ROUND_IS =
  'the|your|this? last|final dec|decrease|inc|increase|shaping? @unit|# that|you|we|have|work|worked|do|done|knit* is|was|being|must|should|will|has|to|be* :|=?';
/** "don't stop before the plain round" */
const NOT_BEFORE =
  ",|;|.|-|(|and|but|please|do|you|must|should* not|don't|never stop|end|finish|quit|break before|until|without|unless|till you|we|have|having|worked|working|done|doing|knitted|also|just*";
const WORKED = 'worked|done|knitted|knit|purled|completed|finished';
const HAVE = `have|has|had|just just|also|then|been* ${WORKED}`;
const YOU_HAVE = 'you|we|i|one|have|has|had|just|also|then|been*';

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
  const left = leftOut(c);
  if (left) return left;
  if (says(c, NOT_BEFORE)) {
    const end = roundByName(c);
    if (end) says(c, 'is|has|been* done|worked|knitted|knit|purled|finished?');
    return end;
  }
  says(c, SEEING_TO_IT);
  if (c.phrase('end|ending|finish|finishing|ends|stop|stopping')) {
    c.phrase('with|after|on|having|by');
    c.phrase('worked|working|completed|completing');
    const end = roundByName(c);
    if (end) onLastPass(c);
    return end && onSide(c, end);
  }
  if (says(c, LAST_ROUND_IS)) {
    c.phrase('worked|working|completed|completing');
    const end = roundByName(c);
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
    return roundByName(c);
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
    const end = roundByName(c);
    if (end) behind(c);
    return end;
  }
  // "round 4 being the last one", "(a plain round last)"
  const last = c.attempt(() => {
    const end = roundByName(c);
    return end && says(c, 'is|being? the|your? last|final one|worked|@unit?') ? end : null;
  });
  if (last) return last;
  // "the plain round after has been knitted", "round 4 is knitted after the last decreasing"
  const end = roundByName(c);
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
    const found = roundByName(c);
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
