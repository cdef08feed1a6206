/**
 * What is shaped, by how much and where, in a sentence that tells how the work goes on. In: a cursor at the phrase, what
 * has been said so far. Out: true where it stands here, its meaning kept.
 */
import { DECREASE_WORDS, INCREASE_WORDS } from '../../../lexicon/words.ts';
import { eatStitch, isUnit } from '../../phrases.ts';
import { says, saysAny } from '../../rules.ts';
import { besideShaping, EACH_ROUND, IN_THIS_WAY, readLikeRound } from '../../tail/manner.ts';
import type { TokenCursor } from '../../token-cursor.ts';
import type { OpenGoing, Phrase } from './going.ts';

const THAN = 'than the|in|on|before|last|one|time|previous*';
const PLAIN = 'k|knit|knits|plain|rib|ribbed|ribbing|purl|purls|moss|seed|garter|pattern';
const TAKING =
  'and|you|we|get|adding|taking|take|takes|working|work|having|knitting|knit|making|makes|with|leaving|leave|has|have|gets|there|being|is|are|always|where|whereby|each|every|time*';

/** Words of a round, which no stitches are. */
const OF_ROUND = /^(?:wrong|right|rs|ws|plain|knit|purl|decrease|dec|times?)$/;

const OTHERWISE = 'fewer|less|shorter|narrower|smaller|more|extra|longer|wider';
/** "2 sts fewer between the decreases", "8 stitches more": of the runs between the shaping, or of the whole round. */
export const fewer: Phrase = (c, s) =>
  c.takes(() => {
    const { i } = c;
    says(c, TAKING);
    const n =
      says(c, `# ${PLAIN}? @sts? ${OTHERWISE} ${PLAIN}? @sts?`) ??
      says(c, `# ${OTHERWISE} ${PLAIN}? @sts?`) ??
      runFewer(c) ??
      (says(c, `a ${PLAIN}? @sts ${OTHERWISE}`) ? [1] : null) ??
      (/^adding|add$/.test(c.word(-1)) && says(c, `a|an|another ${PLAIN}|k? @sts`) ? [1] : null);
    if (n?.[0] == null) return null;
    // "knit 1 more wrong side row"
    if (isUnit(c) || OF_ROUND.test(c.word())) return null;
    says(c, 'each|every time');
    says(c, 'is|are|being|be|gets|get|always|each|time* knitted|worked|purled|left');
    let more = /\badd(?:ing)?\b/.test(c.slice(i, c.i));
    for (let k = 1; k < 6; k++)
      more ||= /^(?:more|extra|longer|wider)$/.test(c.word(-k)) && !c.isNumber(-k);
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
    } else if (onSides(c) || besideShaping(c) || s.beside || plainOnEach(c, i))
      s.tail.fewer ??= amount;
    else s.tail.eachPass ??= -amount;
    says(c, THAN);
    says(c, EACH_ROUND);
    return true;
  });

/** "k2 less" */
function runFewer(c: TokenCursor): readonly number[] | null {
  return c.attempt(() => {
    const stitch = eatStitch(c);
    const plain = stitch?.name === 'k' || stitch?.name === 'p';
    if (!plain || !stitch.amount || !('times' in stitch.amount)) return null;
    return says(c, '@sts? fewer|less|more|extra @sts?') && [stitch.amount.times];
  });
}

/** "2 fewer knits per needle" */
function plainOnEach(c: TokenCursor, from: number): boolean {
  if (!/\b(?:knits?|k|plain)\b/.test(c.slice(from, c.i))) return false;
  return c.takes(() => says(c, 'on|in|per|of each|every|a? @shared') !== null && !besideNext(c));
}

const besideNext = (c: TokenCursor): boolean => /^(?:before|after|between|of|to)$/.test(c.word());

/** "on each needle before the k2tog" */
function onSides(c: TokenCursor): boolean {
  return c.takes(() => says(c, 'on|in|of|at each|every|all the? #? @shared') && besideShaping(c));
}

/** "decrease again likewise 8 sts" */
const AS_BEFORE = [
  ...IN_THIS_WAY.map((rule) => `again|further|still|also|always* ${rule}`),
  'again|further|still|also',
];

const BY = 'by|once|another|further|a* #';

const LOSES =
  'takes|take|taking|taken|loses|lose|losing|lost|removes|remove|removing|removed|drops|drop|dropping|dropped|falls|fall|falling|shrinks|shrink|shrinking|narrows|narrowing|reduces|reduce|reducing|reduced|goes|eats|eating';
const GAINS =
  'adds|add|adding|added|gains|gain|gaining|gained|grows|grow|growing|grown|rises|rising|widens|widening';
const AWAY = 'away|off|out|down|by|up';
const GOES_AWAY =
  'fall|falls|falling|fell|go|goes|going|gone|drop|drops|dropping|disappear|disappears|disappearing|vanish|vanishes|come|comes|coming|lost|decreased|taken|removed|decreasing|lose';
/** Which round it is said of: "each time round 2", "in every decrease round", "the count" */
const WHOSE = [
  ',|and|while|with|where|so|that|each|every|time|always|whenever* @unit|r #',
  ',|and|while|with|where|so|that|always* in|on|at|with|after|per? each|every|the|a|any #? dec|decrease|decreasing|inc|increase|increasing|shaping? @unit|time|one ,?',
  ',|and|while|with|where|so|that|always* the|your|stitch* count|number|total|round of? @sts?',
  ',|and|while|where|so|that|which* each|every time? it|this|that|you|we|which?',
];
const AUX =
  "has|have|had|is|are|being|be|will|get|gets|getting|now|then|always|been|you|there|you've";
const LESS = 'less|fewer|shorter|away|off|out|again';
const EVERY_TIME = 'each|every time|go|pass';

/** "decreasing 8 stitches", "2 sts being lost", "round 2 has taken 2 sts away", "in each decrease round 8 sts fall away" */
export function change(c: TokenCursor, s: OpenGoing): boolean {
  return c.takes(() => {
    saysAny(c, WHOSE);
    says(c, `${AUX}*`);
    const lost =
      says(c, `# @sts? ${AUX}* ${GOES_AWAY} away|off|out?`) ??
      says(c, `${LOSES} ${AWAY}* # @sts? ${LESS}*`);
    const won =
      says(c, `# @sts? ${AUX}* gained|increased|added|made|growing|coming on?`) ??
      says(c, `${GAINS} ${AWAY}* # @sts? more|again*`);
    if (lost ?? won) {
      says(c, EVERY_TIME);
      // "take rounds 2 and 3", "going 5 more times"
      if (isUnit(c) || /^(?:times?|more|further|cm|in|rounds?)$/.test(c.word())) return null;
      s.tail.eachPass ??= lost ? -(lost[0] ?? 0) : (won?.[0] ?? 0);
      return true;
    }
    // "making 6 decreases"
    const made = says(
      c,
      'making|working|placing|stacking|with the? # decreases|decs|increases|incs',
    )?.[0];
    if (made != null) {
      s.tail.eachPass ??= /^dec/.test(c.word(-1)) ? -made : made;
      return true;
    }
    const less = c.isWord(DECREASE_WORDS);
    if ((!less && !c.isWord(INCREASE_WORDS)) || isUnit(c, 1)) return null;
    c.i++;
    if (saysAny(c, AS_BEFORE)) s.tail.follows = true;
    const n = c.attempt(() => {
      // "decrease 7 more times"
      if (
        c.isNumber() &&
        /^(?:more|further|additional)$/.test(c.word(1)) &&
        /^times?$/.test(c.word(2))
      )
        return null;
      if (says(c, 'once')) return 1;
      if (says(c, 'a|single* @sts')) return 1;
      const told = says(c, `${BY} @sts?`);
      return isUnit(c) || /^times?$/.test(c.word()) ? null : (told?.[0] ?? null);
    });
    if (n !== null) s.tail.eachPass ??= less ? -n : n;
    return true;
  });
}

export const shaped: Phrase = (c, s) => {
  if (!change(c, s)) return false;
  if (!says(c, 'a|per @unit')) readLikeRound(c, s.tail);
  place(c, s);
  // "decreasing at both ends of every needle in one round and purling the next"
  if (says(c, 'in|on a|one|# @unit')) s.shapedRound = true;
  return true;
};

/** "88, 80, 72 sts", "you will have 18 on each needle after the first time, then 16, then 14" */
export const counts: Phrase = (c, s) =>
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
    // "you have 8 sts at round 18"
    if (after && isUnit(c, -1) && c.isNumber()) return null;
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

const PLACES =
  'beginning|beg|start|end|ends|middle|centre|center|corner|corners|side|sides|edge|edges|needle|needles|dpn|dpns|place|places|spot|spots|marker|markers|section|sections|quarter|quarters|decreases|decrease|increases|other|another';
const WHERE =
  'at|in|on|along|over|before|and|after|beside|by|above|between|either|each|both|every|of|exactly|always|directly|right* the|a|each|every|both|either|all|same|of|your|very|these|those|two|2|one|last|previous|first|marked|double|central*';
const OF = `of|on|in|to|as the|each|every|all|both|a|your|these|other|of|#* ${PLACES} @sts?`;
const AT_STITCHES = 'middle|centre|center|central|marked|corner #? @sts';
/** "purling the centre stitch", "the middle one purled", "a purl stitch above it": one stitch of the rows between, as it was. */
const KEPT = [
  'always? purl|purling|knit|knitting the|your? middle|centre|center|central|corner|marked @sts|1 always?',
  'the|a middle|centre|center|central|corner|marked @sts|1 is|being|always* purled|knitted',
  'a|the? purl|knit @sts above|over|on it|them|this|that',
];
export function keptStitch(c: TokenCursor): 'k' | 'p' | null {
  const { i } = c;
  if (!saysAny(c, KEPT)) return null;
  return /\bpurl/.test(c.slice(i, c.i)) ? 'p' : 'k';
}

/** "in the middle of each needle", "at the end of every dpn": says again where the shaping stands. */
export const place: Phrase = (c, s) => {
  const { i } = c;
  if (!placed(c)) return false;
  const words = c.slice(i, c.i);
  s.beside ||= /^(?:before|after|between)\b[^.]*\b(?:dec|inc)(?:rease)?s?\b/.test(words);
  return true;
};

function placed(c: TokenCursor): boolean {
  return c.takes(() => {
    if (!says(c, `${WHERE} #? ${AT_STITCHES}`) && !says(c, `${WHERE} ${PLACES}`)) return null;
    for (let n = 0; n < 4 && says(c, OF); n++);
    // "on either side of the s2kp"
    c.takes(() => says(c, 'of|from|to the|each|every|your') !== null && shapes(c));
    return !isUnit(c);
  });
}

/** A stitch with a name of its own. */
function shapes(c: TokenCursor): boolean {
  return c.takes(() => (eatStitch(c)?.name.length ?? 0) > 1);
}

/** "working the DD above the last", "the double decreases over one another": where it stood before. */
export function aboveOther(c: TokenCursor): boolean {
  if (
    says(
      c,
      'superposing|stacking|aligning|superimposing the|your? decreases|increases|shaping|them',
    )
  )
    return true;
  return c.takes(() => {
    says(
      c,
      'work|working|make|making|place|placing|keep|keeping|line|lining|stacking|with|having|that|is|always|,*',
    );
    says(c, 'the|your|each|all|every|these|double*');
    if (!shapes(c) && !says(c, 'decreases|decrease|increases|increase')) return null;
    says(c, 'one|#? directly|exactly|always|just|right*');
    if (!says(c, 'above|over') && !says(c, 'in line with') && !says(c, 'on top of')) return null;
    says(
      c,
      'the|each|another|other|last|previous|preceding|former|ones|first* #? another|other|before*',
    );
    if (shapes(c)) says(c, 'before|below|of|the|last|previous|row|round*');
    return true;
  });
}

/** "knitting the last two stitches of each needle together": says again what the shaping is. */
const AGAIN = 'always|each|every|time*';
const TAKES = 'knitting|working|purling|taking|knit|work|purl|take';
const SOME =
  'the|your|first|last|end|middle|centre|center|central|two|2|and* #? first|last|end|middle|centre|center|central|two|2|and*';
const THERE =
  'of|on|at|in|before|after|the|a|each|every|all|both|needle|needles|dpn|dpns|side|section|sections|marker|markers|end|beginning*';
export const WHAT = [
  `${AGAIN} ${TAKES} ${AGAIN} together|tog ${SOME} @sts? ${THERE}`,
  `${AGAIN} ${TAKES} ${AGAIN} ${SOME} @sts? ${THERE} as|with|by|using a|an|one? k2tog|p2tog|ssk|skp|skpo|cdd|s2kp|sk2p|decrease`,
  `${AGAIN} ${TAKES} ${AGAIN} ${SOME} @sts? ${THERE} together|tog ${AGAIN}`,
  'with|using|and|to|working|work|making|make|doing? the|a|an|your|this|these* double|single|central|centred|paired|left|right|leaning|slanting* decrease|decreases|increase|increases|yarn|overs',
];
/** "…, always knitting the last 2 sts of each section together" */
export function toldAgain(c: TokenCursor): boolean {
  return c.takes(() => {
    says(c, ',|(|always|each|time*');
    return /ing$/.test(c.word()) && saysAny(c, WHAT) !== null;
  });
}

export const again: Phrase = (c, s) => {
  // "…until 3 are left, knit the 3 together": asked for behind the stop.
  if (s.tail.untilStitches !== null && !/^(?:with|using|[a-z]+ing)$/.test(c.word())) return false;
  return saysAny(c, WHAT) !== null || stitchesAt(c) !== null;
};

/** "with a yo before and after the centre st", "working k2tog at beg and ssk at end of each needle": the stitches, in order. */
export function stitchesAt(c: TokenCursor): readonly string[] | null {
  const one = (): string | null =>
    c.attempt(() => {
      says(c, ',|with|working|using|making|and|a|an|the|one* #?');
      const read = eatStitch(c);
      return read && read.name.length > 1 && placed(c) ? read.name : null;
    });
  const first = one();
  if (first === null) return null;
  const second = c.attempt(() => (/^(?:,|and)$/.test(c.here()) ? one() : null));
  return second === null ? [first] : [first, second];
}
