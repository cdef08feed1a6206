/**
 * How many times, or for how many rounds or how long: "5 more times", "a total of 9 times", "for 10 rounds", "for
 * 5 cm". In: a cursor and the tail read so far. Out: true where something was read and kept.
 */
import { STITCH_WORDS } from '../../lexicon/words.ts';
import { isUnit, length, unit } from '../phrases.ts';
import { says } from '../rules.ts';
import type { TokenCursor } from '../token-cursor.ts';
import type { OpenTail } from './open-tail.ts';
import { fromWhere } from './until.ts';

interface Times {
  readonly times: number;
  readonly more: boolean;
  readonly total: boolean;
}

/** `5 times`, `twice more`, `x 3`, `a further 8 times`, `a total of 9 times`, `6 times in all` */
function readTimesPhrase(c: TokenCursor): Times | null {
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
    if (c.phrase('further|still|yet|again')) more = true;
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
    c.phrase('over');
    if (c.phrase('in all|total') || c.phrase('altogether|total|overall')) total = true;
    if (open) c.eatMark(')]');
    c.attempt(() => {
      if (!c.mark('(')) return null;
      c.i++;
      if (!(c.phrase('in all|total') || c.phrase('altogether'))) return null;
      total = true;
      return c.eatMark(')');
    });
    says(c, '( including|counting the? first|one|round* )');
    return { times, more, total };
  });
}

export function readTimesPart(c: TokenCursor, tail: OpenTail): boolean {
  // "5 more times (6 times in all)"
  if (tail.times !== null) {
    const all = tail.times + (tail.more ? 1 : 0);
    return c.takes(() => says(c, '( # times in|altogether|total|all* )')?.[0] === all);
  }
  const read = readTimesPhrase(c);
  if (!read) return false;
  tail.times = read.times;
  tail.more = read.more;
  tail.total = read.total;
  return true;
}

/** "for 10 rounds", "for 5 cm" */
export function readFor(c: TokenCursor, tail: OpenTail): boolean {
  return c.takes(() => {
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
}
