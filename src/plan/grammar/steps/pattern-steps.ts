/**
 * Stitches told by a pattern's name or by what is on the needles: `in garter st`, `knit the knits`,
 * `work 5 sts as set`, `cont in pattern to last 2 sts`. Input: a cursor at the words. Output: the step, the
 * cursor behind it; null where there is none.
 */
import { nothingFollows, readAmount } from './amounts.ts';
import type { Rib } from './patterns.ts';
import { GAP, type StepCursor } from './step-cursor.ts';
import type { Amount, PatternRule, PatternStep, Step } from './steps.ts';
import { readStitch } from './stitch-words.ts';
import { wording } from './wording.ts';

/** "go on in moss stitch" */
const GOES_ON =
  '{ { go|carry|keep|work|continue|cont|cont. on } | work|working|cont|cont.|continue|keep|with }';
const IN = `{ ${GOES_ON}? in? the? }`;
/** "moss stitch as it comes" */
const AS_IT_COMES =
  '{ ,? as { it|they { come|comes|falls|lies|stands } | set|established|before|usual } | correct|correctly }?';
const STST = '{ stockinette|stockinet|stocking|stst | st|st. st|st. }';
const KNITS = (first: string, second: string): string =>
  `work|working? k|knit all|into? the? ${first} @sts? ,|and|&? and? p|purl all|into? the? ${second} @sts?`;

const KNIT_STS = 'k|ks|knit|knits';
const PURL_STS = 'p|ps|purl|purls';
/** "knit the purls and purl the knits", in either order */
const SEEDED = `${KNITS(PURL_STS, KNIT_STS)} | work|working? p|purl all|into? the? ${KNIT_STS} @sts? ,|and|&? and? k|knit all|into? the? ${PURL_STS} @sts?`;

const OF_YOS =
  "the|all|each|every|your|these* { yo|yos|yo's|yarnover|yarnovers | yarn over|overs|over's }";
const TWISTED =
  '{ tbl | through|thru|into|in|by|from the|their? back { loop|loops|strand|strands|leg|legs | of the? loop|loops }? | twisted|crossed }';
/** "knit, taking the yo's by the back strand", "knit (knit the yarn overs twisted)" */
const TWISTING = (verb: string, doing: string): string =>
  `${verb} { all? the? @sts }? across|around? ,|;|and|but|with|always|(* { working|work|taking|take|${doing}|${verb}? ${OF_YOS} { are|is|being? worked|knitted|purled|taken? }? ${TWISTED} | working|${doing} { into|in|through the? back|backs|back-loop of } ${OF_YOS} | twisting|twist ${OF_YOS} } )?`;

const PATTERNS: readonly { re: RegExp; rule: PatternRule }[] = [
  { re: wording(TWISTING('k|knit', 'knitting')), rule: 'k, yo tbl' },
  { re: wording(TWISTING('p|purl', 'purling')), rule: 'p, yo tbl' },
  {
    re: wording(
      `{ ${KNITS(KNIT_STS, PURL_STS)} | { k|knit the|each|all? corner|marked @sts ,|and|then* }? work|working? all? the? other|remaining? st|sts|stitches as they { appear|come|show|look | present themselves? | face you? } { ,|(|:? knit over|on knit|knits ,|and* purl over|on purl|purls )? }? }`,
    ),
    rule: 'knits',
  },
  {
    re: wording(`{ ${SEEDED} | ${IN} seed|moss @sts? ${AS_IT_COMES} }`),
    rule: 'seed',
  },
  { re: wording(`${IN} garter st|st.|stitch? ${AS_IT_COMES}`), rule: 'garter' },
  { re: wording(`${IN} rev|rev.|reverse ${STST} st|stitch?`), rule: 'reverse' },
  { re: wording(`${IN} ${STST} st|st.|stitch?`), rule: 'stockinette' },
  {
    re: wording(
      `${GOES_ON}? { in? the? established|est|est.? pat|pat.|patt|patt.|pattern|patterns { as set|established|est|est.|before }? | in? as set|established|est|est.|before|usual | even { in pat|patt|pattern }? | straight | across | all the? st|sts|stitches { as set|established|est }? }`,
    ),
    rule: 'set',
  },
  { re: wording('in? the? rib|ribbing'), rule: 'rib' },
  { re: wording('work|patt ~(?!\\s+twice\\s+in)'), rule: 'set' },
];
const RIBBING = 'rib|ribs|ribbing|ribbed @sts? pattern?';
const NUMBERS = '{ k|knit # ,|/|and? p|purl # | # x|by|/ # }';
/** "k2, p2 rib", "work in 2x2 ribbing", "rib as before" */
const RIB = wording(
  `{ ${GOES_ON} | worked|knit }? in|of? the|a? { ${NUMBERS} ${RIBBING} | twisted|single|double|established|est? ${RIBBING} { ,|:|(|of|in|=? ${NUMBERS} )? }? }`,
);
const AS_BEFORE = wording('~\\s* as|like set|established|est|est.|before|usual');
const PATTERN_COUNT = wording(
  '~\\s* over|across|for? the? next|first|last? # ~(?!\\s*(?:rounds?|rnds?|rows?|cm|inch|ins?\\b|")) @sts? { as set|established|est | in pat|patt|pattern { as set|established }? }?',
  '(?![a-z0-9])',
);

/** "4 sts in garter st": the count stands in front. */
const COUNTED = wording(
  'the? next|first|last|center|centre|middle|remaining? # @sts { are? worked|always? in | of }?',
  '\\s+(?=garter|moss|seed|rev|sto|st\\.?\\s*st|pat)',
);
/** "without decreasing" behind a pattern: says that it goes on. */
export const UNSHAPED = wording(
  '~[\\s,]* (? { without|with|no|not no? any|further* ~(?:dec|inc|shap)[a-z]*(?!\\s*\\d) | straight|even } )?',
);
/** "Always purl the knit sts and knit the purl sts as you go": what seed stitch is. */
export const SEED_TOLD = wording(
  `{ moss|seed @sts? =|is|means|: }? always|that|is|ie|you|we* { ${SEEDED} } { as you go|come|work|see { to them }? | of the round|row below|before | always|throughout }?`,
  '(?=\\s*(?:[.;,)]|$))',
);
/** ", knitting the marked sts": every other stitch is in the pattern. */
const MARKED_KNIT = wording(
  '~\\s* ,|;|(? { but|and }? always? { knit the|each|every|all? marked|center|centre @sts always? | the|each|all? marked|center|centre @sts { are|is }? always? knit|knitted } )?',
);

/** A ribbing by its name or its stitches. */
function readRib(cursor: StepCursor): Pick<PatternStep, 'rule' | 'rib'> | null {
  const { i } = cursor;
  const m = cursor.match(RIB);
  if (!m) return null;
  const [k, p] = m
    .slice(1)
    .filter((n) => n !== undefined)
    .map(Number);
  const rule = /\btwisted\b/.test(m[0]) ? 'twisted rib' : 'rib';
  if (k > 0 && p > 0) return { rule, rib: [k, p] };
  if (k !== undefined) return cursor.back(i, null);
  const one = /\bdouble\b/.test(m[0]) ? 2 : /\b(?:single|twisted)\b/.test(m[0]) ? 1 : 0;
  return one > 0 ? { rule, rib: [one, one] } : { rule };
}

const EITHER_WAY = (verb: string): string => `{ ${verb} # | # @sts? ${verb} }`;
const TOLD = new RegExp(
  `\\b${wording(`rib|ribbing @sts? pattern? { :|=|-|( | is|means } *? (? { # x|by|/ # | ${EITHER_WAY('k|knit')} ,|/|and* ${EITHER_WAY('p|purl')} }`).source}`,
);

/** "Ribbing: 1 stitch knit, 1 stitch purl": what a text says of its ribbing wherever it does; null where it says nothing. */
export function ribbingTold(text: string): Rib | null {
  const [k, p] = (TOLD.exec(text) ?? [])
    .slice(1)
    .filter((n) => n !== undefined)
    .map(Number);
  return k > 0 && p > 0 ? [k, p] : null;
}

/** "k2, p2 rib to last 4 sts", "rib 4", "rib as before" */
export function readRibbing(cursor: StepCursor): Step | null {
  const at = cursor.i;
  const rib = readRib(cursor);
  if (!rib) return null;
  cursor.match(AS_BEFORE);
  const m = cursor.match(PATTERN_COUNT);
  const amount = m ? { times: Number(m[1]) } : readAmount(cursor)?.amount;
  cursor.match(AS_BEFORE);
  const whole = { kind: 'rest', count: 0 } as const;
  return { kind: 'pattern', ...rib, amount: amount ?? whole, ...cursor.span(at) };
}

/** A fabric named here, and "as set" behind it. */
export function patternHere(cursor: StepCursor): PatternRule | null {
  const rule = PATTERNS.find(({ re }) => cursor.match(re))?.rule ?? null;
  if (rule) cursor.match(AS_BEFORE);
  return rule;
}

export function readPattern(cursor: StepCursor): Step | null {
  const at = cursor.i;
  const counted = cursor.match(COUNTED);
  const told = counted ? PATTERNS.find(({ re }) => cursor.match(re)) : undefined;
  if (counted && told)
    return {
      kind: 'pattern',
      rule: told.rule,
      amount: { times: Number(counted[1]) },
      ...cursor.span(at),
    };
  cursor.i = at;
  const c = cursor.text[at];
  if (!'kpwgsrceaimn'.includes(c) || /^[kp]\d/.test(cursor.text.slice(at, at + 2))) return null;
  const first = PATTERNS.find(({ re }) => cursor.match(re));
  if (!first) return null;
  let amount: Amount | null = null;
  const m = cursor.match(PATTERN_COUNT);
  if (m) amount = { times: Number(m[1]) };
  // "work to last 2 sts as set", "work in pattern as set to marker"
  const read = readAmount(cursor);
  if (read && amount === null) amount = read.amount;
  // "as set, decreasing on rounds 6, 8 and 10"
  const shaped = cursor.match(
    /[\s,]*(?:dec|inc)[a-z]*\s+(?:as\s+before\s+)?on\s+(?:rounds?|rnds?|rows?)\s+\d+(?:\s*(?:,|and|&|-|,\s*and)\s*\d+)*/y,
  );
  const rule = readLateRule(cursor, first.rule);
  const again = amount === null ? readAmount(cursor) : null;
  if (again) amount = again.amount;
  cursor.match(UNSHAPED);
  const bare = /^(?:work|across|even|patt)\s*$/.test(cursor.text.slice(at, cursor.i));
  if (first.rule === 'set' && amount === null && bare && !nothingFollows(cursor)) {
    return readVerbOnly(cursor, at);
  }
  const whole = { kind: 'rest', count: 0 } as const;
  const shapesOn = shaped ? { shapesOn: numbersIn(shaped[0]) } : {};
  const step = {
    kind: 'pattern',
    rule,
    amount: amount ?? whole,
    ...shapesOn,
    ...cursor.span(at),
  } as const;
  if (amount !== null || !cursor.match(MARKED_KNIT)) return step;
  const upTo = { ...step, amount: { kind: 'centre', count: 0 } } as const;
  return cursor.eachSide([upTo, cursor.stitch('k', at, { times: 1 }), step], at);
}

/** "rounds 6, 8 and 10", "rounds 6-10" */
function numbersIn(words: string): number[] {
  const range = /(\d+)\s*-\s*(\d+)/.exec(words);
  if (!range) return (words.match(/\d+/g) ?? []).map(Number);
  const [first, last] = [Number(range[1]), Number(range[2])];
  return Array.from({ length: Math.min(100, Math.max(0, last - first + 1)) }, (_, i) => first + i);
}

/** The rule named behind the amount ("work 5 sts in garter st"), else `rule`. */
function readLateRule(cursor: StepCursor, rule: PatternRule): PatternRule {
  const start = cursor.i;
  cursor.match(/[\s,]*/y);
  const word = cursor.text.slice(cursor.i, cursor.i + 3);
  const opens = /^(?:in|as|eve|str)/.test(word) && !/^as\s*f/.test(word);
  for (const late of opens ? PATTERNS : []) {
    if (rule !== 'set' && late.rule === 'set') break;
    if (late.rule === 'knits') continue;
    if (cursor.match(late.re)) return late.rule;
  }
  // A comma stays read, a mere space doesn't.
  if (cursor.text.slice(start, cursor.i).trim() === '') cursor.i = start;
  return rule;
}

/** "work" before stitches is only a verb: an empty group, so that nothing is worked. */
function readVerbOnly(cursor: StepCursor, at: number): Step | null {
  const end = cursor.i;
  cursor.match(GAP);
  const c = cursor.text[cursor.i];
  const follows = c === '*' || c === '(' || c === '[' || readStitch(cursor.text, cursor.i) !== null;
  if (!follows) return cursor.back(at, null);
  cursor.i = end;
  return cursor.group([], at, { times: 1 });
}
