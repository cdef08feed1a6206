/**
 * The phrases of a sentence that tells how the work goes on, each of one type. In: a cursor at the phrase, what has been
 * said so far. Out: true where it stands here, its meaning kept.
 */
import { DECREASE_WORDS, INCREASE_WORDS, REPEAT_VERBS } from '../../../lexicon/words.ts';
import type { Going } from '../../ast.ts';
import { bracketedCount, isUnit, roundsRef, unit } from '../../phrases.ts';
import { says, saysAny } from '../../rules.ts';
import { readEndWith } from '../../tail/end-round.ts';
import { readEvery } from '../../tail/every.ts';
import { besideShaping, EACH_ROUND, readFewer, readManner } from '../../tail/manner.ts';
import type { OpenTail } from '../../tail/open-tail.ts';
import { readInAll, readTimesPart } from '../../tail/times.ts';
import { readCondition, readUntil } from '../../tail/until.ts';
import { readStated } from '../../tail.ts';
import type { TokenCursor } from '../../token-cursor.ts';

/** A sentence while it is read. */
export interface OpenGoing {
  asks: boolean;
  stop: Going['stop'];
  which: Going['which'];
  readonly tail: OpenTail;
  /** Plain rounds of a pair: "a decrease round and a plain one". */
  plainRounds: number;
  shapedRound: boolean;
}

type Phrase = (c: TokenCursor, s: OpenGoing) => boolean;

// ---- verbs ------------------------------------------------------------------------------------

const WHO =
  'you|we|i|they|now|then|so|and|just|simply|please|next|from|here|on|thus|will|should|must|can|have|again|to|only|also|once|all|it|,*';
const GOES = [
  `${WHO} continue|continued|continuing|continues|cont|proceed|proceeded|proceeding on?`,
  `${WHO} carry|carried|carrying|carries|go|went|going|gone|goes|keep|kept|keeping|keeps|press|push|move on|going|at|it|up|along|ahead|this|that*`,
  `${WHO} and? so it? goes|on|forth on?`,
  `${WHO} repeat|rep|repeated|repeating in|like|thus|so`,
  `${WHO} repeat|rep|repeated|repeating|do|did|doing|work|working this|that|it|so|the|these|those|same|all|last* decreases|decrease|decreasing|decreasings|increases|increase|increasing|shaping`,
  `${WHO} do|did|doing|repeat|rep|repeated|repeating|work this|that|these|those|them|it|so|likewise`,
  `${WHO} do|did|doing|repeat|rep|repeated|repeating|work the? exact|very? same`,
  `${WHO} work|worked|working|knit|knitting on`,
  'the|these|this? same? decreases|decrease|decreasing|increases|increase|shaping is|are|be|being|now|then|all* continued|repeated|carried|worked|kept|made|done on|up|out?',
];
const ALL_ALIKE = [
  'all|every|each|the|work|knit|do* following|further|other|remaining|later|subsequent|next|even|odd|right|wrong|side|rs|ws|decrease|increase|of|the* @unit are|is|being|be|worked|knitted|done|made|now|then|just* in? the|exactly|just|much* same|like|likewise|so|as way|manner|one|this|that|before|above|first*',
];

const ALL_AS =
  'every|each|all the? other|following|further|remaining|subsequent|next? @unit are|is|will|be|being|worked|knitted|done|made|then|just|exactly|much* the? same|like|as as? @unit #';
const EVERY_ALIKE =
  'every|each|all the? single? @unit is|are|will|be|worked|just|exactly* the? same|alike';

/** "Carry on", "and so on", "I repeated that row", "all further rows are the same". */
export function heads(c: TokenCursor, s: OpenGoing): boolean {
  const rounds = c.takes(() => {
    const like = says(c, ALL_AS)?.[0];
    if (like != null) s.which = { kind: 'numbers', numbers: [like] };
    else if (says(c, EVERY_ALIKE) && (c.done || c.mark('.,;:!'))) s.which = { kind: 'these' };
    if (s.which) return true;
    says(c, WHO);
    says(c, 'continue|keep|carry|go|went|kept|on|to|just*');
    const verb =
      c.eatWord(REPEAT_VERBS) !== null ||
      c.phrase('repeated|work|doing|did|do|alternate|alternating|knit|worked');
    if (!verb) return null;
    s.which = roundsRef(c) ?? thatRound(c);
    return s.which !== null;
  });
  const all = !rounds && saysAny(c, ALL_ALIKE) !== null;
  // "Keep repeating", "continue decreasing": what is meant is told behind the verb.
  if (!rounds && !all && saysAny(c, GOES) === null) return false;
  s.asks = true;
  says(c, 'to|on|by* work|working|knit|knitting|doing|repeating|repeat|do?');
  return true;
}

function thatRound(c: TokenCursor): Going['which'] {
  return says(c, 'this|that|the|same|one|last|#* row|round|rnd|1?') && isUnit(c, -1)
    ? { kind: 'last', count: 1 }
    : null;
}

// ---- in what way ------------------------------------------------------------------------------

const ALSO_IN_THIS_WAY = [
  'in|on|along|after|by just|exactly|much|quite|precisely* the|this|that|these|same|established|similar* way|manner|fashion|lines|line|principle|style|sequence|rhythm|pattern|method',
  'like this|that|so|these|those|before',
  'as before|above|set|est|established|usual|described',
  'as you|we|i|it|they* are|were|is|have|began|begun|started|been|did|do|doing|going|stands*',
  'the? same again|thing?',
  'over and over',
  'again and again',
  'turn and turn about',
  'turn about|by',
  'by|in turn|turns|alternation',
  'alternately|alternating',
  'time after time',
  'round after|by|upon round',
  'row after|by|upon row',
  'each|every time|go|pass|repeat',
  'per|a|an|in|each|every repeat|pass|go',
  'worked? like|as @unit #',
  'thereafter|similarly|likewise|correspondingly',
];

const manner: Phrase = (c, s) => {
  if (!saysAny(c, ALSO_IN_THIS_WAY)) return readManner(c, s.tail);
  s.tail.follows = true;
  return true;
};

// ---- kinds of rounds --------------------------------------------------------------------------

const SOME =
  'all|every|each|the|of|both|these|those|following|further|later|remaining|next|subsequent|same|your*';

/** "on every wrong side row", "the odd ones", "on the way back": how many rounds make one of them. */
function kindOfRounds(c: TokenCursor): number | null {
  return c.attempt(() => {
    says(c, 'each|every|whenever|when time? you|we|i* work|knit|do|reach a|an|the') ??
      says(c, 'on|in|for|during|over|at|with');
    if (says(c, 'the|your way|journey|return|trip|row back')) return 2;
    says(c, SOME);
    let period: number | null = null;
    const sided = says(c, 'right|wrong side') !== null || says(c, 'rs|ws') !== null;
    if (sided || says(c, 'even|odd numbered?')) period = 2;
    else if (says(c, 'other|alternate|alternating|intervening|intermediate|between|in-between'))
      period = 2;
    else period = c.ordinal();
    if (period === null || period < 2) return null;
    if (!unit(c) && !says(c, 'one|ones') && !sided) return null;
    says(c, 'that|which|to follow|follows|come|remain');
    says(c, 'in? between|without them|these|decreases|decreasing|shaping|facing?');
    return period;
  });
}

const SHAPING = 'dec|decrease|decreasing|inc|increase|increasing|shaping|shaped';

type Done = 'k' | 'p' | 'plain' | 'shape';

const PLAINLY =
  'just|only|simply|always|you|we|i|nothing|but|then|being|is|are|be|will|get|gets|to|all|worked|again|as|before|have|has|there|,|work|should|must*';
const NO_SHAPING =
  'without|with|no|not|any* decreasing|decreases|decrease|increasing|increases|increase|shaping';

/** "knit plain", "purled", "without decreasing", "nothing but purl" */
function doing(c: TokenCursor): Done | null {
  return c.attempt(() => {
    says(c, PLAINLY);
    const word = (what: string): boolean => says(c, `plain|all? ${what}`) !== null;
    const done: Done | null = word('knit|knitted|knitting|k')
      ? 'k'
      : word('purl|purled|purling|p')
        ? 'p'
        : says(c, 'plain|even|straight|unshaped') || says(c, NO_SHAPING)
          ? 'plain'
          : null;
    // ", even rounds knit"
    if (!done || (c.word(-1) === 'even' && isUnit(c))) return null;
    if (
      c.isNumber() ||
      (c.peek()?.kind === 'word' && /^(?:to|until|till|into|through)$/.test(c.word()))
    )
      return null;
    says(c, 'plain|even|straight|across|everything|throughout|back|them|on*');
    says(c, 'all? the? @sts');
    says(c, NO_SHAPING);
    return done;
  });
}

/** "knit every wrong side row", "the odd rounds are purled", "purl back": what some of the rounds are. */
const kinds: Phrase = (c, s) =>
  c.takes(() => {
    // "working on the even rounds 2 sts fewer"
    says(c, 'working|with|having');
    const before = kindOfRounds(c);
    const what = doing(c);
    if (what) {
      const back = /^back$/.test(c.word(-1)) ? 2 : null;
      const behind = kindOfRounds(c);
      // "decreasing on every RS row, knit WS rows"
      if (before !== null && behind !== null) return null;
      const period = before ?? back ?? behind;
      return period !== null && keepKind(s, what, period);
    }
    if (before === null) return null;
    says(c, PLAINLY);
    says(c, 'in|the|same|way|manner|as|before*');
    if (!change(c, s) && !says(c, `a|an|the* ${SHAPING} @unit|ones`) && !fewer(c, s)) return null;
    return keepKind(s, 'shape', before);
  });

function keepKind(s: OpenGoing, what: Done, period: number): boolean {
  if (what === 'k' || what === 'p') s.tail.between ??= what;
  if (what === 'shape') s.shapedRound = true;
  if (what === 'shape' || period === 2) s.tail.every ??= period;
  return true;
}

/** "a purl round", "2 plain rounds", "one round purled", "a plain one knitted": how many of them. */
function roundsOf(c: TokenCursor, what: string): number | null {
  return c.attempt(() => {
    const n =
      says(
        c,
        `a|an|the|every|each|another|#* plain|even|whole|single* ${what} @unit|ones ${LIKE}?`,
      ) ?? says(c, `a|an|the|#* plain|even|single* @unit|ones with|of? ${what} knitting?`);
    if (n) return n[0] ?? 1;
    const one = says(c, `a|an|the|another plain|even|single* ${what} # ${LIKE}?`);
    return one?.[0] === 1 ? 1 : null;
  });
}

const LIKE = 'plain|knitted|purled|straight|worked';
const PLAIN_ROUNDS: readonly (readonly ['k' | 'p' | null, string])[] = [
  ['p', 'purl|purled|p'],
  ['k', 'knit|knitted|knitting|k|stockinette'],
  [null, 'plain|even|straight|unshaped'],
];
const AFTER_EACH =
  'after|following|between|before|follows|behind|in each|every|them|these|it|the|decrease|decreases|decreasing|increase|increases|increasing|one|time|two|shaping*';

/** "2 decrease rounds & 1 knit round": the last three, as they stand. */
function rowOfRounds(c: TokenCursor, s: OpenGoing, shaping: number): boolean {
  says(c, ',|and|&|then|followed|by*');
  for (const [, what] of PLAIN_ROUNDS) {
    const plain = roundsOf(c, what);
    if (plain === null || s.which !== null) continue;
    s.which = { kind: 'last', count: shaping + plain };
    return true;
  }
  return false;
}

/** "a decreasing round knitted and a plain one purled", "with a purl round after each decrease round" */
const pairOfRounds: Phrase = (c, s) =>
  c.takes(() => {
    const after = says(c, 'after|behind|following|upon each|every') !== null;
    says(c, 'is|are|always|and|with|followed|by|there|then|comes*');
    // "a round of knitting 2 together at both ends of each needle"
    const told = c.takes(
      () => says(c, 'a|one|1 @unit of|with') !== null && (again(c, s) || change(c, s)),
    );
    const shaping = told ? 1 : roundsOf(c, `${SHAPING}|decreased|decreases|increases|corners`);
    if (shaping !== null && shaping > 1) return !after && rowOfRounds(c, s, shaping);
    if (shaping === 1) {
      s.shapedRound = true;
      if (after) {
        // "After every decrease round purl a round."
        says(c, ',|work|you*');
        const what = doing(c);
        if (!what || what === 'shape' || !says(c, 'a|# @unit')) return null;
        s.plainRounds = 1;
        if (what !== 'plain') s.tail.between ??= what;
      }
      return true;
    }
    if (after) return null;
    // "decrease one round, purl the next"
    if (s.asks && says(c, `${SHAPING} # @unit`)?.[0] === 1) {
      s.shapedRound = true;
      return true;
    }
    if (s.shapedRound) {
      const next = c.attempt(() => {
        const what = doing(c);
        return what && says(c, 'the next|other|following @unit?') ? what : null;
      });
      if (next) return keepKind(s, next, 2);
    }
    for (const [stitch, what] of PLAIN_ROUNDS) {
      const n = roundsOf(c, what);
      if (n === null) continue;
      const each = says(c, AFTER_EACH) !== null;
      if (each) unit(c);
      // "then work a purl round" behind the end asks for one.
      if (!each && !(s.tail.untilStitches === null && (s.asks || s.shapedRound))) return null;
      s.plainRounds = n;
      s.tail.between ??= stitch;
      return true;
    }
    return null;
  });

// ---- how many fewer ---------------------------------------------------------------------------

const THAN = 'than the|in|on|before|last|one|time|previous*';
const TAKING =
  'you|we|get|adding|taking|take|takes|working|work|having|knitting|knit|making|makes|with|leaving|leave|has|have|gets|there|being|is|are|always|where|each|every|time*';

/** "2 sts fewer between the decreases", "8 stitches more": of the runs between the shaping, or of the whole round. */
const fewer: Phrase = (c, s) =>
  c.takes(() => {
    says(c, TAKING);
    const n =
      says(c, '# knit|plain? @sts? fewer|less|more|extra knit|plain? @sts?') ??
      says(c, '# fewer|less|more|extra knit|plain? @sts?') ??
      (says(c, 'a knit|plain? @sts fewer|less|more|extra') ? [1] : null);
    if (n?.[0] == null) return null;
    let more = false;
    for (let k = 1; k < 6; k++) more ||= /^(?:more|extra)$/.test(c.word(-k)) && !c.isNumber(-k);
    const amount = more ? -n[0] : n[0];
    says(c, THAN) ?? says(c, 'to knit|work|purl');
    // "8 stitches more, 2 on each side"
    const each = says(
      c,
      ',|(|-|that|is* # @sts? more|fewer|less? on|in|at|per each|every? @shared )?',
    );
    if (each?.[0] != null) {
      if (amount % each[0] !== 0) return null;
      s.tail.eachPass ??= -amount;
    } else if (besideShaping(c)) s.tail.fewer ??= amount;
    else s.tail.eachPass ??= -amount;
    says(c, THAN);
    says(c, EACH_ROUND);
    return true;
  });

const BY = 'by|once|another|further|a* #';

/** "decreasing 8 stitches", "2 sts being lost", "gaining a stitch", "takes away 8 sts" */
function change(c: TokenCursor, s: OpenGoing): boolean {
  return c.takes(() => {
    const lost =
      says(c, '# @sts? are|is|being|be|were|get* lost|decreased|taken|gone away|off|out?') ??
      says(c, 'takes|take|taking|taken away|off|out # @sts?') ??
      says(c, 'takes|take|taking # @sts? away|off|out');
    const won =
      says(c, '# @sts? are|is|being|be|were|get* gained|increased|added|made') ??
      says(c, 'adds|adding|add # @sts?');
    if (lost ?? won) {
      s.tail.eachPass ??= lost ? -(lost[0] ?? 0) : (won?.[0] ?? 0);
      return true;
    }
    const less = c.isWord(DECREASE_WORDS);
    if ((!less && !c.isWord(INCREASE_WORDS)) || isUnit(c, 1)) return null;
    c.i++;
    const n = c.attempt(() => {
      if (says(c, 'once')) return 1;
      if (says(c, 'a|single* @sts')) return 1;
      const told = says(c, `${BY} @sts?`);
      return isUnit(c) || /^times?$/.test(c.word()) ? null : (told?.[0] ?? null);
    });
    if (n !== null) s.tail.eachPass ??= less ? -n : n;
    return true;
  });
}

const shaped: Phrase = (c, s) => {
  if (!change(c, s)) return false;
  says(c, 'a|per @unit');
  place(c, s);
  // "decreasing at both ends of every needle in one round and purling the next"
  if (says(c, 'in|on a|one|# @unit')) s.shapedRound = true;
  return true;
};

/** "88, 80, 72 sts", "you will have 18 on each needle after the first time, then 16, then 14" */
const counts: Phrase = (c, s) =>
  c.takes(() => {
    if (s.tail.counts !== null) return null;
    c.eatMark(':-=(');
    const first = says(
      c,
      'you|we|there|will|then|now|have|are|be|leaving|giving|gives|should|get* # @sts? left|remaining?',
    );
    if (first?.[0] == null) return null;
    const each = says(c, 'on|in|per each|every|a @shared');
    const after = says(c, 'after|at the|first|next|this|%|time|go|@unit|decreasing|decrease|dec*');
    const list = [first[0]];
    while (list.length < 200) {
      const next = says(c, ',|then|and|to|after|that|next|;|-|/* # @sts?');
      if (next?.[0] == null || list[list.length - 1] === next[0]) break;
      list.push(next[0]);
    }
    if (list.length < 2 || (list.length < 3 && !after)) return null;
    const goesOn = says(c, ',? and? so on|forth') !== null || says(c, ',? etc') !== null;
    says(c, '@sts? left|remain|remaining|in|turn?');
    c.eatMark(')');
    s.tail.counts = { list, perSide: each !== null, all: after === null && !goesOn };
    return true;
  });

// ---- where ------------------------------------------------------------------------------------

const PLACES =
  'beginning|start|end|ends|middle|centre|center|corner|corners|side|sides|edge|edges|needle|needles|dpn|dpns|place|places|spot|spots|marker|markers|section|sections|quarter|quarters|decreases|decrease|increases|other|another';
const WHERE =
  'at|in|on|along|over|before|after|beside|by|above|between|either|each|both|every|of|exactly|always|directly|right* the|a|each|every|both|either|all|same|of|your|very|these|those|two|2|one|last|previous|first|marked|double|central*';
const OF = `of|on|in|to|as the|each|every|all|both|a|your|these|other* ${PLACES}`;

/** "in the middle of each needle", "at the end of every dpn": says again where the shaping stands. */
const place: Phrase = (c) =>
  c.takes(() => {
    if (!says(c, `${WHERE} ${PLACES}`)) return null;
    for (let n = 0; n < 4 && says(c, OF); n++);
    return !isUnit(c);
  });

/** "knitting the last two stitches of each needle together": says again what the shaping is. */
const WHAT = [
  'knitting|working|purling|taking the? first|last|end|two|2|and* #? @sts? of|on|at|in|the|each|every|all|both|needle|needles|dpn|dpns|side|section* together',
  'with|using|and? the|a|an|your|this|these* double|single|central|centred|paired|left|right|leaning|slanting* decrease|decreases|increase|increases|yarn|overs',
];
const again: Phrase = (c) => saysAny(c, WHAT) !== null;

// ---- where it stops ---------------------------------------------------------------------------

const STOP = [
  ',|then|and|can* stop|finish|halt there|here|now|decreasing|knitting|increasing?',
  ',|then|and|now* you|we|i are|am done|finished|ready|through|there decreasing?',
  ',|then|and* that|this|it is|was it|all|enough|done|finished',
  ',|then* it is time to|for stop',
];
const WHEN = 'when|once';

/** "Stop when you have 3 stitches", "When a decreasing round has left you only two on each needle, stop" */
export function stops(c: TokenCursor, s: OpenGoing): boolean {
  if (s.tail.untilStitches !== null) {
    if (!saysAny(c, STOP)) return false;
    s.stop = 'said';
    return true;
  }
  return c.takes(() => {
    const said =
      says(c, ',|and|then|you|we|i|only|can* stop|finish|end|stopped|finished|done') !== null;
    const after = said && says(c, 'after|at|with|on') !== null;
    if (!after && !says(c, `and|but|, ${WHEN}`) && !says(c, WHEN) && !says(c, 'as soon as'))
      return null;
    const { tail } = s;
    if (!readCondition(c, tail) || (tail.untilStitches ?? tail.untilRounds) === null) return null;
    c.takes(() => readEndWith(c, tail));
    s.stop = said || saysAny(c, STOP) ? 'said' : 'told';
    return true;
  });
}

/** "You should end with 16 sts after round 28", "After the 28th round 16 stitches remain" */
export function outcome(c: TokenCursor, s: OpenGoing): boolean {
  return c.takes(() => {
    const { tail } = s;
    const round = afterRound(c);
    const ends = says(
      c,
      'you|we|i|this|that|it|one|will|should|must|now|then|may|can|finally* end|ends|finish|finishes|arrive|are|be|is up|left? with|at',
    );
    if (!ends && round === null) return null;
    const { i } = c;
    const has = says(c, ',|there|you|we|i|should|will|have|are|be|only|just|still|the|last*');
    if (!c.isNumber() || !readCondition(c, tail) || tail.untilStitches === null) return null;
    const left = /^(?:remain|remains|remaining|left|rem|over|needles?)$/.test(c.word(-1));
    if (!ends && !left && !(has && /\b(?:have|are|be)\b/.test(c.slice(i, c.i)))) return null;
    tail.untilRound = round ?? afterRound(c);
    s.stop = 'told';
    return true;
  });
}

function afterRound(c: TokenCursor): number | null {
  const n =
    says(c, 'after|on|at|in|with|completion|the|end|of|having|worked|finished* @unit #') ??
    says(c, 'after|on|at|in|with|completion|the|end|of|having|worked|finished* % @unit');
  return n?.[0] ?? null;
}

/** "you need 38 rows altogether": how many there will be, with those before. */
const inAll: Phrase = (c, s) =>
  c.takes(() => {
    const { tail } = s;
    if (tail.untilRounds !== null) return null;
    says(c, 'so|that|is|there|you|we|will|should|must|need|want|have|are|be|makes|making*');
    const total = says(c, 'a total of') !== null;
    const n = says(c, '# @unit')?.[0];
    if (n == null || !(readInAll(c, tail) || total)) return null;
    tail.untilRounds = n;
    tail.fromStart = true;
    s.stop ??= 'told';
    return true;
  });

const until: Phrase = (c, s) => readUntil(c, s.tail);
const stated: Phrase = (c, s) => {
  const count = bracketedCount(c);
  if (count) s.tail.stated ??= count;
  return (
    count !== null || (c.mark('-=:') && (s.asks || s.tail.fewer !== null) && readStated(c, s.tail))
  );
};

/** In order: what says more first. */
export const PHRASES: readonly Phrase[] = [
  until,
  stated,
  inAll,
  kinds,
  (c, s) => readEndWith(c, s.tail),
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
];
