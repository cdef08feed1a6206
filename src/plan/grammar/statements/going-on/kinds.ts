/**
 * Which rounds shape and which lie between: "a decrease round and a plain one", "every right side row". In: a cursor at the
 * phrase, what has been said so far. Out: true where it stands here, its meaning kept.
 */
import type { Sort } from '../../ast.ts';
import { isUnit, unit } from '../../phrases.ts';
import { says, saysAny } from '../../rules.ts';
import { type PlainRounds, plainRounds, whereBeside } from '../../tail/plain-rounds.ts';
import type { TokenCursor } from '../../token-cursor.ts';
import { type OpenGoing, type Phrase, SHAPING } from './going.ts';
import { aboveOther, again, change, fewer, keptStitch, WHAT } from './shaping.ts';

const SOME =
  'all|every|each|the|of|both|these|those|following|further|later|remaining|next|subsequent|same|your*';

/** Nothing that could be a round stands behind. */
const ENDS = /^(?:$|[.,;:)]|and|until|till|til)$/;
/** "in the rounds between": however many they are. */
const BETWEEN = Number.POSITIVE_INFINITY;

/** "on every wrong side row", "the odd ones", "on the way back": how many rounds make one of them. */
function kindOfRounds(c: TokenCursor): number | null {
  return c.attempt(() => {
    says(c, 'each|every|whenever|when time? you|we|i* work|knit|do|reach a|an|the') ??
      says(c, 'on|in|for|during|over|at|with');
    if (says(c, 'the|your way|journey|return|trip|row back')) return 2;
    if (says(c, ',|the* first|second|other of each|every|the pair|2|two|them')) return 2;
    says(c, SOME);
    if (says(c, '@unit in? between them|these|those|decreases|increases?')) return BETWEEN;
    let period: number | null = null;
    const sided = says(c, 'right|wrong side') !== null || says(c, 'rs|ws') !== null;
    if (says(c, 'evens|odds')) return 2;
    if (sided || says(c, 'even|odd numbered?')) period = 2;
    else if (says(c, 'other|alternate|alternating|intervening|intermediate|between|in-between'))
      period = 2;
    else period = c.ordinal();
    if (period === null || period < 2) return null;
    const one = !isUnit(c, 1) && c.here() === '1' && c.number() !== null;
    // "knitting plain on the odd"
    const bare = /^(?:even|odd)$/.test(c.word(-1)) && c.word(-2) === 'the' && ENDS.test(c.here());
    if (!one && !unit(c) && !says(c, 'one|ones') && !sided && !bare) return null;
    says(c, 'that|which|to follow|follows|come|remain');
    says(c, 'in? between|without them|these|decreases|decreasing|shaping|facing?');
    return period;
  });
}

type Done = 'k' | 'p' | 'plain' | 'shape';

const PLAINLY =
  'just|only|simply|always|you|we|i|nothing|but|then|being|is|are|be|will|get|gets|to|all|worked|again|as|before|have|has|there|,|work|should|must*';
const NO_SHAPING =
  'without|with|no|not|any* decreasing|decreases|decrease|dec|increasing|increases|increase|inc|shaping';

const AS_THEY_COME =
  ',|just|exactly* as|like|how they|it|them come|comes|appear|appears|present|presents|show|shows|face|faces|stand|stands|fall|falls|lie|lies|look|looks themselves|itself|up?';
/** "working the sts as they present themselves" */
function asTheyCome(c: TokenCursor): boolean {
  return c.takes(
    () =>
      says(c, 'knitting|working|taking|work|knit|take|worked|knitted all? the|your? @sts|them') !==
        null && says(c, AS_THEY_COME) !== null,
  );
}

/** "knit plain", "purled", "without decreasing", "nothing but purl" */
function doing(c: TokenCursor): Done | null {
  return c.attempt(() => {
    says(c, PLAINLY);
    // "always knitting the last 2 stitches of each section together"
    if (saysAny(c, WHAT)) return null;
    const word = (what: string): boolean => says(c, `plain|all? ${what}`) !== null;
    const done: Done | null = word('knit|knitted|knitting|k')
      ? 'k'
      : word('purl|purled|purling|p')
        ? 'p'
        : says(c, 'plain|even|straight|unshaped') || says(c, NO_SHAPING) || asTheyCome(c)
          ? 'plain'
          : null;
    // ", even rounds knit"
    if (!done || (c.word(-1) === 'even' && isUnit(c))) return null;
    // ", purling the centre stitch": not all of them
    if (says(c, 'the|your #? middle|centre|center|central|corner|marked|first|last|edge|end @sts'))
      return null;
    if (
      c.isNumber() ||
      (c.peek()?.kind === 'word' && /^(?:to|until|till|into|through)$/.test(c.word()))
    )
      return null;
    says(c, 'plain|straight|across|everything|throughout|back|them*');
    c.takes(() => says(c, 'even') !== null && !isUnit(c));
    says(c, 'all? the? @sts') ?? says(c, 'all');
    says(c, AS_THEY_COME);
    says(c, NO_SHAPING);
    return done;
  });
}

/** "knit every wrong side row", "the odd rounds are purled", "purl back": what some of the rounds are. */
export const kinds: Phrase = (c, s) =>
  c.takes(() => {
    // "the first of each pair losing 8 sts, the second plain"
    const second = says(
      c,
      ',|and|while* the second|other #? is|being|worked|all* plain|even|straight|knitted|knit|purled|purl',
    );
    if (second && s.tail.every === 2) return true;
    if (second) return null;
    const said = c.slice(Math.max(0, c.i - 12), c.i);
    // "working on the even rounds 2 sts fewer"
    says(c, 'working|with|having');
    const { i } = c;
    const before = kindOfRounds(c);
    // "on right side rows, straight knitting on …": the comma may part the two.
    const first = before === null || c.mark(',') ? null : sortOf(c.slice(i, c.i));
    says(c, ':|you|we|always|then*');
    const kept = keptStitch(c);
    if (kept) {
      s.tail.keeps ??= kept;
      const period = before ?? kindOfRounds(c);
      return period !== null && keepKind(s, 'plain', period, first);
    }
    const what = doing(c);
    if (what) {
      // "decreasing on even rounds"
      const shaping = /^(?:dec|inc|shap)/.test(c.word(-1)) && !UNSHAPED.test(c.slice(i, c.i));
      const back = /^back$/.test(c.word(-1)) ? 2 : null;
      const at = c.i;
      const behind = kindOfRounds(c);
      const sort = behind === null ? first : sortOf(c.slice(at, c.i));
      // "decreasing on every RS row, knit WS rows"
      if (before !== null && behind !== null) return null;
      // "…until 3 are left, and knit the wrong side row after that too"
      const last = behind !== null && s.tail.untilStitches !== null && !/s$/.test(c.word(-1));
      if (last && says(c, 'after|behind|following that|it|this|them? as? well|too?')) {
        s.tail.endWith ??= { like: 'plain' };
        return true;
      }
      const period = before ?? back ?? behind;
      return period !== null && keepKind(s, what, period, sort && shaping ? OTHER[sort] : sort);
    }
    if (before === null) return null;
    // "… and in the odd rounds all stitches"
    if (s.shapedRound && c.takes(() => says(c, 'all the? @sts') && (c.done || c.mark('.,;:'))))
      return keepKind(s, 'plain', before, first);
    const told = c.i;
    says(c, PLAINLY);
    says(c, 'in|the|same|way|manner|as|before*');
    says(c, 'work? the|your');
    if (
      !says(c, DECREASES_ARE) &&
      !aboveOther(c) &&
      !change(c, s) &&
      !says(c, `a|an|the* ${SHAPING} @unit|ones`) &&
      !fewer(c, s) &&
      !again(c, s)
    ) {
      // "decrease on all the even ones"
      if (!SHAPED_BEFORE.test(said) || NOT_SHAPED.test(said)) return null;
      c.i = told;
    }
    return keepKind(s, 'shape', before, first);
  });

/** "knit one round" before "between the decrease rounds" */
function workedBetween(c: TokenCursor): PlainRounds | null {
  const told = says(c, 'knit|purl|knitting|purling a|an|one|# @unit');
  if (!told) return null;
  const stitch = c.slice(c.i - 3, c.i).includes('purl') ? 'p' : 'k';
  const between = c.ahead(() => whereBeside(c) === 'between');
  return between ? { n: told[0] ?? 1, stitch } : null;
}

/** "Knit one round between the decrease rounds" begins here. */
export function isBetween(c: TokenCursor): boolean {
  return c.ahead(() => workedBetween(c) !== null);
}

const BETWEEN_SHAPED = /between .*(?:dec|inc|shap)/;

/** "the odd ones", "every wrong side row": which of the two sorts. */
function sortOf(words: string): Sort | null {
  const said = /\b(?:(even)|(odd)|(rs|right)|(ws|wrong))/.exec(words);
  if (!said) return null;
  return said[1] ? 'even' : said[2] ? 'odd' : said[3] ? 'rs' : 'ws';
}

const DECREASES_ARE =
  'the|these|those|same|your* decreases|increases|decs|incs|shaping is|are|be|being|get|gets repeated|worked|made|done|continued';
const UNSHAPED = /\b(?:without|no|not|any|plain|even|straight)\b/;
const OTHER = { even: 'odd', odd: 'even', rs: 'ws', ws: 'rs' } as const;

function keepKind(s: OpenGoing, what: Done, period: number, sort: Sort | null = null): boolean {
  // "purl every 5th round": those lie between no others.
  if (what !== 'shape' && period > 2 && period !== BETWEEN) return false;
  if (what === 'k' || what === 'p') s.tail.between ??= what;
  if (what === 'shape') s.shapedRound = true;
  if (sort) s.tail.shapes ??= what === 'shape' ? sort : OTHER[sort];
  if (what === 'shape' || period === 2) s.tail.every ??= period;
  return true;
}

/** "a purl round", "2 plain rounds", "one round purled", "a plain one knitted": how many of them. */
function roundsOf(c: TokenCursor, what: string): number | null {
  return c.attempt(() => {
    const n =
      says(
        c,
        `in|on? a|an|the|every|each|all|another|following|further|next|later|#* plain|even|whole|single* ${what} @unit|ones ${LIKE}?`,
      ) ?? says(c, `a|an|the|#* plain|even|single* @unit|ones with|of? ${what} knitting?`);
    if (n) return n[0] ?? 1;
    const one = says(c, `a|an|the|another plain|even|single* ${what} # ${LIKE}?`);
    return one?.[0] === 1 ? 1 : null;
  });
}

const LIKE = 'plain|knitted|purled|straight|worked';
const SHAPES = `${SHAPING}|decreased|decreases|increased|increases`;
/** "one round decreasing", "a round in which you decrease" */
const ONE_SHAPED = [
  `,|in|on|first* a|the|#? @unit ,|with|of|in|which|where|you|we|it|that|is|are|has|having|the* ${SHAPES}`,
  `,|in|on|first|with* ${SHAPES} in|on? a|the|#? @unit`,
];
const NOT = 'not|none|without|no|plain|even|straight';
/** "one round not", "the next without", "a round in which you don't" */
const ONE_NOT = [
  `,|and|then|but|in|on|with* a|the|#* next|other|following|@unit ,|with|in|which|where|you|we|do|does|that|is|are|worked|knitted|any* don't|not|none|without|no|plain|even|straight any|more* ${SHAPES}?`,
  `,|and|then|but* a|# ${NOT} any* ${SHAPES}?`,
  `,|and|then|but* ${NOT} in|on* the|a* next|other|following @unit?`,
  ',|and|then* knit|knitting|work|working|purl|purling the next|other|following|# @unit? plain|even|straight?',
];

/** "one round taking in and one round not" */
function oneAndOneNot(c: TokenCursor, s: OpenGoing): boolean {
  return c.takes(() => {
    const shaped = saysAny(c, ONE_SHAPED);
    const { i } = c;
    const plain = shaped && saysAny(c, ONE_NOT);
    if (!plain || [...shaped, ...plain].some((n) => n !== null && n !== 1)) return null;
    const verb = /\b(knit|purl)(?:ting|ing)?\b/.exec(c.slice(i, c.i))?.[1];
    if (verb) s.tail.between ??= verb === 'purl' ? 'p' : 'k';
    s.shapedRound = true;
    s.plainRounds = 1;
    return true;
  });
}

/** "2 decrease rounds & 1 knit round": the last three, as they stand. */
function rowOfRounds(c: TokenCursor, s: OpenGoing, shaping: number): boolean {
  says(c, ',|and|&|then|followed|by*');
  const plain = s.which === null ? plainRounds(c) : null;
  if (!plain) return false;
  keepRow(s, shaping, plain);
  return true;
}

function keepRow(s: OpenGoing, shaping: number, plain: PlainRounds): void {
  s.shapedRound = true;
  s.tail.inARow ??= shaping;
  s.tail.every ??= plain.n + 1;
  s.tail.between ??= plain.stitch;
}

const BUT =
  ',|(|-|;|but|and|leaving|keeping|except|excepting|save|only|though|apart|from|for|with|that|where|always*';
/** "…, except that every third round is knitted plain": of those that shape in every round. */
export const exception: Phrase = (c, s) =>
  c.takes(() => {
    if (s.tail.every !== 1 || s.tail.inARow !== null) return null;
    const open = c.mark('(');
    says(c, BUT);
    const ahead = kindOfRounds(c);
    says(c, ':|you|we|always|then|just|only*');
    const what = doing(c);
    const period = ahead ?? kindOfRounds(c);
    if (!what || what === 'shape' || period === null || period < 3 || period === BETWEEN)
      return null;
    if (open) c.eatMark(')');
    s.asks = true;
    s.tail.every = null;
    keepRow(s, period - 1, { n: 1, stitch: what === 'plain' ? null : what });
    return true;
  });

const SHAPED_BEFORE =
  /\b(?:dec|inc)(?:rease)?(?:s|ing|ings)?\b(?![^,;.]*\b(?:between|after)\b)[^,;.]*$/;
const NOT_SHAPED = /\b(?:without|no|not|none|never|plain|straight)\b[^,;.]*$/;

/** "making 6 decreases in every knit round": those that shape, where they are told by their stitches. */
function shapedOnes(c: TokenCursor, s: OpenGoing): boolean {
  const said = c.slice(Math.max(0, c.i - 12), c.i);
  if (!SHAPED_BEFORE.test(said) || NOT_SHAPED.test(said)) return false;
  if (!says(c, 'in|on|per of? the|each|every|all* knit|knitted|purl|purled @unit')) return false;
  s.shapedRound = true;
  s.tail.every ??= 2;
  return true;
}

/** "a decreasing round knitted and a plain one purled", "with a purl round after each decrease round" */
export const pairOfRounds: Phrase = (c, s) =>
  oneAndOneNot(c, s) ||
  shapedOnes(c, s) ||
  c.takes(() => {
    const after = says(c, 'after|behind|following|upon each|every') !== null;
    says(c, 'is|are|always|and|with|followed|by|there|then|comes|working|work*');
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
    const { i } = c;
    const plain = plainRounds(c) ?? c.attempt(() => workedBetween(c));
    if (!plain) return null;
    const where = whereBeside(c);
    // "between the decrease rounds"
    if (where === 'between' && BETWEEN_SHAPED.test(c.slice(i, c.i))) s.shapedRound = true;
    s.tail.afterEach ||= where === 'after';
    // "then work a purl round" behind the end asks for one.
    if (!where && !(s.tail.untilStitches === null && (s.asks || s.shapedRound))) return null;
    s.plainRounds = plain.n;
    s.tail.between ??= plain.stitch;
    return true;
  });
