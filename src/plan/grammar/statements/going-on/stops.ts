/**
 * Where the work stops that a sentence tells of: "until 8 sts remain", "when a round has left 48, stop". In: a cursor at the
 * phrase, what has been said so far. Out: true where it stands here, its meaning kept.
 */
import type { Going, Tail } from '../../ast.ts';
import { bracketedCount, isUnit } from '../../phrases.ts';
import { says, saysAny } from '../../rules.ts';
import type { StatedCount } from '../../steps/stated-counts.ts';
import { readEndWith } from '../../tail/end-round.ts';
import { readInAll } from '../../tail/times.ts';
import { readCondition, readUntil } from '../../tail/until.ts';
import { readStated } from '../../tail.ts';
import type { TokenCursor } from '../../token-cursor.ts';
import type { OpenGoing, Phrase } from './going.ts';

const STOP = [
  ',|then|and|can* stop|finish|halt there|here|now|decreasing|knitting|increasing?',
  ',|then|and|you|now* start|begin to? decrease|decreasing|increase|increasing',
  ',|then|and|now* you|we|i are|am done|finished|ready|through|there decreasing?',
  ',|then|and* that|this|it is|was it|all|enough|done|finished',
  ',|then* it is time to|for stop',
];
const WHEN = 'when|once';

const JUST = 'straight|right|directly|immediately|just|only|then*';

/** "Stop when you have 3 stitches", "When a decreasing round has left you only two on each needle, stop" */
export function stops(c: TokenCursor, s: OpenGoing): boolean {
  if (s.tail.untilStitches !== null) {
    if (!saysAny(c, STOP)) return false;
    s.stop = 'said';
    return true;
  }
  return c.takes(() => {
    const said =
      says(c, ',|and|then|you|we|i|only|can* stop|finish|end|stopped|finished|done|quit|halt') !==
      null;
    const after = said && says(c, `${JUST} after|at|with|on|behind`) !== null;
    if (!after && !says(c, `and|but|,? ${WHEN}`) && !says(c, 'as soon as')) return null;
    const { tail } = s;
    // "Stop after the 20th round with 66 sts"
    const last = c.attempt(() => {
      const n = after && (says(c, 'the|your? @unit #') ?? says(c, 'the|your? % @unit'));
      return n && !/^(?:that|which)$/.test(c.word()) ? n : null;
    });
    if (last?.[0] != null) {
      tail.untilRound = last[0];
      says(c, 'with|at|on|and|,|you|have|there|are*');
      const left = says(c, '# @sts left|remaining|on|the|needles*')?.[0];
      if (left != null) tail.stated ??= { total: left, perSide: null, change: null };
      s.stop = 'said';
      return true;
    }
    if (!readCondition(c, tail) || (tail.untilStitches ?? tail.untilRounds) === null) return null;
    c.takes(() => readEndWith(c, tail));
    s.stop = said || saysAny(c, STOP) ? 'said' : 'told';
    // "When 16 rounds are complete there are 48 sts": of all.
    tail.fromStart ||= s.stop === 'told' && tail.untilRounds !== null;
    return true;
  });
}

const NOTHING_BETWEEN =
  ',? there is|are|remain|remains|will|be* no|0|zero more|further|longer* any? plain|knit? @sts left|more|any|now* between the|each|2|two* decreases|decrease|decs|them|k2tog and|,|so* and?';

/** How long is told by how many there will be, and when. */
export function isOutcome({ stop, tail }: Pick<Going, 'stop' | 'tail'>): boolean {
  return stop === 'told' && tail.untilRound !== null && tail.untilStitches !== null;
}

/** "By round 10 you have 40, by round 18 you have 8": the counts before the last are told on the way. */
export function outcome(c: TokenCursor, s: OpenGoing): boolean {
  const { tail } = s;
  const former = { ...tail };
  const again = isOutcome(s);
  if (again) Object.assign(tail, { untilRound: null, untilStitches: null, perSide: false });
  const got = c.takes(() => oneOutcome(c, s, again) && (!again || tail.untilRound !== null));
  if (!got) Object.assign(tail, former);
  else if (again) tail.stated = onTheWay(former, former.stated);
  return got;
}

/** What a tail tells of its last round, as one of the counts on the way. */
export function onTheWay(told: Tail, others: StatedCount | null): StatedCount {
  const { untilStitches, untilRound, perSide } = told;
  const [total, side] = perSide ? [null, untilStitches] : [untilStitches, null];
  const count = { total, perSide: side, change: null, round: untilRound ?? undefined };
  const before = [...(others?.before ?? []), count];
  return { total: null, perSide: null, change: null, ...others, before };
}

/** "You should end with 16 sts after round 28", "After the 28th round 16 stitches remain", "There remain 8 sts in round 18" */
function oneOutcome(c: TokenCursor, s: OpenGoing, again: boolean): true | null {
  const { tail } = s;
  const round = afterRound(c);
  const ends = says(
    c,
    'you|we|i|this|that|it|one|will|should|must|now|then|may|can|finally* end|ends|finish|finishes|arrive|are|be|is|up|left with|at',
  );
  const first =
    !ends &&
    round === null &&
    (says(c, `${LEFT} remain|remains|stay|stays|are|is|rest`) !== null || c.isNumber());
  if (!ends && round === null && !first) return null;
  // "On the 12th row there are no sts between the decreases and 10 sts are left"
  if (round !== null) says(c, NOTHING_BETWEEN);
  const { i } = c;
  const has = says(
    c,
    ',|=|:|-|there|you|we|i|one|should|will|must|have|has|leave|bring|brings|keep|keeps|count|counts|get|gets|are|be|only|just|still|the|last|remain|remains|leaves|leaving|gives|rem*',
  );
  if (!c.isNumber() || !readCondition(c, tail) || tail.untilStitches === null) return null;
  const left = /^(?:remain|remains|remaining|left|rem|over|needles?)$/.test(c.word(-1));
  const counts =
    has &&
    /\b(?:have|has|counts?|gets?|are|be|rem\w*|lea\w+|brings?|gives)\b|=/.test(c.slice(i, c.i));
  // "…, and round 18 just 8": the verb of the count before
  if (!ends && !first && !left && !counts && !(again && has)) return null;
  if (/^(?:fewer|less|more|extra)$/.test(c.word())) return null;
  says(c, 'left|remain|remaining|on|the|your|needles|you|have|are|still*');
  tail.untilRound = round ?? tail.untilRound ?? afterRound(c);
  if (first && tail.untilRound === null) return null;
  s.stop = 'told';
  return true;
}

const LEFT = 'there|then|now|so|only|still|,|and|you|will|should*';
const AT_END = 'after|on|at|in|with|by|completion|the|end|of|having|worked|finished*';
const DONE = 'is|are|has|been|was|you|have* done|worked|finished|completed|complete|knitted';

/** "After the 28th round", "when round 18 is done", "r20 =" */
function afterRound(c: TokenCursor): number | null {
  const n =
    says(c, 'when|once|you|have|worked|done|finished* the? @unit|r #') ??
    says(c, `${AT_END} @unit|r #`) ??
    says(c, `${AT_END} % @unit`);
  // "round 18 you have 8" leaves the verb of the count.
  if (n) says(c, DONE);
  if (n && /^(?:@|rnd|round|row|r)$/.test(c.word(-2)) && !c.mark('=,:-') && c.isNumber())
    return null;
  return n?.[0] ?? null;
}

/** "you need 38 rows altogether": how many there will be, with those before. */
export const inAll: Phrase = (c, s) =>
  c.takes(() => {
    const { tail } = s;
    if (tail.untilRounds !== null) return null;
    says(c, 'so|that|is|there|you|we|will|should|must|need|want|have|are|be|makes|making*');
    const total = says(c, 'a total of') !== null;
    // "Do 38 altogether"
    const n = (says(c, '# @unit') ?? says(c, 'do|work|knit #'))?.[0];
    const bare = n != null && !isUnit(c, -1);
    // "50 rows of it"
    const ofIt = n != null && says(c, 'of it|this|that|them|these') !== null;
    if (n == null || !(ofIt || readInAll(c, tail) || total)) return null;
    if (bare && !c.done && !c.mark('.;')) return null;
    tail.untilRounds = n;
    tail.fromStart = !ofIt;
    s.stop ??= 'told';
    return true;
  });

/** "until 8 sts remain" */
export const until: Phrase = (c, s) => readUntil(c, s.tail);
/** "…till round 20 is done and 16 sts are on the needles" */
const LEAVES =
  ',|and|with|where|when|at|point|then|which|leaves|leaving|giving|there|you|have|are|has|=* # @sts left|remain|remaining|are|on|your|the|needles*';
export const stated: Phrase = (c, s) => {
  const left = s.tail.untilRound === null || s.tail.stated ? null : says(c, LEAVES);
  if (left?.[0] != null) {
    s.tail.stated = { total: left[0], perSide: null, change: null };
    return true;
  }
  // "5 more times, and you will have 16 on each needle"
  if (s.tail.times !== null && c.mark(',') && readStated(c, s.tail)) return true;
  const count = bracketedCount(c);
  if (count?.inTurn) s.tail.counts ??= { list: count.inTurn, perSide: false, all: true };
  else if (count) s.tail.stated ??= count;
  return (
    count !== null || (c.mark('-=:') && (s.asks || s.tail.fewer !== null) && readStated(c, s.tail))
  );
};
