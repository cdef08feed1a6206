/**
 * How long and in what way a sentence goes on: "until 8 sts remain", "5 more times", "every 4th round",
 * "ending with a purl round", "with 1 st less between decreases". In: a cursor and the tail read so far.
 * Out: true where something was read and kept.
 */
import { DECREASE_WORDS, INCREASE_WORDS, SIDE_WORDS, STITCH_WORDS } from '../lexicon/words.ts';
import type { EndRound, Tail } from './ast.ts';
import { bracketedCount, eatStitches, isUnit, length, unit } from './phrases.ts';
import { readStatedCount } from './steps/stated-counts.ts';
import type { TokenCursor } from './token-cursor.ts';

export type OpenTail = { -readonly [K in keyof Tail]: Tail[K] };

export function emptyTail(): OpenTail {
  return {
    times: null,
    more: false,
    total: false,
    untilStitches: null,
    perSide: false,
    untilMm: null,
    untilRounds: null,
    fromStart: false,
    open: false,
    forRounds: null,
    every: null,
    atOnce: false,
    endWith: null,
    follows: false,
    fewer: null,
    stated: null,
  };
}

/** Reads one part of the tail that stands here. */
export function readTailPart(c: TokenCursor, tail: OpenTail): boolean {
  return (
    readUntil(c, tail) ||
    readEvery(c, tail) ||
    readTimesPart(c, tail) ||
    readFor(c, tail) ||
    readEndWith(c, tail) ||
    readManner(c, tail) ||
    readFewer(c, tail) ||
    readStated(c, tail)
  );
}

// ---- until ------------------------------------------------------------------------------------

const UNTIL_WORDS =
  /^(?:there|are|is|you|we|have|has|had|only|just|a|an|total|of|the|last|it|left|with|reach|reached|remaining|your|been|get|got|number|exactly|about|approx|approximately|measures?|measuring|piece|work|knitting|fabric|square|tube|band|border|rib|ribbing|section|length|reaches|from|be|that|which|final|decreased|increased|worked|shaped|times|repeated|in|all|rem|remain|down|to|garter|side|edge|stitch|stitches|st|sts|count|until|body|crown|on|needles?|stocking|stockinette|as|long)$/;

function readUntil(c: TokenCursor, tail: OpenTail): boolean {
  const start = c.i;
  const when = c.attempt(() => c.eatMark('.;') && (c.phrase('when|once') || null)) === true;
  const until = when || c.phrase('until|till|til');
  const downTo =
    !until &&
    (c.phrase('down|up to') ||
      c.phrase('leaving') ||
      c.phrase('to leave') ||
      (c.word() === 'to' && c.isNumber(1) && c.phrase('to')));
  if (!until && !downTo) return false;
  let piece = false;
  for (let n = 0; n < 12; n++) {
    if (c.isNumber() && until && readUntilRounds(c, tail)) return true;
    if (c.isNumber()) {
      const mm = length(c);
      if (mm !== null) {
        tail.untilMm = mm;
        tail.fromStart = piece;
        fromWhere(c, tail);
        return true;
      }
      break;
    }
    if (c.peek()?.kind !== 'word' || !UNTIL_WORDS.test(c.word())) break;
    if (/^(?:piece|work|it|square|knitting|fabric|tube)$/.test(c.word())) piece = true;
    if (downTo && n > 2) break;
    c.i++;
  }
  const count = c.number();
  if (count === null || !Number.isInteger(count)) {
    c.i = start;
    if (!until) return false;
    // Something decides how long that can't be read.
    tail.open = true;
    return false;
  }
  const counted = eatStitches(c);
  if (downTo) {
    if (!counted && !c.done && !c.mark('.;,')) {
      c.i = start;
      return false;
    }
    if (c.phrase('before|from|of|past')) {
      c.i = start;
      return false;
    }
  }
  tail.untilStitches = count;
  tail.perSide = restOfCount(c);
  return true;
}

/** "until 36 rows have been worked in all", "until you have decreased a total of 9 times" */
function readUntilRounds(c: TokenCursor, tail: OpenTail): boolean {
  const got = c.attempt(() => {
    const n = c.number();
    if (n === null || !Number.isInteger(n)) return null;
    if (c.phrase('times')) {
      tail.times = n;
      tail.total = true;
      tail.more = false;
      return true;
    }
    if (!unit(c)) return null;
    if (!c.phrase('have|has|are been? worked|done|completed|knitted|made')) c.phrase('worked|in');
    tail.untilRounds = n;
    tail.fromStart = c.phrase('in all|total') || c.phrase('altogether|total');
    if (c.phrase('from the?') || c.phrase('since|after|above the?')) {
      tail.fromStart = c.phrase('cast on edge?') || c.phrase('co|beginning|start|beg edge?');
      if (!tail.fromStart) c.phrase('rib|ribbing|border|edge|edging|marker|last|garter|cable');
    }
    return true;
  });
  return got === true;
}

/** "remain on each needle": passes the words behind a count; true where it is that of one side. */
function restOfCount(c: TokenCursor): boolean {
  let perSide = false;
  for (let n = 0; n < 14; n++) {
    const w = c.word();
    if (
      /^(?:remain|remains|remaining|rem|are|is|left|on|in|total|all|the|needles?|dpns?|altogether|have|been|be|worked|off|hook|cable|round|rnd|row|unworked|only|still|at|top|centre|center|there|live|your)$/.test(
        w,
      ) &&
      !(perSide && n === 0)
    ) {
      if ((w === 'round' || w === 'rnd' || w === 'row') && !/^(?:the|in|on)$/.test(c.word(-1)))
        break;
      c.i++;
      continue;
    }
    if (/^(?:between|each|per|every)$/.test(w)) {
      const start = c.i;
      const each = w !== 'between';
      c.i++;
      while (/^(?:each|every|of|the|two|pair|a|both)$/.test(c.word()) || c.isNumber()) c.i++;
      if (
        c.isWord(SIDE_WORDS) ||
        /^(?:markers?|m|decs?|decreases?|sections?|corners?)$/.test(c.word())
      ) {
        c.i++;
        perSide = true;
        continue;
      }
      c.i = start;
      void each;
    }
    break;
  }
  return perSide;
}

function fromWhere(c: TokenCursor, tail: OpenTail): void {
  c.phrase('in length|depth|height') || c.phrase('long|deep|high|wide');
  const start = c.i;
  if (!c.phrase('from|above|measured|over')) return;
  for (let n = 0; n < 8 && c.peek()?.kind === 'word'; n++) {
    const w = c.word();
    if (/^(?:cast|co|beg|beginning|start|edge|bottom|lower)$/.test(w)) tail.fromStart = true;
    else if (/^(?:here|markers?|last|this|point|rib|border|garter|first|end)$/.test(w))
      tail.fromStart = false;
    else if (!/^(?:the|from|on|of|very|to|decrease|dec|round|row|rnd|and)$/.test(w)) break;
    c.i++;
    c.eatMark('-');
  }
  if (c.i === start + 1) c.i = start;
}

// ---- every ------------------------------------------------------------------------------------

function readEvery(c: TokenCursor, tail: OpenTail): boolean {
  const start = c.i;
  c.phrase('then');
  c.phrase('on|in|at|for');
  c.phrase('the');
  let atOnce = false;
  if (c.phrase('next|following|foll|this')) {
    atOnce = true;
    if (c.isNumber()) {
      c.i = start;
      return false;
    }
    const named = unit(c);
    const and = c.attempt(() => {
      c.eatMark(',');
      if (!(c.phrase('and then?') || c.phrase('then') || c.eatMark('&'))) return null;
      c.phrase('on|in|at');
      return /^(?:every|each|foll|following|alternate|alt)$/.test(c.word()) || null;
    });
    const some = and ? c.attempt(() => followingRows(c)) : null;
    if (some) {
      tail.every = some.every;
      tail.times = some.times + 1;
      tail.atOnce = true;
      return true;
    }
    if (!and) {
      if (!named) {
        c.i = start;
        return false;
      }
      tail.atOnce = true;
      return true;
    }
  }
  const several = tail.times === null ? c.attempt(() => followingRows(c)) : null;
  if (several) {
    tail.every = several.every;
    tail.times = several.times;
    return true;
  }
  const step = everyStep(c);
  if (step === null) {
    c.i = start;
    return false;
  }
  tail.every = step;
  tail.atOnce ||= atOnce;
  c.phrase('thereafter|after|from|here|then') && c.phrase('here|that|on');
  return true;
}

/** `foll 3 alt rows`, `following 4 rounds`: so many of them. */
function followingRows(c: TokenCursor): { every: number; times: number } | null {
  if (!c.phrase('the? foll|following|subsequent')) return null;
  const times = c.number();
  if (times === null) return null;
  let every = 1;
  if (c.phrase('alternate|alt|other')) every = 2;
  else {
    const nth = c.ordinal();
    if (nth !== null) every = nth;
  }
  return unit(c) ? { every, times } : null;
}

/** `every other round`, `each foll 4th row`, `alternate rounds`: rounds from one to the next. */
function everyStep(c: TokenCursor): number | null {
  return c.attempt(() => {
    const every = c.phrase('every|each|all');
    if (!every && !/^(?:alternate|alt|foll|following)$/.test(c.word())) return null;
    c.phrase('of');
    c.phrase('the');
    let step = 1;
    for (let n = 0; n < 5; n++) {
      const w = c.word();
      const t = c.peek();
      if (t?.kind === 'ordinal') {
        step = t.value;
        c.i++;
      } else if (/^(?:other|alternate|alt|alternating)$/.test(w)) {
        step = 2;
        c.i++;
      } else if (/^(?:following|foll|subsequent|next|single|decreasing)$/.test(w)) c.i++;
      else if (/^(?:rs|ws|right|wrong)$/.test(w)) {
        step = 2;
        c.i++;
        c.eatMark('-');
        c.phrase('side|facing');
      } else if (t?.kind === 'number' && isUnit(c, 1)) {
        step = t.value;
        c.i++;
      } else if (w === 'even' || w === 'odd') {
        step = 2;
        c.i++;
        c.eatMark('-');
        c.phrase('numbered');
      } else break;
    }
    if (!every && step === 1) return null;
    if (!unit(c)) return null;
    return step > 0 && step < 1000 ? step : null;
  });
}

// ---- times, lengths, counts of rounds --------------------------------------------------------

interface Times {
  readonly times: number;
  readonly more: boolean;
  readonly total: boolean;
}

/** `5 times`, `twice more`, `x 3`, `a further 8 times`, `a total of 9 times`, `6 times in all` */
export function readTimesPhrase(c: TokenCursor): Times | null {
  return c.attempt<Times>(() => {
    const open =
      c.mark('([') && (c.isNumber(1) || /^(?:x|once|twice)$/.test(c.word(1)))
        ? c.eatMark('([')
        : null;
    let total = false;
    let more = false;
    c.phrase('for');
    if (c.phrase('a total of') || (c.phrase('in all|total') && c.isNumber())) total = true;
    else if (c.phrase('a|another') || c.phrase('an')) {
      more = c.word(-1) === 'another';
      if (c.phrase('further|additional|extra')) more = true;
    } else if (c.phrase('another|further|additional')) more = true;
    if (c.phrase('further')) more = true;
    let times: number | null = null;
    const w = c.word();
    if (w === 'once' || w === 'twice' || w === 'thrice') {
      times = w === 'once' ? 1 : w === 'twice' ? 2 : 3;
      c.i++;
    } else if (w === 'x' && c.isNumber(1)) {
      c.i++;
      times = c.number();
    } else if (c.word() === 'time' && more) {
      times = 1;
      c.i++;
    } else {
      times = c.number();
      if (times === null) return null;
      if (c.phrase('more|further|additional|extra')) more = true;
      if (c.word() === 'x' && !c.isNumber(1)) c.i++;
      else {
        c.eatMark('-');
        if (!c.phrase('times|time')) {
          // "repeat 5 more"
          if (!more || isUnit(c) || c.isWord(STITCH_WORDS)) return null;
          if (!c.done && !c.mark('.,;)')) return null;
        }
      }
    }
    if (times === null || !Number.isInteger(times)) return null;
    if (c.phrase('more|further|additional|extra|again')) more = true;
    if (c.phrase('in all|total') || c.phrase('altogether|total|overall')) total = true;
    if (open) c.eatMark(')]');
    c.attempt(() => {
      if (!c.mark('(')) return null;
      c.i++;
      if (!(c.phrase('in all|total') || c.phrase('altogether'))) return null;
      total = true;
      return c.eatMark(')');
    });
    return { times, more, total };
  });
}

function readTimesPart(c: TokenCursor, tail: OpenTail): boolean {
  if (tail.times !== null) return false;
  const read = readTimesPhrase(c);
  if (!read) return false;
  tail.times = read.times;
  tail.more = read.more;
  tail.total = read.total;
  return true;
}

/** "for 10 rounds", "for 5 cm" */
function readFor(c: TokenCursor, tail: OpenTail): boolean {
  const got = c.attempt(() => {
    if (!c.phrase('for|over')) return null;
    while (c.phrase('a|another|the|further|next|following|about|approx|approximately|additional'));
    const mm = length(c);
    if (mm !== null) {
      tail.untilMm = mm;
      tail.fromStart = false;
      fromWhere(c, tail);
      return true;
    }
    const rounds = c.number();
    if (rounds === null) return null;
    while (c.phrase('more|further|additional|complete|plain|full|whole'));
    c.eatMark('-');
    if (!unit(c)) return null;
    tail.forRounds = rounds;
    return true;
  });
  return got === true;
}

// ---- manner -----------------------------------------------------------------------------------

function readEndWith(c: TokenCursor, tail: OpenTail): boolean {
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
  'in same way|manner|fashion',
  'like this|that|so',
  'thus',
  'in set|est|established pattern|patt|pat|sequence',
  'in the? pattern|patt|pat as? set|est|established?',
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
  // "keeping the cable pattern correct", "maintaining the rib"
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
  const got = c.attempt(() => {
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
      if (!t || t.kind === 'mark' || t.kind === 'line' || /^(?:until|till|to|for)$/.test(w)) break;
      if (t.kind === 'number') break;
      if (w === 'and' && /^(?:dec|inc|shap)/.test(c.word(1))) break;
      c.i++;
    }
    tail.fewer = sign * n;
    return true;
  });
  return got === true;
}

// ---- stated counts ---------------------------------------------------------------------------

function readStated(c: TokenCursor, tail: OpenTail): boolean {
  if (tail.stated) return false;
  const inside = bracketedCount(c);
  if (inside) {
    tail.stated = inside;
    return true;
  }
  // "- 64 sts", "= 64", ": 64 sts remain", ". 64 sts."
  const start = c.i;
  if (c.here() === ')' || !c.eatMark('-=:.;,')) return false;
  while (c.eatMark('-=>.'));
  const begin = c.i;
  let end = begin;
  while (end < c.end && end - begin < 16 && !/^[.;\n]$/.test(c.tokens[end].text)) end++;
  const text = c.slice(begin, end).replace(/^[\s([]+|[\s)\].]+$/g, '');
  const worded =
    /\b(?:sts?|stitch(?:es)?|loops|remain|rem)\b/.test(text) || /^\s*\d+\s*$/.test(text);
  const count = worded ? readStatedCount(text) : null;
  if (!count) {
    c.i = start;
    return false;
  }
  tail.stated = count;
  c.i = end;
  return true;
}
