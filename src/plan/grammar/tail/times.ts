/**
 * How many times, or for how many rounds or how long: "5 more times", "a total of 9 times", "for 10 rounds", "for
 * 5 cm". In: a cursor and the tail read so far. Out: true where something was read and kept.
 */
import { isUnit, length, unit } from '../phrases.ts';
import { says, saysAny } from '../rules.ts';
import type { TokenCursor } from '../token-cursor.ts';
import type { OpenTail } from './open-tail.ts';
import { fromWhere } from './until.ts';

interface Times {
  readonly times: number;
  readonly more: boolean;
  readonly total: boolean;
}

const LEAD = 'for|a|an|another|further|additional|extra|still|yet|again|in|all|total|of|just|only*';
const MORE = 'more|further|additional|extra|again*';
/** `5 times`, `twice more`, `x 3`, `a further 8 times`, `another time`, "repeat 5 more" */
const OFTEN = [
  `(|[? for|just|only* a|# single|solitary|lone time|go|pass`,
  `(|[? ${LEAD} # ${MORE} times|time|x|repeats|repetitions|goes|passes ${MORE}`,
  `(|[? ${LEAD} once|twice|thrice ${MORE}`,
  `(|[? ${LEAD} x # ${MORE}`,
  `${LEAD} time ${MORE}`,
  'for|over another|a|the|further* # more|further|additional|such* dec|decrease|decreasing|inc|increase|increasing|shaping rounds|rnds|rds|rows',
  'for? a|# very? last|final time|times',
  'for? a|the %nth time',
  `${LEAD} # more|further|additional|extra`,
];
/** "6 times in all", "5 more times (including the first)" */
const BEHIND = [
  'over? in all|total )|]?',
  'over? altogether|total|overall )|]?',
  'all told )|]?',
  '( in all|total )',
  '( altogether )',
  'over )|]?',
  ')|]',
];
const SPELLED: Readonly<Record<string, number>> = {
  once: 1,
  twice: 2,
  thrice: 3,
  time: 1,
  single: 1,
};

function readTimesPhrase(c: TokenCursor): Times | null {
  return c.attempt<Times>(() => {
    const start = c.i;
    const open = c.mark('([');
    const n = saysAny(c, OFTEN);
    if (!n) return null;
    let words = c.slice(start, c.i);
    const more = /\b(?:more|last|final|another|further|additional|extra|still|yet|again)\b/.test(
      words,
    );
    const bare =
      /(?:more|further|additional|extra)$/.test(words) &&
      !/time|x|ce\b|repe|goes|passes/.test(words);
    if (bare && (isUnit(c) || !(c.done || c.mark('.,;)')))) return null;
    // "a second time"
    const nth = /^(?:for )?(?:a|the) .* time$/.test(words) && n[0] !== null;
    const times = n[0] ?? SPELLED[/\b(?:once|twice|thrice|single|time)\b/.exec(words)?.[0] ?? ''];
    if (!Number.isInteger(times) || (c.word(-1) === 'x' && c.isNumber())) return null;
    if (n.length === 0 && /\btime$/.test(words) && !more) return null;
    if (open || !c.mark(')]')) saysAny(c, BEHIND);
    words = c.slice(start, c.i);
    says(c, '( including|counting the? first|one|round* )');
    return { times, more, total: nth || /\b(?:total|all|altogether|overall|told)\b/.test(words) };
  });
}

const THAT_IS = ',|(|-|;|that|which|this|is|makes|making|or|so|ie*';

export function readTimesPart(c: TokenCursor, tail: OpenTail): boolean {
  // "5 more times (6 times in all)"
  if (tail.times !== null) {
    const all = tail.times + (tail.more ? 1 : 0);
    return c.takes(
      () => says(c, `${THAT_IS} # times in|altogether|total|all|told* )?`)?.[0] === all,
    );
  }
  const read = readTimesPhrase(c);
  if (!read) return false;
  tail.times = read.times;
  tail.more = read.more;
  tail.total = read.total;
  if (tail.afterEach) tail.endWith ??= { like: 'plain' };
  return true;
}

const IN_ALL = [',|-|(? in all|total', ',|-|(? altogether|overall', ',|-|(? all told'];
const COUNTED =
  ',|(? counting|including|from|since the|this|that|first|one|cast|on|edge|beginning|start|@unit* )?';

/** "38 rows in all, counting the first": those worked already are among them. */
export function readInAll(c: TokenCursor, tail: OpenTail): boolean {
  const { i } = c;
  if (saysAny(c, IN_ALL)) c.eatMark(')');
  // "decreasing in all of them"
  if (c.word() === 'of') return c.back(i, false);
  says(c, COUNTED);
  if (c.i === i) return false;
  tail.total = true;
  tail.fromStart ||= /\b(?:cast|edge|beginning|start)\b/.test(c.slice(i, c.i));
  return true;
}

/** "for 10 rounds", "for a total of 38 rows", "for 5 cm" */
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
    const all = c.phrase('total of');
    const rounds = c.number();
    if (rounds === null) return null;
    while (c.phrase('more|further|additional|complete|plain|full|whole'));
    c.eatMark('-');
    const ridges = says(c, 'garter? ridge|ridges') !== null;
    if (!ridges && !unit(c)) return null;
    tail.forRounds = ridges ? 2 * rounds : rounds;
    // "6 times more, for 14 rounds in all": how often is told, and the rounds are added up.
    const { total } = tail;
    const inAll = readInAll(c, tail) || all;
    tail.total = tail.times === null ? inAll : total;
    return true;
  });
}
