/**
 * A sentence that tells how the work goes on, as phrases in any order (`going-on/phrases.ts`): a verb of going on, what is
 * shaped and where, in which rounds, what the rounds between are, how many fewer each time, until what. In: a cursor at
 * the sentence. Out: what it says; null and the cursor unmoved where a word is left that could ask for something.
 */
import {
  DECREASE_WORDS,
  DESCRIBING,
  FILLERS,
  INCREASE_WORDS,
  INSTRUCTING_VERBS,
  LEADS,
  ROUND_WORDS,
  ROW_WORDS,
  SIDE_WORDS,
  STITCH_WORDS,
} from '../../lexicon/words.ts';
import type { Going } from '../ast.ts';
import { isUnit } from '../phrases.ts';
import { isRemark } from '../remarks.ts';
import { saysAny } from '../rules.ts';
import { readEndWith } from '../tail/end-round.ts';
import { emptyTail } from '../tail/open-tail.ts';
import { readTimesPart } from '../tail/times.ts';
import type { TokenCursor } from '../token-cursor.ts';
import { isHarmless, isStitchWord } from '../word-law.ts';
import type { OpenGoing } from './going-on/going.ts';
import { isBetween, pairOfRounds } from './going-on/kinds.ts';
import { heads, PHRASES } from './going-on/phrases.ts';
import { isOutcome, outcome, stops } from './going-on/stops.ts';

/** Most tokens of the sentence. Chosen: a longer one is no instruction. */
const LONGEST = 120;

/** `which`: the rounds that words before the cursor name; `asks`: those words ask to go on. */
export function readGoingOn(
  c: TokenCursor,
  which: Going['which'] = null,
  asks = which !== null,
): Going | null {
  const { end } = c;
  c.end = Math.min(end, c.i + LONGEST);
  const cut = c.end < end;
  const got = c.attempt(() => sentence(c, cut, which, asks));
  c.end = end;
  return got;
}

function sentence(c: TokenCursor, cut: boolean, named: Going['which'], led: boolean): Going | null {
  let s: OpenGoing = {
    asks: led,
    imperative: imperative(c),
    stop: null,
    which: named,
    tail: emptyTail(),
    plainRounds: 0,
    shapedRound: false,
    beside: false,
  };
  if (!named && !begins(c, s)) {
    c.skip(LEADS);
    saysAny(c, FROM_HERE);
    if (!begins(c, s)) return null;
  }
  // "In every second round go on decreasing as before"
  if (!s.asks && !s.imperative) c.takes(() => (c.eatMark(',') !== null || true) && heads(c, s));
  const start = c.i;
  /** The last place behind which another instruction may stand, and what had been said there. */
  let whole: { readonly at: number; readonly s: OpenGoing } | null = null;
  /** Words of a remark may be any that ask for nothing. */
  let remark = 0;
  /** The first full stop or semicolon that was gone over because nothing before it tells how long. */
  let over: { readonly at: number; readonly s: OpenGoing } | null = null;
  while (!c.done) {
    if (c.mark('.;!?')) {
      endsAtRound(s);
      const like = s.which ?? s.tail.likeRound;
      if (!s.asks || isBounded(s) || c.i + 1 >= c.end || c.mark('!?')) break;
      if (like !== null && !saysHowOften(c)) break;
      over ??= { at: c.i, s: { ...s, tail: { ...s.tail } } };
      c.i++;
      c.eatMark('.-');
    }
    if (c.mark(',:-') || /^(?:and|then)$/.test(c.word())) {
      if (isBounded(s)) whole = { at: c.i, s: { ...s, tail: { ...s.tail } } };
    }
    if ((isOutcome(s) || (s.asks && !isBounded(s))) && outcome(c, s)) continue;
    if (PHRASES.some((read) => read(c, s)) || stops(c, s)) continue;
    if (c.eatMark('([')) {
      remark++;
      continue;
    }
    if (c.eatMark(')]') || c.eatMark(',')) {
      remark = 0;
      continue;
    }
    if (saysAny(c, REMARKS)) {
      remark++;
      continue;
    }
    // "(not on the last side)" changes what is asked.
    if (LIMITS.test(c.word()) || (!idle(c) && !(remark > 0 && soft(c)) && !asideBehind(c, start)))
      break;
  }
  // "Decrease every round as in round 2, until …"
  s.asks ||= s.imperative && s.tail.follows && s.tail.every !== null;
  // "Work a plain round between the decrease rounds until 8 sts remain."
  s.asks ||= s.shapedRound && s.plainRounds > 0 && s.tail.untilStitches !== null;
  endsAtRound(s);
  if (over && (!isBounded(s) || (!c.done && !c.mark('.;!?')))) {
    c.i = over.at;
    ({ s } = over);
    endsAtRound(s);
  }
  // "…; end with a purl round"
  const { tail: open } = s;
  if (open.endWith === null && c.mark('.;')) {
    if (!c.takes(() => readEndWith(c, open) && (c.done || c.mark('.;!?')))) open.endWith = null;
  }
  const ended = c.mark('.;!?') || (c.done && !cut);
  if (!ended || !holds(s)) {
    if (!whole || !holds(whole.s)) return null;
    c.i = whole.at;
    ({ s } = whole);
  }
  const { asks, stop, which, tail, plainRounds, shapedRound } = s;
  if (plainRounds > 0 && (asks || shapedRound)) tail.every ??= plainRounds + 1;
  // "7 more times, with a plain round after each": behind the last as well.
  if (tail.afterEach && tail.times !== null) tail.endWith ??= { like: 'plain' };
  return { asks, stop, which, tail };
}

/** "…. 5 more times." */
function saysHowOften(c: TokenCursor): boolean {
  return c.ahead(() => {
    c.i++;
    return readTimesPart(c, emptyTail()) && (c.done || c.mark('.,;'));
  });
}

/** "…, ending with round 20": how far it goes, where nothing else says so. */
function endsAtRound(s: OpenGoing): void {
  const { tail, asks } = s;
  if (!asks || isBounded(s) || !tail.endWith || !('number' in tail.endWith)) return;
  tail.untilRound = tail.endWith.number;
  tail.endWith = null;
}

function imperative(c: TokenCursor): boolean {
  return c.ahead(() => {
    c.skip(LEADS);
    saysAny(c, FROM_HERE);
    return /^(?:decrease|increase|knit|purl)$/.test(c.word()) && !isUnit(c, 1);
  });
}

const FROM_HERE = [
  'from|starting|beginning with|from? the? @unit # on|onwards? ,?',
  'from|starting|beginning with|from? the? % @unit on|onwards? ,?',
  '@unit|r # on|onwards|onward :|,?',
  'from|starting|beginning from? now|here|there|this|that|point|round|then|on|onwards|onward|forward|forth|out* ,?',
  'after that|this ,?',
];

function begins(c: TokenCursor, s: OpenGoing): boolean {
  if (isBetween(c)) return pairOfRounds(c, s);
  return heads(c, s) || outcome(c, s) || stops(c, s) || PHRASES.some((read) => read(c, s));
}

export function isBounded({ tail, stop }: Pick<Going, 'tail' | 'stop'>): boolean {
  const { untilStitches, untilRounds, untilRound, times, lastStitches } = tail;
  const bound = untilStitches ?? untilRounds ?? untilRound ?? times ?? lastStitches;
  return stop !== null || bound !== null;
}

/** Something has been said, and nothing that decides how long is left unread. */
function holds({ asks, stop, which, tail, shapedRound }: OpenGoing): boolean {
  const { every, between, fewer, eachPass, counts, times, follows } = tail;
  const until = tail.untilStitches ?? tail.untilRound ?? tail.untilRounds;
  if (tail.open || (times !== null && which === null && every === null)) return false;
  if (stop !== null || which !== null || shapedRound || leavesOut(tail)) return true;
  if ((every ?? between ?? fewer ?? counts) !== null) return true;
  return asks && (follows || (eachPass ?? until) !== null);
}

/** "Do not knit round 4 after the last of these": said of what stands before. */
function leavesOut({ endWith }: OpenGoing['tail']): boolean {
  return endWith !== null && 'without' in endWith && !endWith.always;
}

const LIMITS = /^(?:not|never|except|excepting|unless|omitting|skipping)$/;

/** What begins a remark: "so that the decreases travel in a swirl", "always keeping the moss stitch correct". */
const REMARKS = [
  'so|such that|as',
  'which|where|whereby|because|since|while|whenever|wherever|if|as|like',
  'always|while? keeping|maintaining|moving|slipping|carrying|changing|switching|sloping|slanting|leaning|running|swirling|travelling|traveling|forming',
];

/** "…, and the holes carry on just the same": the rest of the clause, or of the sentence, is a remark; the cursor behind it. */
function asideBehind(c: TokenCursor, start: number): boolean {
  let from = c.i;
  while (from > start && !/^(?:,|and|but)$/.test(c.tokens[from - 1].text)) from--;
  if (from === start) return false;
  for (const ends of [/^[.;!?]$/, /^[,.;!?]$/]) {
    let stop = c.i;
    while (stop < c.end && !ends.test(c.tokens[stop].text)) stop++;
    // A count is told of the piece, and is no remark.
    const counts = c.tokens.slice(c.i, stop).some((t) => t.kind === 'number');
    if (counts || !isRemark(c.tokens.slice(from, stop), true)) continue;
    c.i = stop;
    return true;
  }
  return false;
}

/** A word or mark that asks for nothing wherever it stands. */
function idle(c: TokenCursor): boolean {
  const t = c.peek();
  if (t?.kind === 'mark') return c.eatMark(':&"\'-') !== null;
  if (t?.kind !== 'word') return false;
  if (!FILLERS.has(t.text) && !IDLE.has(t.text)) return false;
  c.i++;
  return true;
}

const IDLE: ReadonlySet<string> = new Set(
  'ie has have had having gives giving makes making i me my them they are is was were there time times-over so but only down up back over no too much about such up just doing get gets getting gotten last turn turns turnabout own way ones'.split(
    ' ',
  ),
);

/** A word of a remark: no number, no verb of work, no stitch. */
function soft(c: TokenCursor): boolean {
  const t = c.peek();
  if (t?.kind !== 'word' || isStitchWord(t)) return false;
  const noun =
    NOUNS.some((set) => set.has(t.text)) && !(INSTRUCTING_VERBS.has(t.text) && opensClause(c));
  if (!noun && !DESCRIBING.has(t.text) && !isHarmless(t)) return false;
  c.i++;
  return true;
}

const NOUNS: readonly ReadonlySet<string>[] = [
  STITCH_WORDS,
  ROUND_WORDS,
  ROW_WORDS,
  DECREASE_WORDS,
  INCREASE_WORDS,
  SIDE_WORDS,
  new Set(['knit', 'purl', 'slip', 'turn', 'slipping', 'keeping']),
];

/** A verb in the imperative may stand here. */
function opensClause(c: TokenCursor): boolean {
  return c.mark(',;:(', -1) || /^(?:and|then|to)$/.test(c.word(-1));
}
