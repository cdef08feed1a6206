/**
 * How long and in what way a sentence goes on: "until 8 sts remain", "5 more times", "every 4th round",
 * "ending with a purl round", "with 1 st less between decreases". In: a cursor and the tail read so far.
 * Out: true where something was read and kept.
 */
import { STITCH_WORDS } from '../lexicon/words.ts';
import { bracketedCount, isUnit } from './phrases.ts';
import { namesRoundNext } from './round-names.ts';
import { says } from './rules.ts';
import { readStatedCount, tellsCount } from './steps/stated-counts.ts';
import { readStripes } from './stripes.ts';
import { readEndWith } from './tail/end-round.ts';
import { readEvery } from './tail/every.ts';
import { readInTurns } from './tail/in-turns.ts';
import { readFewer, readManner } from './tail/manner.ts';
import type { OpenTail } from './tail/open-tail.ts';
import { readFor, readTimesPart } from './tail/times.ts';
import { readUntil } from './tail/until.ts';
import type { TokenCursor } from './token-cursor.ts';

/** Reads one part of the tail that stands here. */
export function readTailPart(c: TokenCursor, tail: OpenTail): boolean {
  return (
    readLeft(c, tail) ||
    readCountsInTurn(c, tail) ||
    readUntil(c, tail) ||
    readInTurns(c, tail) ||
    readEvery(c, tail) ||
    readTimesPart(c, tail) ||
    readFor(c, tail) ||
    readEndWith(c, tail) ||
    readManner(c, tail) ||
    readFewer(c, tail) ||
    readStripesPart(c, tail) ||
    readStated(c, tail)
  );
}

export function readStripesPart(c: TokenCursor, tail: OpenTail): boolean {
  if (tail.stripes !== null) return false;
  tail.stripes = readStripes(c);
  return tail.stripes !== null;
}

/** "8 more times, when 8 sts will be left, 2 on each needle" */
function readLeft(c: TokenCursor, tail: OpenTail): boolean {
  if (tail.stated || tail.times === null) return false;
  const left = says(
    c,
    ',? when|after|which* #total @sts will|are|be|remain|left|there|remaining* ,? in|for|each|size|on|the|needles* ,? # on|to|per|for? each|a|every? @shared?',
  );
  if (!left) return false;
  tail.stated = { total: left[0], perSide: null, change: null };
  return true;
}

const IN_TURN_LED =
  ',|:|;|-|(|=|first|firstly|now|there|you|have|are|will|be|remain|leaving|giving|with|with* #';
const IN_TURN_NEXT =
  '@sts? left|remaining|remain|on|the|needles|are* ,|;? and? then|next|after|finally|lastly|that* #';

/** "…: first 24 sts left, then 16": what each of them leaves. */
function readCountsInTurn(c: TokenCursor, tail: OpenTail): boolean {
  return c.takes(() => {
    if (tail.counts !== null || tail.times === null) return null;
    const { i } = c;
    const list = [says(c, IN_TURN_LED)?.[0] ?? null];
    if (list[0] === null) return null;
    while (list.length <= tail.times) {
      const next = says(c, IN_TURN_NEXT)?.[0] ?? null;
      if (next === null) break;
      list.push(next);
    }
    says(c, '@sts? left|remaining|remain|on|the|needles|are|)*');
    if (list.length !== tail.times || list.length < 2) return null;
    if (!/\b(?:first|then|next|finally)\b/.test(c.slice(i, c.i))) return null;
    tail.counts = { list: list.filter((n) => n !== null), perSide: false, all: true };
    return true;
  });
}

/** "and you are down to …", "which leaves …" */
function leadsToCount(c: TokenCursor): boolean {
  return c.takes(() => {
    // "work dec rnd. 32 sts", whose full stop shortens the word
    if (isUnit(c, -1) && c.isNumber() && c.isWord(STITCH_WORDS, 1)) return true;
    const word = says(c, ',|;|-? and|so|which|when|whereupon|then that|which|when|then|now*');
    return word !== null && (c.isNumber() || COUNTING.test(c.word()));
  });
}

const COUNTING =
  /^(?:you|we|i|there|this|that|it|leaves?|leaving|brings?|gives?|giving|makes?|making|takes?|are|is|have|only|just|down)$/;

/** `verbal`: the verb of the count stands here, as in "leaves 4 sts". */
export function readStated(c: TokenCursor, tail: OpenTail, verbal = false): boolean {
  if (tail.stated || namesRoundNext(c)) return false;
  const inside = bracketedCount(c);
  if (inside) {
    const { inTurn } = inside;
    if (inTurn) tail.counts ??= { list: inTurn, perSide: false, all: false };
    tail.stated = inside;
    return true;
  }
  // ", i.e. 22 sts per needle"
  const each = says(c, ',|(|-|;? ie|that|is|namely|or* # @sts per|on|a|each|every* @shared )?');
  if (each) {
    tail.stated = { total: null, perSide: each[0], change: null };
    return true;
  }
  // "ending with 48 sts"
  const ends = says(
    c,
    ',? ending|finishing|leaving|giving|to leave|give with|at|on? # @sts on? your|the? needles?',
  );
  if (ends) {
    tail.stated = { total: ends[0], perSide: null, change: null };
    return true;
  }
  // "- 64 sts", "= 64", ": 64 sts remain", ". 64 sts.", "and you are down to 64"
  const start = c.i;
  const led = verbal || leadsToCount(c);
  if (!led && (c.here() === ')' || !c.eatMark('-=:.;,'))) return false;
  while (c.eatMark('-=>.'));
  const begin = c.i;
  // ", up to 60 sts" says how long, ", dec 8 sts evenly" what to do.
  const asks = /^(?:up|down|to|until|till|dec|decs|decrease|inc|incs|increase)$/.test(c.word());
  for (const stop of asks ? [] : [/^[.;\n]$/, /^[,.;\n]$/]) {
    let end = begin;
    while (end < c.end && end - begin < 16 && !stop.test(c.tokens[end].text)) end++;
    if (end === begin) break;
    const text = c.slice(begin, end).replace(/^[\s([]+|[\s)\].]+$/g, '');
    const worded = tellsCount(text) || (!led && /^\s*\d+\s*(?:left|remain|rem)?\s*$/.test(text));
    const count = worded ? readStatedCount(text) : null;
    if (!count || (end < c.end && c.tokens[end].text === ',' && !(led && count.total !== null)))
      continue;
    tail.stated = count;
    c.i = end;
    return true;
  }
  return c.back(start, false);
}
