/**
 * The phrases of a sentence that tells how the work goes on, each of one type. In: a cursor at the phrase, what has been
 * said so far. Out: true where it stands here, its meaning kept.
 */
import { DECREASE_WORDS, INCREASE_WORDS, REPEAT_VERBS } from '../../../lexicon/words.ts';
import type { Going } from '../../ast.ts';
import { readCrossingPart } from '../../crossings.ts';
import { inTurn } from '../../in-turn.ts';
import { isUnit } from '../../phrases.ts';
import { roundsRef } from '../../round-refs.ts';
import { says, saysAny } from '../../rules.ts';
import { readFabric } from '../../steps/patterns.ts';
import { readEachTime } from '../../tail/each-time.ts';
import { readEndWith } from '../../tail/end-round.ts';
import { readEvery } from '../../tail/every.ts';
import {
  IN_THIS_WAY,
  readBetweenLike,
  readFewer,
  readLikeRound,
  readManner,
} from '../../tail/manner.ts';
import { plainRounds } from '../../tail/plain-rounds.ts';
import { readTimesPart } from '../../tail/times.ts';
import { readStripesPart } from '../../tail.ts';
import type { TokenCursor } from '../../token-cursor.ts';
import { moreSets } from '../work/told-beside.ts';
import { describedPair } from './described-pair.ts';
import { type OpenGoing, type Phrase, SHAPING } from './going.ts';
import { exception, kinds, pairOfRounds } from './kinds.ts';
import { aboveOther, again, counts, fewer, place, shaped } from './shaping.ts';
import { inAll, stated, until } from './stops.ts';

// ---- verbs ------------------------------------------------------------------------------------

const WHO =
  'you|we|i|they|now|then|so|and|just|simply|always|please|next|from|here|on|thus|will|should|must|can|have|again|to|only|also|once|all|it|,*';
const GOES = [
  `${WHO} follow|following|keep|stick|stay this|that|the|same|to|with* pattern|sequence|order|rhythm|scheme of? decreases|decreasing|increases|increasing|shaping|rounds?`,
  `${WHO} continue|continued|continuing|continues|cont|proceed|proceeded|proceeding on?`,
  `${WHO} carry|carried|carrying|carries|go|went|going|gone|goes|keep|kept|keeping|keeps|press|push|move on|going|at|it|up|along|ahead|this|that*`,
  `${WHO} on like|so|thus|we|you that|this|go?`,
  `${WHO} on it|this goes|proceeds|continues`,
  'the work|shaping|decreasing|increasing|square|pattern now|then|just|simply* goes|continues|proceeds|runs on?',
  `${WHO} and? so it? goes|on|forth on?`,
  `${WHO} repeat|rep|repeated|repeating in|like|thus|so`,
  `${WHO} repeat|rep|repeated|repeating|do|did|doing|work|working this|that|it|so|the|these|those|same|all|last* decreases|decrease|decreasing|decreasings|increases|increase|increasing|shaping`,
  `${WHO} do|did|doing|repeat|rep|repeated|repeating|work this|that|these|those|them|it|so|likewise`,
  `${WHO} do|did|doing|repeat|rep|repeated|repeating|work the|exactly|just* exact|very? same`,
  `${WHO} keep|continue|carry|go on|to? do|doing|repeat|repeating|work|working this|that|these|those|them|it`,
  'then|now|so|and|from|here|on* it|this|that|the|rest is|are? just|simply|only? more of the? same|this|that',
  'then|now|so|and* this|that|it goes|continues|proceeds|carries on?',
  `${WHO} work|worked|working|knit|knitting on|further|onwards`,
  'the|these|those|all|this? same? decreases|decrease|decreasing|increases|increase|shaping is|are|be|being|now|then|all* continued|repeated|carried|worked|kept|made|done on|up|out?',
];
const ALL_ALIKE = [
  'all|every|each|the|work|knit|do* following|further|other|remaining|later|subsequent|next|even|odd|right|wrong|side|rs|ws|decrease|increase|of|the* @unit are|is|being|be|worked|knitted|done|made|now|then|just* in? the|exactly|just|much* same|like|likewise|alike|identically|so|as way|manner|one|this|that|before|above|first*',
];

const ALL_AS =
  'every|each|all the? other|following|further|remaining|subsequent|next? @unit are|is|will|be|being|worked|knitted|done|made|then|just|exactly|much* the? same|like|as as? @unit #';
const EVERY_ALIKE =
  'every|each|all the? single? @unit is|are|will|be|worked|just|exactly* the? same|alike|like as|like|to? this|that|it|the? last? #?';

/** "Carry on", "and so on", "I repeated that row", "all further rows are the same". */
export function heads(c: TokenCursor, s: OpenGoing): boolean {
  const rounds = c.takes(() => {
    const like = says(c, ALL_AS)?.[0];
    if (like != null) s.which = { kind: 'numbers', numbers: [like] };
    // "the same as that one"
    else if (c.takes(() => likeTheLast(c))) s.which = { kind: 'last', count: 1 };
    if (s.which) return true;
    says(c, WHO);
    says(c, 'continue|keep|carry|go|went|kept|on|to|just*');
    const verb =
      c.eatWord(REPEAT_VERBS) !== null ||
      c.phrase(
        'repeated|work|doing|did|do|alternate|alternating|knit|worked|working|knitting|take|swap|switch',
      ) ||
      (/^(?:it|that|this)$/.test(c.word(-1)) && c.phrase('is|becomes'));
    if (!verb) return null;
    says(c, 'between|with');
    s.which = roundsRef(c) ?? thatRound(c) ?? pairsLike(c);
    return s.which !== null;
  });
  if (
    !rounds &&
    (c.takes(() => passive(c, s)) || shapesOn(c) || alternates(c, s) || inTurns(c, s))
  ) {
    s.asks = true;
    return true;
  }
  const sets = c.takes(() => {
    says(c, WHO);
    says(c, 'make|do|work|knit|add|need|needs|repeat');
    return moreSets(c, s);
  });
  if (sets) {
    s.asks = true;
    return true;
  }
  const all = !rounds && saysAny(c, ALL_ALIKE) !== null;
  // "Keep repeating", "continue decreasing": what is meant is told behind the verb.
  if (!rounds && !all && saysAny(c, GOES) === null && !worksUntil(c)) return false;
  s.asks = true;
  says(c, 'to|on|by* work|working|knit|knitting|doing|repeating|repeat|do?');
  c.takes(() => says(c, 'to? alternate|alternating between?') !== null && !isUnit(c));
  return true;
}

const BEING =
  'are|is|get|gets|will|should|must|be|being|now|then|all|both|always|just|simply|to|from|here|on';
/** "Rounds 2 and 3 are now worked by turns", "rounds 2 and 3 alternate from here" */
function passive(c: TokenCursor, s: OpenGoing): true | null {
  says(c, WHO);
  const few = says(c, 'the|these|those|both* # @unit')?.[0];
  s.which = few != null ? { kind: 'last', count: few } : roundsRef(c);
  const told =
    s.which !== null &&
    (says(c, `${BEING}* repeated|alternated|alternate|alternates|repeat|swap`) !== null ||
      says(c, `${BEING}* take|takes turns`) !== null ||
      (says(c, `${BEING}* worked|knitted|knit|done|made|taken`) !== null && inTurn(c)));
  if (!told) s.which = null;
  return told || null;
}

/** "Always one plain round and one decrease round", "now 2 decreasing rounds and a plain one" */
function inTurns(c: TokenCursor, s: OpenGoing): boolean {
  return c.takes(() => {
    if (
      !says(c, 'and|then|now|from|here|on|so* always|now|then|on') &&
      !says(c, 'you|we|can|will|may|now* see|tell|guess how|what it|this|that goes|is|works on? :')
    )
      return null;
    if (c.word() === 'knit' || c.word() === 'work') c.i++;
    const { asks } = s;
    s.asks = true;
    if (describedPair(c, s) || (pairOfRounds(c, s) && s.tail.inARow !== null)) return true;
    s.asks = asks;
    return null;
  });
}

/** "A decrease round alternates with a plain round" */
function alternates(c: TokenCursor, s: OpenGoing): boolean {
  return c.takes(() => {
    says(c, WHO);
    if (!says(c, `a|an|the|one|1|each|every* ${SHAPING} @unit`)) return null;
    if (
      !says(c, `${BEING}* alternates|alternate|alternating|alternated with|and?`) &&
      !says(c, 'and')
    )
      return null;
    const both = c.word(-1) === 'and';
    const plain = plainRounds(c);
    if (
      !plain ||
      (both && !says(c, `${BEING}* alternate|follow|take|succeed each|one|turns? other|another?`))
    )
      return null;
    s.shapedRound = true;
    s.plainRounds = plain.n;
    s.tail.between ??= plain.stitch;
    return true;
  });
}

/** "Further decrease in such manner", "decrease again likewise": the cursor at the verb. */
function shapesOn(c: TokenCursor): boolean {
  return c.takes(() => {
    const { i } = c;
    says(c, `${WHO} further|still?`);
    const again = /\b(?:again|further|also|still)\b/.test(c.slice(i, c.i));
    const at = c.i;
    if (!c.isWord(DECREASE_WORDS) && !c.isWord(INCREASE_WORDS)) return null;
    if (isUnit(c, 1) || /(?:ing|s)$/.test(c.word())) return null;
    c.i++;
    const more = says(c, 'again|further|on|still') !== null || saysAny(c, IN_THIS_WAY) !== null;
    // "Decrease like this: …" tells how.
    const tells = c.mark(':');
    c.i = at;
    return again || (more && !tells) || null;
  });
}

const BY_TURNS = [
  'now|then|always* alternately|alternating between?',
  'now|then|always* in|by turn|turns|alternation',
];

/** "Work until 8 sts are left", "Work in the same way, …", "work alternately 1 decrease round and 1 round knit" */
function worksUntil(c: TokenCursor): boolean {
  return c.takes(() => {
    // "By turns work one round with decreases and one without"
    if (
      c.takes(
        () =>
          says(c, 'now|then|so* in|by turn|turns|alternation ,?') !== null &&
          says(c, 'you|we? work|knit|do') !== null,
      )
    )
      return true;
    if (says(c, `${WHO} alternate|alternating|alternates between?`)) return !c.isNumber() || null;
    if (!says(c, `${WHO} work|working|knit|knitting|do|doing`)) return null;
    const { i } = c;
    if (saysAny(c, BY_TURNS)) return true;
    if (/^(?:until|till)$/.test(c.word())) return c.word(-1) === 'work';
    const so = saysAny(c, ALSO_IN_THIS_WAY) !== null;
    c.i = i;
    return so;
  });
}

function likeTheLast(c: TokenCursor): boolean {
  const said = says(c, EVERY_ALIKE);
  return said !== null && (said[0] ?? 1) === 1 && (c.done || c.mark('.,;:!'));
}

/** "pairs of rounds like these" */
function pairsLike(c: TokenCursor): Going['which'] {
  const like =
    'more|further|the|same* pairs of @unit like|as this|that|these|those|them|before|the? last|two|2?';
  return says(c, like) ? { kind: 'last', count: 2 } : null;
}

function thatRound(c: TokenCursor): Going['which'] {
  return says(c, 'this|that|the|same|one|last|#* row|round|rnd|1?') && isUnit(c, -1)
    ? { kind: 'last', count: 1 }
    : null;
}

// ---- in what way ------------------------------------------------------------------------------

const ALSO_IN_THIS_WAY = [
  ...IN_THIS_WAY,
  'in|on the|this|that|same|established* pattern',
  'as|like you|we|i have|had been',
  'as you|we|i|it|they* are|were|is|have|began|begun|started|been|did|do|doing|going|stands*',
  'the? same again|thing?',
  'each|every time|go|pass|repeat',
  'per|a|an|in|each|every repeat|pass|go',
  'thereafter',
  '#? directly|exactly|always|on|top* above|over|of the|each|#* other|another|next|last',
];

/** "like rounds 4 and 5"; behind what is told of them also "…: work round 2" */
const likeRounds: Phrase = (c, s) =>
  c.takes(() => {
    if (s.which !== null) return null;
    const like = says(c, 'exactly|just|much* like|as|with in|on|for|at?') !== null;
    const told = s.shapedRound || s.tail.every !== null;
    if (like && !s.asks && !told) return null;
    if (!like && !(told && says(c, ':|,|and* work|repeat|do|working|repeating'))) return null;
    const which = roundsRef(c);
    if (which?.kind === 'numbers' ? like && which.numbers.length < 2 : which?.kind !== 'last')
      return null;
    s.which = which;
    return true;
  });

/** "the decreases of round 2 on all even rounds" */
const shapedAs: Phrase = (c, s) =>
  c.takes(() => {
    if (
      !says(
        c,
        'the|these|those|all|work|make|do|same|with* decreases|decrease|decs|increases|increase|shaping',
      )
    )
      return null;
    return readLikeRound(c, s.tail, 'of|from|in|on|for|to* the?') || null;
  });

const UNTIL = /^(?:until|till|up|down|to|for|with|always)$/;

const manner: Phrase = (c, s) => {
  // "Continue so, …", but "so that the decreases swirl"
  const so = c.takes(() => says(c, 'so') && (c.done || c.mark(',.;:-') || UNTIL.test(c.word())));
  if (!so && !saysAny(c, ALSO_IN_THIS_WAY) && !inTurn(c) && !aboveOther(c))
    return readManner(c, s.tail);
  s.tail.follows = true;
  // "Knit every odd round and decrease on every even one in the manner described"
  s.asks ||= s.imperative && (s.shapedRound || s.tail.every !== null);
  return true;
};

/** "in moss stitch": what the rounds between are a part of. */
const inFabric: Phrase = (c, s) =>
  c.takes(() => {
    if (s.tail.ground !== null || !says(c, 'in|working|keeping* to|in?')) return null;
    const ground = readFabric(c);
    if (!ground || ground.rule === 'set' || ground.rule === 'knits') return null;
    s.tail.ground = ground;
    return true;
  });

/** In order: what says more first. */
export const PHRASES: readonly Phrase[] = [
  until,
  (c, s) => readEachTime(c, s.tail),
  exception,
  (c, s) => readCrossingPart(c, s.tail),
  (c, s) => readStripesPart(c, s.tail),
  (c, s) => readBetweenLike(c, s.tail),
  likeRounds,
  shapedAs,
  (c, s) => readLikeRound(c, s.tail),
  describedPair,
  stated,
  inAll,
  (c, s) => readEndWith(c, s.tail),
  kinds,
  pairOfRounds,
  counts,
  (c, s) => readTimesPart(c, s.tail),
  fewer,
  (c, s) => readFewer(c, s.tail),
  shaped,
  manner,
  (c, s) => readEvery(c, s.tail),
  place,
  again,
  inFabric,
];
