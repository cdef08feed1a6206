/**
 * The law of the reader: words that no rule has followed are prose, unless they could instruct (they hold a stitch word, a
 * count or a work verb, or nearly such a word). In: the tokens of a sentence that stands alone. Out: whether it could.
 */
import type { Token } from '../lex/tokens.ts';
import { near } from '../lexicon/suggestions.ts';
import {
  DECREASE_WORDS,
  DESCRIBING,
  DESCRIBING_SUBJECTS,
  EVERYDAY_VERBS,
  FILLERS,
  INCREASE_WORDS,
  LENGTH_UNITS,
  STITCH_WORDS,
} from '../lexicon/words.ts';
import { frontOf } from './adverbials.ts';
import { beginsClause, IMPERATIVE } from './clause-verbs.ts';
import { explainsFabric, explainsRound, tellsRounds } from './explains.ts';
import { garbledLabel, looksLikeRound } from './garbled.ts';
import { headsRounds, numbersSection, sizesPattern } from './headings.ts';
import { hidesOrder } from './hidden-orders.ts';
import { UNTOLD_PATTERN } from './leftovers.ts';
import { leavesOut, limitsWork } from './limits.ts';
import { type Mood, moodOf } from './mood.ts';
import { onlyTells } from './narration/only-tells.ts';
import { tellsOfStripe } from './remarks.ts';
import { definesStitch } from './steps/bracketed-remarks.ts';
import { declaredRepeats } from './steps/declared-repeats.ts';
import { tellsCounts } from './tallies.ts';
import { asksForWork, checks, TELLER, tellsOfStitches, tellsOfTime } from './telling.ts';
import { namesNoFabric, toldOfEdges } from './unknown-names.ts';
import { isCount, isStitchWord, limits } from './word-law.ts';

/** "Every row is wroked like this until you have 41 stitches": something goes on up to a count. */
function saysHowLong(tokens: readonly Token[]): boolean {
  const at = tokens.findIndex(
    (t) => t.kind === 'word' && /^(?:until|till|untill|til)$/.test(t.text),
  );
  const from = at >= 0 ? at : tokens.findIndex((t) => t.kind === 'word' && near(t.text, ['until']));
  const behind = from < 0 ? [] : tokens.slice(from + 1);
  return behind.some((t, i) => isCount(behind, i) || STITCH_WORDS.has(t.text));
}

/** Sentences with a verb of work that ask for no stitch, and headings. */
const HARMLESS_SENTENCES: readonly RegExp[] = [
  /^(?:work|knit|purl) (?:very |quite |rather )?(?:loosely|firmly|evenly|tightly|gently|neatly|slowly)(?: (?:from here(?: on)?|throughout|here|please))?[ .!]*$/,
  /^(?:carry on|continue|go on|move on|proceed|turn) (?:now )?(?:to|with) (?:the )?(?:next|second|third|last|other|following) (?:part|section|step|page|chapter|stage)[ .!]*$/,
  /^(?:[ivx]{1,4}|[a-h])[ .):-]*$/,
  // "The two rounds" as a heading
  /^(?:the|our|your|my|special|\d+) (?:\d+ )?(?:special |basic )?(?:rounds|rnds|rows)(?: (?:used|needed|to know))?[ :]*$/,
  // "1 stitch less each row, and the holes carry on just the same"
  /^\d+ (?:sts?|stitch(?:es)?) (?:less|fewer|more|go|goes|are lost|are gained) (?:in |on |at )?(?:each|every|per) (?:row|round|rnd|time)(?: ?[.!]*| ?, (?:and|but) the (?!next|first|last|other|rest)[^0-9]*)$/,
  // "Keep going, you are doing great", "Ready? Steady? Go!"
  /^(?:just |now )?(?:keep|carry) (?:going|on|it up)(?: ?[,!-])* (?:you|we|nearly|almost|not long|it|the end)\b(?!.*\b(?:\d+|until|till|rounds?|rows?|rnds?|sts|stitches|times|pattern)\b).*$/,
  /^(?:ready|steady|go|set)[ ,!?.]*$/,
  // "Purl the yarn overs too, just the regular way, so they leave a hole": as any stitch is worked
  /^(?:just |simply |always |please |remember to )*(?:work|knit|purl|treat)(?: into)? (?:(?:the|each|every|all|those|these|your|of) )*(?:yos?|yarn overs?|yarnovers?|eyelets)(?: (?:of|from) the (?:last|previous) (?:round|rnd|row))?(?:[ ,(]|(?:too|as well|just|in|the|as|like|a|an|any|every|other|exactly|same)\b)*(?:regular|normal|normally|usual|usually|ordinary|plain)(?: (?:way|manner|fashion|st|stitch))?[) ]*(?:$|[.!]|[,-] *(?:so|and|they|it|this|that)(?: (?:so|that|they|it|this|there|will|should|which|leaves?|form|forms|make|makes|gives?|stays?|be|is|are|a|an|the|little|neat|small|tiny|decorative|nice|open|holes?|eyelets?|lace|gap|pattern))*[ .!]*$)/,
  /^(?:nb|ps|ok|phew|yay|tip|hint|psst|oh|ah|aha|ha|hm+)[ .!:]*$/,
];

/** "One ridge is now finished, and a second has been started": how far the work is. */
const FINISHED =
  /\b(?:is|are|has|have)\b.{0,40}\b(?:finished|completed?|done|started|begun|ready|visible|behind)\b/;
/** "Each side has 2 stitches fewer than when you began." */
const COMPARES = /\b(?:has|have|is|are)\b.{0,30}\b(?:fewer|less|more|longer|shorter) than\b/;
const PASSIVE_WORK =
  /\b(?:knitted|purled|worked|decreased|increased|repeated|slipped|cast|bound|until|till|then)\b/;

/** A length that only tells which needle: "the 40 cm circular". */
function sizesNeedle(list: readonly Token[], i: number): boolean {
  const at = list[i + 2]?.text === 'long' ? i + 3 : i + 2;
  return /^(?:needles?|circulars?|circ|dpns?|cable|hook)$/.test(list[at]?.text ?? '');
}

/** Stitches and fabrics by name: with a number they ask for something. */
const WORKED = /^(?:knit|purl|k|p|garter|stockinette|stocking|moss|seed|rib|ribbing)$/;

/** "…: w&t", where it is not what w&t means that is told. */
function wrapsAndTurns(list: readonly Token[]): boolean {
  const at = list.findIndex(
    (t, i) => t.text === 'w' && list[i + 1]?.text === '&' && list[i + 2]?.text === 't',
  );
  return at > 0 && !list.some((t) => /^(?:means?|stands?|wrap|wraps|is|are|=)$/.test(t.text));
}

/** "Midway purl a round": behind words that say when, an order. */
function ordersLater(list: readonly Token[]): boolean {
  const { found, next } = frontOf(list);
  if (found.length === 0 || next >= list.length) return false;
  const rest = list.slice(next);
  // "Between them knit plain" tells of rounds that are there anyway.
  if (
    /^(?:knit|work)$/.test(rest[0].text) &&
    /^(?:plain|even|straight|on)$/.test(rest[1]?.text ?? '')
  )
    return false;
  return moodOf(rest) === 'asks' || beginsClause(rest);
}

/** A sentence, and what is often asked of it. */
interface Sentence {
  readonly list: readonly Token[];
  readonly text: string;
  /** Its words alone, without numbers and marks. */
  readonly words: readonly Token[];
  readonly first: string;
  readonly stitched: boolean;
  readonly numbered: boolean;
  /** A handful of words without a number, as headings are. */
  readonly short: boolean;
  /** Some word of working stitches stands in it. */
  readonly knits: boolean;
  /** It only tells of something. */
  readonly describes: boolean;
  readonly mood: () => Mood;
}

const ENDS_WORK = /^bo$/;
const WORKS_OFF = /^(?:bind|binding|bound|cast|casting|knit|purl|k|p|work)$/;
const KNITS = /^(?:knit|purl|k|p|work|repeat|rep|cast|bind|off|bo|casting|binding)$/;

function sentenceOf(list: readonly Token[]): Sentence {
  const words = list.filter((t) => t.kind === 'word');
  const first = words[0]?.text ?? '';
  const numbered = list.some((t) => t.kind === 'number');
  const tells = DESCRIBING_SUBJECTS.has(first) || /ing$/.test(first);
  let mood: Mood | undefined;
  return {
    list,
    text: list.map((t) => t.text).join(' '),
    words,
    first,
    stitched: list.some(isStitchWord),
    numbered,
    short: list.length <= 5 && !numbered && !list.some((t) => t.kind === 'ordinal'),
    knits: says(words, KNITS),
    // "4 rounds form the pattern", but not "4 rounds purl to match"
    describes:
      tells &&
      (list[0].kind === 'number' ? words.slice(1, 3) : words).some((t) => DESCRIBING.has(t.text)),
    mood: () => {
      if (mood === undefined) mood = moodOf(list);
      return mood;
    },
  };
}

function says(tokens: readonly Token[], one: RegExp): boolean {
  return tokens.some((t) => one.test(t.text));
}

const REPEATED =
  /\b(?:repeated|worked|done|made|knitted|purled) (?:again )?(?:(?:a total of )?\d+ (?:more )?times|twice|thrice|once more)\b/;

const WORKING =
  /^(?:slipping|purling|knitting|working|skipping|omitting|dropping|wrapping|twisting|crossing)$/;

/** "Stitches decreased to 22, slipping the first stitch", "that gives a neat edge purling every third stitch": behind what is told some of it is worked otherwise. */
function worksBeside(list: readonly Token[]): boolean {
  const at = list.findIndex(
    (t, i) =>
      i > 0 &&
      WORKING.test(t.text) &&
      (list[i - 1].text === ',' || /^(?:each|every)$/.test(list[i + 1]?.text ?? '')),
  );
  return at > 0 && limits(list.slice(at));
}

/** What a sentence is taken for; the first that holds counts. */
const JUDGEMENTS: readonly (readonly [instructs: boolean, holds: (s: Sentence) => boolean])[] = [
  // "Ridge once.": something that the text has a name for
  [
    true,
    ({ text, first }) =>
      /^[a-z-]+(?: [a-z-]+)? once[ .]*$/.test(text) &&
      !/\b(?:at|just|only|more) once\b/.test(text) &&
      !EVERYDAY_VERBS.has(first),
  ],
  // "Continue in frobble stitch", "moss frobble throughout", "frobble the first st of every row"
  [true, ({ text }) => UNTOLD_PATTERN.test(text) || namesNoFabric(text) || toldOfEdges(text)],
  // "The odd rounds are knitted throughout over the first half."
  [true, ({ text }) => OVER_HALF.test(text)],
  [false, ({ list }) => onlyTells(list) || tellsCounts(list)],
  [true, ({ list }) => looksLikeRound(list) || garbledLabel(list) || wrapsAndTurns(list)],
  [false, ({ list, text }) => numbersSection(list) || definesStitch(text)],
  // "Work the front sts, turn, work the back sts: that is one round" explains what a round is.
  [
    false,
    ({ list }) =>
      explainsRound(list) || explainsFabric(list) || tellsRounds(list) || tellsOfStripe(list),
  ],
  [false, ({ text }) => HARMLESS_SENTENCES.some((re) => re.test(text))],
  [false, ({ text }) => declaredRepeats(text.replace(/\.$/, '')) !== null],
  [false, ({ list }) => headsRounds(list) || sizesPattern(list)],
  // "Part 1, decreasing every 3rd round": a heading
  [
    false,
    ({ list, stitched }) =>
      /^(?:part|section|stage|chapter|phase)$/.test(list[0].text) &&
      /^[a-z0-9]$/.test(list[1]?.text ?? '') &&
      /ing$/.test(list[3]?.text ?? '') &&
      !stitched &&
      !says(list, /^(?:until|till|times)$/),
  ],
  // "Now decrease at the end of every needle:" only leads to what follows.
  [
    false,
    ({ list, text, numbered, stitched }) =>
      (text.endsWith(':') || /\b(?:as follows|like this|thus)[ .]*$/.test(text)) &&
      !says(list, /^(?:twice|thrice|times|until|till)$/) &&
      !numbered &&
      !stitched,
  ],
  // "Work in garter stitch throughout" is said of the whole.
  [
    false,
    ({ list, numbered }) =>
      says(list, /^throughout$/) &&
      !numbered &&
      !says(list, /^(?:first|last|edge|corner|each|every)$/),
  ],
  [true, ({ list }) => worksBeside(list)],
  // "Not on needle 3.", "On the first two sides only."
  [
    true,
    ({ list, words }) =>
      limits(list) &&
      LIMITS_FIRST.test(words[0]?.text ?? '') &&
      !words.some((t) => DESCRIBING.has(t.text)),
  ],
  // "Stitches decreased to 22, slipping the first stitch"
  [
    true,
    ({ text }) =>
      text
        .split(/[,;]/)
        .slice(1)
        .some((t) => /^ ?[a-z]+ing\b/.test(t) && limitsWork(t)),
  ],
  [true, ({ list }) => ordersLater(list) || hidesOrder(list)],
  [true, ({ mood }) => mood() === 'asks'],
  [false, ({ mood, text }) => mood() !== null || /\bcrochet\b/.test(text)],
  // "Do not bind off yet", "Change to 4 mm needles"
  [
    false,
    ({ list: [first, ...others] }) =>
      !IMPERATIVE.test(first.text) && says([first, ...others.slice(0, 2)], /^(?:not|don't|never)$/),
  ],
  [
    false,
    ({ list }) =>
      /^(?:change|switch|use|using|move|transfer)$/.test(list[0].text) &&
      says(list, /^(?:needles?|dpns?|circular)$/),
  ],
  [true, ({ words }) => words.length > 0 && words.every(isFragment)],
  [
    true,
    ({ words }) =>
      says(words, /^through$/) && says(words, /^(?:yarn|wool|sts|stitches|loops|thread)$/),
  ],
  [true, ({ words, short }) => short && allOf(words, (next) => STITCH_WORDS.has(next))],
  // "Breathe, purling every third stitch"
  [true, ({ list, words }) => checks(words) && says(words, /ing$/) && limits(list)],
  // Headings: "Decreases", "Begin decreasing", "Shape crown".
  [false, ({ short, stitched, knits }) => short && !stitched && !knits],
  [true, ({ list }) => saysHowLong(list)],
  [false, ({ list, numbered }) => numbered && tellsOfTime(list)],
  [
    false,
    ({ list, first, describes }) =>
      describes &&
      /^(?:if|when|note|you|we|i)$/.test(first) &&
      !(first === 'when' && list.some((_, i) => isCount(list, i))) &&
      beginsClause(list),
  ],
  [true, ({ list }) => beginsClause(list)],
  [
    false,
    ({ words, stitched }) =>
      !stitched && !asksForWork(words) && (TELLER.test(words[0]?.text ?? '') || checks(words)),
  ],
  [false, ({ list, stitched }) => stitched && tellsOfStitches(list)],
  [
    true,
    ({ list, text, describes }) =>
      describes && leavesOut(text) && (counts(list) || says(list, /^(?:without|except|omitting)$/)),
  ],
  // "The decreases are repeated 3 times"
  [true, ({ text, describes }) => describes && REPEATED.test(text)],
  [false, ({ describes }) => describes],
  [true, ({ stitched }) => stitched],
  [false, ({ text }) => (FINISHED.test(text) || COMPARES.test(text)) && !PASSIVE_WORK.test(text)],
  [
    true,
    ({ words }) =>
      words.some((t) => DECREASE_WORDS.has(t.text) || INCREASE_WORDS.has(t.text)) &&
      says(words, /^(?:until|till|every|times)$/),
  ],
  [
    true,
    ({ list, words }) =>
      list.some((_, i) => isLength(list, i)) &&
      !(words.some((t) => DESCRIBING.has(t.text)) && !asksForWork(words)),
  ],
  // "Tick each round off as you finish it!"
  [true, ({ words }) => says(words, ENDS_WORK) || (says(words, /^off$/) && says(words, WORKS_OFF))],
  [true, ({ words, numbered }) => numbered && says(words, WORKED)],
  [true, ({ words }) => says(words, /^(?:twice|thrice)$/)],
  [
    true,
    ({ words }) => words.some((t, i) => /^(?:knit|purl)$/.test(t.text) && quantifies(words[i + 1])),
  ],
  [true, ({ list }) => counts(list)],
];

/** Rounds are worked in some way over half of them. */
const OVER_HALF =
  /\b(?:knit|knitted|purl|purled|worked|slipped|sts|stitches)\b.* over (?:only )?(?:the |a )?(?:first|second|last|other|front|back|left|right|1) half\b/;
/** Words that leave out some of what stands before the sentence. */
const LIMITS_FIRST = /^(?:not|only|on|in|at|but|except|without|omitting|over)$/;

/** Marks that draw a line in front of a heading. */
const RULES_OFF = /^[=_~#]$/;

/** A sentence that stands alone and that no rule has followed: true where it could be an instruction. */
export function sentenceInstructs(tokens: readonly Token[]): boolean {
  const lines = tokens.filter((t) => t.kind !== 'line');
  // "=== purl a round ==="
  const list = lines.slice(
    Math.max(
      0,
      lines.findIndex((t) => !RULES_OFF.test(t.text)),
    ),
  );
  if (list.length === 0) return false;
  const sentence = sentenceOf(list);
  return JUDGEMENTS.find(([, holds]) => holds(sentence))?.[0] ?? false;
}

export function counts(list: readonly Token[]): boolean {
  return list.some((_, i) => isCount(list, i));
}

function isFragment({ text }: Token): boolean {
  return text.length < 4 && !FILLERS.has(text);
}

function quantifies(t: Token | undefined): boolean {
  return /^(?:all|every|each)$/.test(t?.text ?? '');
}

/** "all stitches", "every loop": what stands behind such a word is as asked. */
function allOf(words: readonly Token[], what: (next: string) => boolean): boolean {
  return words.some((t, i) => quantifies(t) && what(words[i + 1]?.text ?? ''));
}

function isLength(list: readonly Token[], i: number): boolean {
  if (list[i].kind !== 'number' || sizesNeedle(list, i)) return false;
  // "8 in white"
  if (list[i + 1]?.text === 'in' && list[i + 2]?.kind === 'word') return false;
  return LENGTH_UNITS[list[i + 1]?.text] !== undefined;
}
