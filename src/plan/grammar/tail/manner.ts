/**
 * In what way a sentence goes on: "ending with a purl round", "as set", "keeping the pattern correct", "with 1 st
 * less between decreases". In: a cursor and the tail read so far. Out: true where something was read and kept.
 */
import { DECREASE_WORDS, INCREASE_WORDS } from '../../lexicon/words.ts';
import type { EndRound } from '../ast.ts';
import { eatStitches, unit } from '../phrases.ts';
import { says, saysAny } from '../rules.ts';
import type { TokenCursor } from '../token-cursor.ts';
import type { OpenTail } from './open-tail.ts';

export function readEndWith(c: TokenCursor, tail: OpenTail): boolean {
  const end = c.attempt<EndRound>(() => {
    c.eatMark(',;');
    c.phrase('and');
    if (!c.phrase('end|ending|finish|finishing|ends|stop|stopping')) return null;
    c.phrase('with|after|on|having|by');
    c.phrase('worked|working|completed|completing');
    c.phrase('a|an|the');
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
    const w = c.word();
    const like =
      w === 'knit' || w === 'knitted' || w === 'k'
        ? 'knit'
        : w === 'purl' || w === 'purled' || w === 'p'
          ? 'purl'
          : w === 'rs' || w === 'right'
            ? 'RS'
            : w === 'ws' || w === 'wrong'
              ? 'WS'
              : w === 'plain' || w === 'even'
                ? 'plain'
                : c.isWord(DECREASE_WORDS) || c.isWord(INCREASE_WORDS) || w === 'shaping'
                  ? 'shaped'
                  : null;
    if (!like) return null;
    c.i++;
    c.eatMark('-');
    c.phrase('side');
    return unit(c) ? { like } : null;
  });
  if (!end) return false;
  tail.endWith = end;
  return true;
}

const MANNER = [
  'as before|above|usual|given|set|est|established|described|written',
  'in this|the|that same? way|manner|fashion',
  'the same way|manner',
  'in same way|manner|fashion',
  'like this|that|so',
  'thus',
  'in set|est|established pattern|patt|pat|sequence',
  'in the? pattern|patt|pat as? set|est|established?',
  'in this|that|the same? sequence|order|rhythm|pattern',
  'in the? established|set|same pattern|patt|pat|sequence|manner|rib',
  'following the? established? pattern|patt',
  'the? pattern|patt|pat as set|est|established',
  'correctly|correct',
  'over and over',
  'again and again',
  'always|throughout',
  'of|in|from the? same? last? pattern|decreases|decrease',
];
const STARTS = [
  'beginning|starting|beg with a|an? knit|purl|k|p|rs|ws|right|wrong side? round|row|rnd',
];

/** "the other rounds being knitted" */
const BETWEEN_ROUNDS = [
  ',|and|;* with|while|where? the|all* other|alternate|intervening|remaining|even|plain|between|in* @unit are|is|being|be|worked* knit|knitted|plain|even',
  ',|and|;* knit|knitting|work|working all? the? other|alternate|intervening|even @unit plain?',
];
/** "with one plain round between", "working 2 rounds even in between" */
const PLAIN_BETWEEN = [
  ',|and|;* with|having|working|knitting|leaving # plain|knit|knitted|even|whole* @unit knit|plain|even|straight|worked* between|in* between|each|every|them|the|decreases|decrease|increases|increase|time|shaping|rounds*',
  ',|and|;* with|having|working|knitting a|an|one plain|knit|knitted|even* @unit knit|plain|even* between|in* between|each|every|them|the|decreases|decrease|increases|increase|time|shaping|rounds*',
  ',|and|;* with|working|knitting|and a|an|# plain|knit|knitted|even* @unit after|following|before each|every|it|that time|one|decrease|decreases?',
];

export function readManner(c: TokenCursor, tail: OpenTail): boolean {
  const start = c.i;
  if (
    c.phrase(
      'decreasing|increasing|shaping|dec|inc|decs|decreases as set|est|established|before',
    ) ||
    c.anyPhrase(MANNER)
  ) {
    tail.follows = true;
    return true;
  }
  if (c.anyPhrase(STARTS)) return true;
  // "changing to dpns when necessary"
  if (
    says(
      c,
      ',? changing|switching|transferring|moving|change|switch to|onto|on ~* needles|needle|dpns|loop',
    )
  ) {
    if (c.phrase('when|as|if|once|where'))
      for (
        let n = 0;
        n < 8 && c.peek()?.kind === 'word' && !/^(?:and|until|ending|then)$/.test(c.word());
        n++
      )
        c.i++;
    return true;
  }
  if (saysAny(c, BETWEEN_ROUNDS)) return true;
  const plain = saysAny(c, PLAIN_BETWEEN);
  if (plain) {
    tail.every ??= (plain[0] ?? 1) + 1;
    return true;
  }
  // "keeping the cable pattern correct", "maintaining the rib"
  if (
    says(
      c,
      ',? slipping|moving|passing|carrying all|the|your* markers|marker as|you|come|go|up|to|them|reach|get|along*',
    )
  )
    return true;
  if (c.phrase('keeping|maintaining|keep|maintain')) {
    for (let n = 0; n < 8 && c.peek()?.kind === 'word'; n++) {
      if (/^(?:until|till|for|every|each)$/.test(c.word())) break;
      c.i++;
    }
    tail.follows = true;
    return c.i > start;
  }
  return false;
}

/** "with 1 st less between the decreases each time", "working one more st before each kfb" */
export function readFewer(c: TokenCursor, tail: OpenTail): boolean {
  const told = c.attempt(() => fewerToldLast(c));
  if (told !== null) {
    tail.fewer = told;
    return true;
  }
  return c.takes(() => {
    c.phrase('but');
    c.phrase('always') || c.phrase('each|every time');
    c.phrase('with|working|having|knitting|work|and|but|there|will|be|k');
    c.phrase('working|always');
    let sign = 0;
    const less = (): void => {
      if (c.phrase('fewer|less')) sign = 1;
      else if (c.phrase('more|extra')) sign = -1;
    };
    const n = c.number();
    if (n === null) return null;
    less();
    c.phrase('plain|knit|k');
    const counted = eatStitches(c);
    less();
    if (sign === 0 || (!counted && c.phrase('times|time'))) return null;
    if (!counted && !/^(?:between|before|after|each|every|in)$/.test(c.word())) return null;
    for (let k = 0; k < 14; k++) {
      const w = c.word();
      const t = c.peek();
      if (
        !t ||
        (t.kind === 'mark' && t.text !== '-') ||
        t.kind === 'line' ||
        /^(?:until|till|to|for)$/.test(w)
      )
        break;
      if (t.kind === 'number') break;
      if (w === 'and' && /^(?:dec|inc|shap)/.test(c.word(1))) break;
      c.i++;
    }
    tail.fewer = sign * n;
    return true;
  });
}

const BETWEEN =
  'with|while|as|so|that|and* the? number? of? plain|knit? @sts between|before|after|beside|on the|each|every|both|either|#|side|sides|of*';
const SHAPED =
  'decreases|decrease|decs|dec|increases|increase|incs|inc|shaping|markers|marker|each';
const BECOMES =
  'becoming|becomes|become|being|is|are|reducing|reduces|reduce|decreasing|decreases|growing|grows|increasing|increases|going|goes|go|getting|gets|drops|dropping|falls by|down|up*';
const EACH_TIME = 'each|every? time|round|rnd|row?';

const FEWER_TOLD_LAST = [
  `${BETWEEN} ${SHAPED} ${BECOMES} # @sts? fewer|less ${EACH_TIME}`,
  `${BETWEEN} ${SHAPED} reducing|reduces|decreasing|decreases|dropping|drops|falling by # @sts? ${EACH_TIME}`,
  `so that? there are|is|being* # @sts? fewer|less plain|knit? @sts? between|before|after the? ${SHAPED} ${EACH_TIME}`,
];
const MORE_TOLD_LAST = [
  `${BETWEEN} ${SHAPED} ${BECOMES} # @sts? more ${EACH_TIME}`,
  `${BETWEEN} ${SHAPED} growing|grows|increasing|increases|rising by # @sts? ${EACH_TIME}`,
];

/** "the knit sts between the decreases becoming 2 fewer each time", "there being 1 st less each time" */
function fewerToldLast(c: TokenCursor): number | null {
  c.eatMark(',;');
  const less = saysAny(c, FEWER_TOLD_LAST);
  const more = less ? null : saysAny(c, MORE_TOLD_LAST);
  const n = (less ?? more)?.at(-1) ?? null;
  if (n === null) return null;
  // "(k13, k11, k9)" only shows it.
  if (c.mark('([')) {
    const close = c.closing(60);
    const inside = close < 0 ? '' : c.slice(c.i + 1, close);
    if (
      /^\s*(?:(?:[kp]|knit|purl)?\s*\d+\s*(?:,|;|then|and so on|so on|and|to|-|etc|\.)*\s*)+$/.test(
        inside,
      )
    )
      c.i = close + 1;
  }
  return less ? n : -n;
}
