/**
 * In what way a sentence goes on: "as set", "keeping the pattern correct", "with 1 st
 * less between decreases". In: a cursor and the tail read so far. Out: true where something was read and kept.
 */
import type { Tail } from '../ast.ts';
import { readEdges } from '../edges.ts';
import { inTurn } from '../in-turn.ts';
import { nthsAlone } from '../number-lists.ts';
import { eatStitch, eatStitches, isUnit } from '../phrases.ts';
import { roundsRef } from '../round-refs.ts';
import { says, saysAny } from '../rules.ts';
import type { TokenCursor } from '../token-cursor.ts';
import { type OpenTail, stopOf } from './open-tail.ts';
import { plainRoundsBeside } from './plain-rounds.ts';

const WAY =
  'way|manner|fashion|mode|lines|line|principle|style|sequence|rhythm|method|order|vein|spirit|scheme|places|spots|positions';
/** "in exactly this manner", "in such a way", "on the same lines": as before. */
export const IN_THIS_WAY = [
  `in|on|along|after|by just|exactly|much|quite|precisely|very* such|the|this|that|these|same|like|similar|identical|established|exact a|an|very|same|identical|exact* ${WAY} described|given|told|set|shown|above*`,
  `the very|exact* same ${WAY}`,
  'at the|this|that|same* rate|pace',
  'like this|that|these|those|so|before',
  'just? as before|above|usual|given|set|est|established|described|explained|told|shown|written above|below|earlier|before|already?',
  'thus|likewise|similarly|correspondingly|accordingly',
] as const;
const MANNER = [
  'in set|est|established pattern|patt|pat|sequence',
  'in the? pattern|patt|pat as? set|est|established?',
  'in this|that|the same? sequence|order|rhythm|pattern',
  'in the? established|set|same pattern|patt|pat|sequence|manner|rib',
  'following the? established? pattern|patt',
  'the? pattern|patt|pat as set|est|established',
  'correctly|correct',
  'always|throughout',
  'of|in|from the? same? last? pattern|decreases|decrease',
];
/** "beginning with a knit row on the right side", "the first row being a RS row", "you start on the right side" */
const FACED = 'knit|purl|k|p|rs|ws|right|wrong*';
const ON_SIDE = 'on|from|at|(|,* the|a? right|wrong|rs|ws? side? facing? )?';
const STARTS = [
  `,|and|;|you* beginning|starting|commencing|beg|begin|start|starts|begins with|on|from|at|by a|an|the? ${FACED} side? @unit ${ON_SIDE}`,
  ',|and|;|you* beginning|starting|commencing|beg|begin|start|starts|begins with|on|from|at the|a? right|wrong|rs|ws side? facing?',
  `,|;|and|with|where|the|(* % ${FACED} @unit is|being|will|be|are|worked* a|an|the? ${FACED} side? @unit? ${ON_SIDE}`,
];
/** What words such as "beginning with a knit row on the right side" say of the first round or row. */
export function firstRoundSaid(words: string): Tail['startWith'] {
  const out: Tail['startWith'][number][] = [];
  if (/\b(?:knit|knitted|k)\b/.test(words)) out.push('knit');
  if (/\b(?:purl|purled|p)\b/.test(words)) out.push('purl');
  if (/\b(?:right|rs)\b/.test(words)) out.push('RS');
  if (/\b(?:wrong|ws)\b/.test(words)) out.push('WS');
  return out;
}

/** What is said of the first round or row, or of another; null where nothing is. */
export function readStart(c: TokenCursor): Tail['startWith'] | null {
  const { i } = c;
  const begins = saysAny(c, STARTS);
  // "(2 ridges)" behind it
  while (begins && /^[(,]$/.test(c.here(-1))) c.i--;
  // "1st row purl, 2nd row knit"
  return begins && ((begins[0] ?? 1) === 1 ? firstRoundSaid(c.slice(i, c.i)) : []);
}

/** "working back and forth", "and get 4 ridges" */
const REMARKS = [
  'working|in|worked* back and forth|fro',
  'to and fro',
  ',|and|which|you* get|gives|give|giving|makes|making|have # garter? ridge|ridges',
];

/** "knitting the sts which lie between the increases": as many as there are. */
const BETWEEN_THEM =
  'lie|lies|are|is|stand|stands|comes|come|in* between|beside the|these|those|both|two|2|your|yarn|them|each|every|#* decreases|decrease|increases|increase|markers|corners|overs|yos|them|two|2|needles?';
const WHAT_LIES_BETWEEN = [
  `,|and|always* knitting|working|knit|work all? the|those|any? @sts that|which? ${BETWEEN_THEM}`,
  `,|and|always* knitting|working|knit|work whatever|what|everything|all that|which? ${BETWEEN_THEM}`,
];

const IN_BETWEEN =
  'in|without|with|no|not? between|decreases|decreasing|decrease|increases|shaping|them|these|those|each|every|the|time*';
const OTHER =
  'the|all|every|each* other|alternate|intervening|intermediate|remaining|even|odd|plain|between|in|in-between numbered?';
const ARE = 'are|is|being|be|to|all|worked|always|will|in*';
const ALL_STS = 'all? the? @sts? in|on|of?';
/** "the other rounds being knitted", "purling the rounds in between", "(all rounds without decreases are purled)" */
const betweenRounds = (words: string): readonly string[] => [
  `,|and|;|.|(|-* with|while|where? ${OTHER} @unit ${IN_BETWEEN} ${ARE} ${words} )?`,
  `,|and|;|.|(|-* with|while|where? the|all|every|each* @unit in|without|between ${IN_BETWEEN} ${ARE} ${words} )?`,
  `,|and|;|(|-* ${words} in between )?`,
  `,|and|;|.|(|-* with|while|where? the|all|both|#* ones? in between ${IN_BETWEEN} ${ARE} ${words} )?`,
  `,|and|;|.|(|-* ${words} ${ALL_STS} the|all|every|each* @unit in|without|between ${IN_BETWEEN} plain? )?`,
  `,|and|;|.|(|-* ${words} ${ALL_STS} all|every|each? ${OTHER} @unit ${IN_BETWEEN} plain? )?`,
];
const BETWEEN_ROUNDS: readonly (readonly ['k' | 'p' | null, readonly string[]])[] = [
  ['k', betweenRounds('knit|knitted|knitting')],
  ['p', betweenRounds('purl|purled|purling')],
  [null, betweenRounds('work|working|worked|plain|even')],
];
/** "with no plain rounds between", "without purl rounds in between" */
const NONE_BETWEEN = [
  ',|and|(* with|having no|not|without any? more? plain|knit|purl|even|other|resting* @unit in? between them|each|these|the|decreases? )?',
  ',|and|(* without any? plain|knit|purl|even|other* @unit in? between? them|each|these? )?',
  ',|and|;|now|then|but|you* omit|omitting|skip|skipping|drop|dropping|leave|leaving out|away|off? the|all|any|these|those* plain|knit|purl|even|other|resting* @unit in? between? from|here|now|on|out* ,|:|;|and|so*',
  ',|and|;|now|then|there|are|is|come* no|without more|further|any* plain|knit|purl|even|other|resting* @unit in? between? from|here|now|on* ,|:|;|-?',
  ',|and|;|now|then|but|you|from|here|on* do|doing|done away with the|all|any|these|those|your* plain|knit|purl|even|other|resting* @unit in? between? ,|:|;|and|so*',
  ',|and|;* each|every @unit being|is a|an? dec|decrease|decreasing|shaping @unit',
];
export function readManner(c: TokenCursor, tail: OpenTail): boolean {
  const start = c.i;
  if (
    c.phrase(
      'decreasing|increasing|shaping|dec|inc|decs|decreases as set|est|established|before',
    ) ||
    c.anyPhrase(MANNER) ||
    saysAny(c, IN_THIS_WAY) ||
    inTurn(c)
  ) {
    tail.follows = true;
    return true;
  }
  const begins = readStart(c);
  if (begins) {
    if (begins.length > 0) tail.startWith = begins;
    return true;
  }
  if (saysAny(c, REMARKS)) return true;
  if (saysAny(c, WHAT_LIES_BETWEEN)) {
    tail.follows = true;
    return true;
  }
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
  if (saysAny(c, NONE_BETWEEN)) {
    // "Do this 4 more times; now leave out the plain rounds": another pace, behind the end of the first
    const apart = /^;|\b(?:now|then|from)\b/.test(c.slice(start, c.i));
    if (apart && tail.every === null && stopOf(tail) !== null) return c.back(start, false);
    tail.every ??= 1;
    return true;
  }
  for (const [stitch, rules] of BETWEEN_ROUNDS) {
    if (!saysAny(c, rules)) continue;
    tail.between ??= stitch;
    return true;
  }
  const beside = plainRoundsBeside(c);
  if (beside) {
    tail.every ??= beside.n + 1;
    tail.between ??= beside.stitch;
    // A round after the last of them too.
    if (beside.where === 'after') tail.afterEach = true;
    if (tail.afterEach && tail.times !== null) tail.endWith ??= { like: 'plain' };
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
  const edges = c.attempt(() => {
    c.eatMark(',');
    return readEdges(c);
  });
  if (edges) {
    tail.edges = edges;
    return true;
  }
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

const AS_ROUND =
  ',|worked|exactly|just* as|like you|we|i|they|did|do|in|on|for|at|under|with|described|told*';

/** "as in round 2", "like the 2nd round", "as under point 3": the shaping is that of this round. */
export function readLikeRound(c: TokenCursor, tail: OpenTail, also = ''): boolean {
  return c.takes(() => {
    if (tail.likeRound !== null) return null;
    const open = c.eatMark('(') !== null;
    if (!(also !== '' && says(c, also)) && !says(c, AS_ROUND)) return null;
    const which = roundsRef(c) ?? nthsAlone(c);
    if (!which || !('numbers' in which) || which.numbers.length !== 1) return null;
    if (open) c.eatMark(')');
    tail.likeRound = which;
    tail.follows = true;
    return true;
  });
}

/** "working the rnds between as rnds 3 to 5", "with rounds 3-5 between": what those are like. */
export function readBetweenLike(c: TokenCursor, tail: OpenTail): boolean {
  return c.takes(() => {
    if (tail.betweenLike !== null) return null;
    const start = c.i;
    says(c, ',|and|;|(|with|working|work|knitting|having|doing*');
    const led =
      says(c, `the|all|every* @unit ${IN_BETWEEN} ${ARE} exactly? the? same? as|like for|in|on?`) ??
      says(
        c,
        `the|all|every* ${OTHER} @unit ${IN_BETWEEN} ${ARE} exactly? the? same? as|like for|in|on?`,
      );
    const which = roundsRef(c);
    // "decrease every round as in round 2"
    if (
      led &&
      !/\b(?:between|without|no|not|other|alternate|even|odd|plain|inter\w+|remaining)\b/.test(
        c.slice(start, c.i),
      )
    )
      return null;
    if (which?.kind !== 'numbers' || (!led && !says(c, 'in? between each|them|the*'))) return null;
    c.eatMark(')');
    tail.betweenLike = which.numbers;
    return true;
  });
}

/** "with 1 st less between the decreases each time", "working one more st before each kfb" */
export function readFewer(c: TokenCursor, tail: OpenTail): boolean {
  const told = c.attempt(() => fewerToldLast(c));
  if (told !== null) {
    tail.fewer = told;
    return true;
  }
  return c.takes(() => {
    c.eatMark(',;');
    says(c, 'whereby|thereby|where|but|doing|so*');
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
    // "1 stitch less at each end"
    if (sign !== 0 && says(c, 'at|on each|both|either|every end|ends')) {
      tail.eachPass ??= -2 * sign * n;
      return true;
    }
    if (sign === 0 || (!counted && c.phrase('times|time'))) return null;
    if (!counted && !/^(?:between|before|after|each|every|in)$/.test(c.word())) return null;
    besideShaping(c);
    says(c, EACH_ROUND);
    // "1 stitch fewer being knitted before …": told by its verb.
    if (/^(?:being|is|are)$/.test(c.word())) return null;
    tail.fewer = sign * n;
    return true;
  });
}

const SHAPES =
  'decreases|decrease|decreasings|decs|dec|dd|increases|increase|incs|inc|shaping|markers|marker|overs|yos|yo|yarnovers|yarnover|corners|corner';
const BESIDE = [
  `between|before|after|beside the|both|these|all? # double? ${SHAPES} of the|each|every|all|these*`,
  `between the|both|these? # ${SHAPES}`,
  `either|each|both|every|on|at|in|the|of|to|between|before|after|beside|and|it* side|sides|between|before|after|beside|middle|centre|center of|the|a|each|every|all|both|pair|pairs|double|central|two|yarn|it|them|to|from|one|and|after|${SHAPES}|middle|centre|center|panel|@sts*`,
  'in|of|on each|every|all|the* knit|k|plain? @shared|panel|run|stretch',
];
/** "after each decrease round", "in every knitted round", "a row", "each time": says nothing new. */
export const EACH_ROUND =
  'a|per|after|in|on|at|each|every|the|than* dec|decrease|decreasing|inc|increase|increasing|shaping|knit|knitted|last|previous? @unit|time|repeat|go|one before? you|we? decrease|dec|increase|inc|shape?';
const BEFORE_ROUND = /^(?:on|in|at|after|the|each|every|all|and|of)$/;
const KIND_OF_ROUND =
  /^(?:even|odd|knitted|rs|ws|right|wrong|other|alternate|alt|following|foll|next)$/;

/** "between the decreases", "on either side of the cdd"; "on every odd round" behind it says which rounds. */
export function besideShaping(c: TokenCursor): boolean {
  const start = c.i;
  if (!saysAny(c, BESIDE)) return false;
  const { i } = c;
  // "after each decrease round" is said of the round.
  const ofRound = isUnit(c) && /^(?:dec|inc|shap)/.test(c.word(-1));
  if (ofRound) c.i--;
  while (c.i > start && BEFORE_ROUND.test(c.word(-1))) c.i--;
  if (ofRound) return c.i > start || c.back(start, false);
  if (
    KIND_OF_ROUND.test(c.word(i - c.i)) ||
    isUnit(c, i - c.i) ||
    c.peek(i - c.i)?.kind === 'ordinal'
  )
    return true;
  c.i = i;
  // "of each of the 6 divisions"
  if (/^(?:each|every|all|the|these)$/.test(c.word(-1))) says(c, '#? @shared');
  const stitch = (): true | null => (eatStitch(c)?.name.length ?? 0) > 1 || null;
  c.attempt(stitch);
  c.attempt(() => says(c, 'and the|each|every?') && stitch());
  return true;
}

const BETWEEN =
  'with|while|as|so|that|and|whereby|thereby|where|always* the? number? of? plain|knit? @sts|k|knitting|run|runs|stretch|stretches|part between|before|after|beside|on|and* the|each|every|both|either|#|side|sides|of|yarn|central|centre|center|middle|double|marked*';
const SHAPED =
  'decreases|decrease|decs|dec|increases|increase|incs|inc|shaping|markers|marker|them|these|each|k2tog|ssk|skp|s2kp|sk2p|cdd|p2tog|yo|yos|over|overs|yarnovers|kfb|m1';
const BECOMES =
  'there? becoming|becomes|become|being|is|are|reducing|reduces|reduce|decreasing|decreases|growing|grows|increasing|increases|going|goes|go|getting|gets|drops|dropping|falls by|down|up*';
const EACH_TIME = 'each|every? time|round|rnd|row?';

/** "the plain stitches", "the knit run" */
const PLAIN_RUN =
  ',|and|but|with|the|your|these|each* plain|knit|k|other|middle|knitted* @sts|knits|run|runs|stretch|stretches|stocking';
const MIDDLE_OF =
  ',|and|but|with|the|your* middle|centre|center of|on|in the|each|every|all* @shared';
const FEWER_TOLD_LAST = [
  `${MIDDLE_OF} ${BECOMES} # @sts? fewer|less|smaller|shorter|narrower ${EACH_TIME}`,
  `${PLAIN_RUN} ${BECOMES} # @sts? fewer|less|smaller|shorter|narrower ${EACH_TIME}`,
  `,|and|with|whereby|thereby|where|while|always* between|before|after|beside the|each|both|two|#* ${SHAPED} there|are|is|being|will|be|always* # @sts? fewer|less ${EACH_TIME}`,
  `${BETWEEN} ${SHAPED} ${BECOMES} # @sts? fewer|less|smaller|shorter|narrower ${EACH_TIME}`,
  `,|and|with? a|each|every|the? next? dec|decrease|shaping @unit having|has|with|works # @sts? fewer|less between|before|after the|both|these? ${SHAPED} ${EACH_ROUND}`,
  `${BETWEEN} ${SHAPED} ${BECOMES} fewer|less by # @sts? ${EACH_TIME}`,
  `${BETWEEN} ${SHAPED} reducing|reduces|decreasing|decreases|dropping|drops|falling|going|goes down? by # @sts? ${EACH_TIME}`,
  `,|and|in* so|whereby|thereby|where|doing so|that|each|every|time|always|with* there are|is|being|will|be|always|each|time* # @sts? fewer|less plain|knit? @sts? between|before|after the? ${SHAPED} ${EACH_TIME}`,
];
const MORE_TOLD_LAST = [
  `${MIDDLE_OF} ${BECOMES} # @sts? more|longer|wider ${EACH_TIME}`,
  `${PLAIN_RUN} ${BECOMES} # @sts? more|longer|wider ${EACH_TIME}`,
  `${BETWEEN} ${SHAPED} ${BECOMES} # @sts? more|longer|wider ${EACH_TIME}`,
  `${BETWEEN} ${SHAPED} growing|grows|increasing|increases|rising|going|goes up? by # @sts? ${EACH_TIME}`,
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
