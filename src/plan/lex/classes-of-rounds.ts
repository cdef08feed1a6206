/**
 * Classes of rounds told apart from those that are told each: "all other wrong-side rows (rows 3, 5, 7 and so on, up to row
 * 19) are purled", "where a round is not listed, knit it". In: the designer's text. Out: places, and the rule that they
 * are read as. A sentence counts by its words: all of them known, one sort of rounds, one way to work them.
 */
import { regex } from '../lexicon/expression.ts';
import type { Replacement } from './numbers.ts';
import { WORK_UNIT } from './wording.ts';

/** Longest sentence. Chosen: bounds the time. */
const LONGEST = 160;

const SORT =
  /\b(odd|even|uneven|ws|rs|wrong[ -]side|right[ -]side|intervening|intermediate|in[ -]between|between|others?|remaining|rest|further|missing|skipped|unlisted|unmentioned|unnumbered)\b|\bnot (?:otherwise )?(?:mentioned|given|listed|told|described|shown|written|named|specified|numbered)\b|\bunless\b/i;
const SIDE = /\b(odd|even|uneven|ws|rs|wrong[ -]side|right[ -]side)\b/i;
const HOW = /\b(knit|knitted|k|plain|purl|purled|p)\b/gi;
const WORDS = new Set(
  `a an all st nd th turns laps tours also always and any are as at be both by each either etc every everything first for forth from go going
  have others i e in including inclusive is it just knit knitted k knitting let not nos number numbered numbers odd even uneven of on one only or other otherwise
  out part plain purl purled p purling remaining rest rnd rnds rds rd round rounds row rows rs ws right wrong side same should simply so stated
  straight that the them then these they this those through throughout till to told too under unless until up upwards where whenever which
  whose will with worked work you your across after again second alternate
  intervening intermediate between further missing skipped unlisted unmentioned unnumbered mentioned given listed described shown written named specified stitches sts here below
  above list instructions table therefore hence thus far separately following 1 noted said indicated i.e ones`.split(
    /\s+/,
  ),
);
const NO_SHAPING =
  /\bwith(?:out| no) (?:any )?(?:in|de)?(?:creas|shap|dimin|diminish|narrow|widen|minder)(?:es|e|ing|ings|ution|utions)?\b/gi;
/** "Knit the remaining 3 rounds", "knit one other round": rounds to work, no class. */
const COUNTED =
  /\b\d+ (?:[a-z]+ ){0,2}(?:rounds?|rnds?|rds?|rows?)\b|\bone (?:[a-z]+ )?(?:other|further|remaining)\b/i;
const ALONE = /\b(?:the|this|that) (?:one )?(?:other|remaining|further) (?:round|rnd|rd|row)\b/i;
/** "after each decrease round", "rounds with even numbers" */
const OF_A_SORT = /\bafter\b|\bwith (?:an )?(?:odd|even|uneven) numbers?\b/i;
const GOES_ON = /\b(?:and so|etc|and (?:the )?(?:others|rest))\b|…|\.\.\./i;
const END =
  /\b(?:up to|until|till|through|as far as|to)(?: and including)?(?: (?:rows?|rounds?|rnds?|number))?(?: (?:rows?|rounds?|rnds?))? ?(\d{1,3})\b|\d ?[-–] ?(\d{1,3})\b/i;
const SENTENCE =
  /(?<=^[ \t•*-]{0,16}|[.;!:)] {1,3}|^[ \t]{0,4}step [a-z0-9][.:] )([a-z](?:[^.;!\n]|\b(?:etc|i\.e|rnds|nos)\.(?=[ )]))*)(?=[.;!]|$)/gim;
const LABEL = regex.gim`^\W{0,8}(?:${WORK_UNIT} ?(?=\d)|(?=\d{1,3} ?[:.)] ?[*([]|\d{1,3}:))(\d{1,3})(?: ?(?:-|–|to) ?(\d{1,3}))?((?:,? ?(?:,|and|&) ?\d{1,3}){0,20})`;
const WRONG_SIDE = regex.im`^\W{0,8}${WORK_UNIT} ?(\d{1,3})[^:\n]{0,3}\(?(?:ws|wrong|back)`;

/** 1: odd ones; 0: even ones; null where neither the words nor the text's first rows tell. */
function parityOf(side: string | undefined, text: string): number | null {
  if (!side) return null;
  if (/odd|uneven/i.test(side)) return 1;
  if (/even/i.test(side)) return 0;
  const wrong = WRONG_SIDE.exec(text)?.[1];
  return wrong === undefined ? null : (Number(wrong) + (/^w/i.test(side) ? 0 : 1)) % 2;
}

/** Numbers of the rounds that have a line of their own. */
export function toldIn(text: string): ReadonlySet<number> {
  const out = new Set<number>();
  for (const [, from, to, others] of text.matchAll(LABEL)) {
    for (let n = Number(from); n <= Math.min(Number(to ?? from), 999); n++) out.add(n);
    for (const n of others.match(/\d+/g) ?? []) out.add(Number(n));
  }
  return out;
}

/** The numbers go up by two to the last round that needs it, and are of that sort. */
function fits(said: string, side: string | undefined, text: string): boolean | 'last' {
  const end = END.exec(said);
  const to = end ? Number(end[1] ?? end[2]) : undefined;
  const numbers = (said.match(/\d+/g) ?? []).map(Number).filter((n) => n !== to);
  const begun = numbers.length > 0;
  if (!begun && to !== undefined) numbers.push(to);
  const [first] = numbers;
  if (numbers.some((n, i) => n !== first + 2 * i)) return false;
  const parity = parityOf(side, text);
  if (parity !== null && first % 2 !== parity) return false;
  if (to === undefined && GOES_ON.test(said)) return true;
  const told = toldIn(text);
  const last = to ?? numbers[numbers.length - 1];
  const beyond = [...told].filter((n) => n > last);
  // The others before and behind them are told each.
  const whole = beyond.every((n) => n === last + 1 || told.has(n - 1));
  for (let n = first - 2; begun && n > 1; n -= 2) if (!told.has(n)) return false;
  if (last % 2 !== first % 2 || !whole) return false;
  // The last round of all is one of them.
  return beyond.length > 0 || (told.has(last - 1) && !told.has(last) && 'last');
}

/** "every odd row: purl", "all other rounds: knit"; those that are told each hold over it. */
function ruleOf(said: string, text: string): string | null {
  if (said.length > LONGEST || !SORT.test(said)) return null;
  const words =
    said
      .replace(NO_SHAPING, '')
      .toLowerCase()
      .match(/[a-z]+(?:\.[a-z]+)?|\d+/g) ?? [];
  if (!words.every((w) => /^\d/.test(w) || WORDS.has(w))) return null;
  const unit = /\b(?:turns|laps|tours|rounds?|rnds?|rds?|rows?|numbers)\b/i
    .exec(said)?.[0]
    .toLowerCase();
  // "Only the even rounds are given; knit all the odd ones."
  if (!unit && !/\b(?:ones|others)\b/i.test(said)) return null;
  if (COUNTED.test(said) || ALONE.test(said)) return null;
  // A label, or rounds that the grammar reads by themselves.
  if (/^(?:rounds?|rnds?|rows?|r|next|repeat)\.? ?\d/i.test(said)) return null;
  const ways = new Set(
    [...said.matchAll(HOW)].map(([how]) => (/^pu|^p$/i.test(how) ? 'purl' : 'knit')),
  );
  if (ways.size !== 1) return null;
  const side = SIDE.exec(said)?.[1].toLowerCase();
  const listed = /\d/.test(said);
  // "every other wrong-side row" is each second one, unless numbers say otherwise.
  if (!listed && /\b(?:every|each) (?:other|second)\b/i.test(said)) return null;
  const others = SORT.exec(said.replace(new RegExp(SIDE, 'gi'), '')) !== null;
  if (!others && !listed && unit && !OF_A_SORT.test(said)) return null;
  const fit = listed && fits(said, side, text);
  if (listed && !fit) return null;
  const [how] = ways;
  const one = (unit ?? /\brow\b/i.exec(text)?.[0] ?? '').startsWith('row') ? 'row' : 'round';
  const first = Number(/\d+/.exec(said)?.[0]);
  const end = END.exec(said);
  const upTo = fit === 'last' && end ? ` up to ${one} ${end[1] ?? end[2]}` : '';
  if (side) return `every ${side.replace('uneven', 'odd').replace(' ', '-')} ${one}${upTo}: ${how}`;
  if (listed) return `every ${first % 2 ? 'odd' : 'even'} ${one}${upTo}: ${how}`;
  return `all other ${one}s: ${how}`;
}

export function classesOfRounds(text: string): Replacement[] {
  if (!SORT.test(text)) return [];
  return [...text.matchAll(SENTENCE)].flatMap((m) => {
    const rule = ruleOf(m[1], text);
    return rule === null ? [] : [{ from: m.index, to: m.index + m[0].length, text: rule }];
  });
}
