/**
 * The law of the reader: words that no rule has followed are prose, unless they could instruct (they hold a
 * stitch word, a count or a work verb, or nearly such a word). In: tokens. Out: whether they could.
 */

import type { Token } from '../lex/tokens.ts';
import { CLASSES, HANDLING } from '../lexicon/classes.ts';
import { EVERYDAY } from '../lexicon/everyday.ts';
import { near } from '../lexicon/suggestions.ts';
import {
  DECREASE_WORDS,
  DESCRIBING,
  DESCRIBING_SUBJECTS,
  EVERYDAY_VERBS,
  FILLERS,
  INCREASE_WORDS,
  INSTRUCTING_VERBS,
  LEADS,
  LENGTH_UNITS,
  MARKER_WORDS,
  ROUND_WORDS,
  ROW_WORDS,
  STITCH_WORDS,
} from '../lexicon/words.ts';
import { leavesOut, limitsWork } from './limits.ts';
import { declaredRepeats } from './steps/declared-repeats.ts';
import { readStitch } from './steps/stitch-words.ts';

/** Words whose slips of the pen must not pass for prose within an instruction. */
const KEYWORDS =
  'rounds round rnds repeat until every other alternate decrease decreasing increase increasing stitches stitch knit purl remain remaining times marker markers needles needle work following next last each twice even continue before after between pattern garter'.split(
    ' ',
  );

/** Nearly a word that instructs, and no everyday word itself: "pure" is no "purl". */
function isSlip(word: string): boolean {
  return !EVERYDAY.has(word) && near(word, KEYWORDS);
}

/** Stitches in abbreviations: `k2tog`, `ssk`, `k12`. */
export function isStitchWord(t: Token): boolean {
  if (t.kind !== 'word' || t.text.length < 2) return false;
  if (!/\d|^(?:ss[kp]|skp|skpo|yo|yfwd|kfb|pfb|cdd|psso|m1|ktbl|ptbl|mb)/.test(t.text))
    return false;
  const read = readStitch(t.text, 0);
  return read !== null && read.end === t.text.length;
}

/** A word that asks for nothing and is no slip of the pen for one that does. */
export function isHarmless(t: Token): boolean {
  if (t.kind !== 'word') return t.kind === 'mark' || t.kind === 'line';
  if (/^(?:times|once|twice|thrice|until|till|every|remain|rem|off)$/.test(t.text)) return false;
  if (FILLERS.has(t.text)) return true;
  if (t.text.length < 3 || /\d/.test(t.text) || !/[aeiouy]/.test(t.text)) return false;
  if (INSTRUCTING_VERBS.has(t.text) || isStitchWord(t)) return false;
  for (const set of [ROUND_WORDS, ROW_WORDS, STITCH_WORDS, DECREASE_WORDS, INCREASE_WORDS]) {
    if (set.has(t.text)) return false;
  }
  return !isSlip(t.text);
}

/** No count: "the other one", "the fifth needle", "a 3-needle bind-off". */
function countsNothing(t: Token, next: Token | undefined): boolean {
  const text = next?.text ?? '';
  if (CLASSES.tool.has(text) && (t.kind === 'number' || t.kind === 'ordinal')) return true;
  if (t.kind !== 'number') return false;
  const counts = STITCH_WORDS.has(text) || ROUND_WORDS.has(text) || ROW_WORDS.has(text);
  return text === '-' || (t.value === 1 && !counts);
}

/** Everyday words and fillers alone, one of them everyday: they ask for nothing wherever they stand. */
function isEveryday(tokens: readonly Token[], besides?: ReadonlySet<string>): boolean {
  let said = false;
  for (let i = 0; i < tokens.length; i++) {
    const t = tokens[i];
    if (t.kind === 'mark' || t.kind === 'line') continue;
    if (countsNothing(t, tokens[i + 1])) continue;
    if (t.kind !== 'word') return false;
    if (EVERYDAY.has(t.text) || besides?.has(t.text)) said = true;
    else if (!FILLERS.has(t.text) && !LEADS_ON.test(t.text)) return false;
  }
  return said;
}

/** Behind which round it stops: "and you have just purled". */
const HAVING_WORKED =
  /\byou (?:have )?(?:just |last )?(?:purled|knitted|worked|decreased|increased)\b/;

/** Words left over within an instruction: true where they could ask for something. */
export function leftoverInstructs(tokens: readonly Token[]): boolean {
  const [first] = tokens;
  const last = tokens[tokens.length - 1];
  if (first?.text === '(' && last?.text === ')') {
    // A remark in brackets is judged like any sentence.
    return limits(tokens) || tokens.some((t, i) => isStitchWord(t) || isCount(tokens, i));
  }
  const said = tokens.map((t) => t.text).join(' ');
  if (limits(tokens) || WAYS.test(said) || HAVING_WORKED.test(said)) return true;
  if (statesRounds(tokens) || isEveryday(tokens)) return false;
  // "Work round A frobnicate": right behind what was followed, without a comma, a word that nobody knows.
  const strange = tokens.filter((t) => t.kind === 'word' && !FILLERS.has(t.text));
  if (strange.length > 0 && strange[0] === first && !(leadsOn(first) && knownParticiple(first)))
    return true;
  return tokens.some(
    (t) => t.kind === 'number' || t.kind === 'ordinal' || ENDS.test(t.text) || !isHarmless(t),
  );
}

function limits(tokens: readonly Token[]): boolean {
  return limitsWork(tokens.map((t) => t.text).join(' '));
}

/** "Work the front sts, turn, work the back sts: that is one round": what a round is, no round to work. */
export function explainsRound(tokens: readonly Token[]): boolean {
  const said = tokens.map((t) => t.text).join(' ');
  return /\b(?:that|this|which|it) (?:is|makes|counts as|completes|equals) (?:1|a|the) (?:full |complete |whole )?(?:round|rnd|row)\b/.test(
    said,
  );
}

/** "Every row is wroked like this until you have 41 stitches": something goes on up to a count. */
function saysHowLong(tokens: readonly Token[]): boolean {
  const at = tokens.findIndex(
    (t) => t.kind === 'word' && /^(?:until|till|untill|til)$/.test(t.text),
  );
  const from = at >= 0 ? at : tokens.findIndex((t) => t.kind === 'word' && near(t.text, ['until']));
  const behind = from < 0 ? [] : tokens.slice(from + 1);
  return behind.some((t, i) => isCount(behind, i) || STITCH_WORDS.has(t.text));
}

/** ", ending with a plain round": behind which round something stops. */
const ENDS = /^(?:ending|finishing|plain|done|worked|knitted|purled|completed)$/;

/** Words that lead on from a whole clause: "using …", "so that …", "loosely …". */
const LEADS_ON =
  /^(?:with|using|in|on|by|for|to|from|at|over|as|so|because|since|if|when|while|that|which|who|where|like|without|before|after|than|rather|enough|of|not|no|very|quite|almost|about|or|but|this|it|they|there|these|those|you|your|we|i|he|she|both|each|all|any|some|is|are|was|will|should|can|may|must|the|a|an|my|our|its|their|even)$/;

function leadsOn(t: Token): boolean {
  return LEADS_ON.test(t.text) || /(?:ly|ing)$/.test(t.text);
}

const PARTICIPLES =
  /^(?:using|working|taking|keeping|making|being|having|following|allowing|letting|ending|starting|beginning|finishing|going|moving|changing|returning|bringing|counting|carrying|turning|ensuring|giving|leaving|remaining|facing|holding|according|including|noting|matching|maintaining|aligning|bearing|stopping|resting|hiding|closing|forming|creating|showing|doing|reading|picking|crossing|switching|switched|continuing|repeating|decreasing|increasing)$/;

/** A participle of a verb that is known: "using", "enjoying". */
function knownParticiple({ text }: Token): boolean {
  if (!/[a-z]{2}ing$/.test(text) || PARTICIPLES.test(text) || EVERYDAY.has(text)) return true;
  const stem = text.slice(0, -3);
  const verbs = [stem, `${stem}e`, stem.replace(/(.)\1$/, '$1')];
  return verbs.some((v) => EVERYDAY_VERBS.has(v) || EVERYDAY.has(v) || CLASSES.handle.has(v));
}

/** Ways of working a stitch, and sides of the work: they hold for what stands before them. */
const WAYS =
  /\b(?:knitwise|purlwise|kwise|pwise|k-wise|p-wise|backwards?|(?:on|from|along|over) (?:the )?(?:right|wrong|rs|ws)(?: side)?)\b/;
/** "in garter stitch", "without the last stitch", "over half the round": what is told is worked otherwise. */
const OTHERWISE =
  /^(?:in|on|over|at|from|without|through|for|to|into|with|across|along)\b.*\b(?:sts?|stitch(?:es)?|loops?|sides?|rounds?|rows?|rnds?|needles?|garter|stockinette|stocking|rib|ribbing|moss|seed)\b/;

/**
 * Words that no rule follows in a sentence that another rule took: true where they could ask for something.
 * `behind`: no mark and no "and" parts them from what was followed. `core`: the first that is not idle.
 */
export function strayInstructs(tokens: readonly Token[], behind: boolean, core = 0): boolean {
  if (limits(tokens)) return true;
  if (isEveryday(tokens, HANDLING)) return false;
  const words = tokens.filter((t) => t.kind === 'word');
  const [first] = words;
  if (!behind && declares(tokens)) return false;
  if (first && EVERYDAY_VERBS.has(first.text) && !behind) return tokens.some(isStitchWord);
  if (tokens.some((t) => t.kind === 'number' || t.kind === 'ordinal' || isStitchWord(t)))
    return true;
  if (!first) return false;
  if (INSTRUCTING_VERBS.has(first.text)) return true;
  const asks = (t: Token): boolean =>
    /^(?:times|once|twice|thrice|until|till|every|knit|purl|k|p|repeat|rep)$/.test(t.text) ||
    (!STITCH_WORDS.has(t.text) && !KEYWORDS.includes(t.text) && isSlip(t.text));
  if (words.some(asks)) return true;
  const said = words.map((t) => t.text).join(' ');
  if (behind && (OTHERWISE.test(said) || WAYS.test(said))) return true;
  return behind ? !leadsFirst(tokens, core) : !leadsOn(first) && !FILLERS.has(first.text);
}

/** "I do the pinhole one", "it is pure bliss": somebody or something is told of, and nothing asked. */
function declares(tokens: readonly Token[]): boolean {
  const list = tokens.filter((t) => t.kind !== 'line' && t.text !== '(' && t.text !== ')');
  if (!/^(?:it|they|i|he|she|there|mine|everyone|everybody|nobody)$/.test(list[0]?.text ?? ''))
    return false;
  return list.every(
    (t, i) =>
      t.kind === 'mark' ||
      (t.kind === 'number' && countsNothing(t, list[i + 1])) ||
      (t.kind === 'word' &&
        !isStitchWord(t) &&
        !isSlip(t.text) &&
        !/^(?:until|till|twice|thrice|times)$/.test(t.text)),
  );
}

/** What stands right behind an instruction leads on from it ("with a larger needle"), before any word that nobody knows. */
function leadsFirst(tokens: readonly Token[], core: number): boolean {
  let from = core;
  while (from > 0 && FILLERS.has(tokens[from - 1].text)) from--;
  const words = tokens.slice(from).filter((t) => t.kind === 'word');
  const first = words.find((t) => !DETERMINERS.test(t.text));
  if (!first) return true;
  return /ing$/.test(first.text)
    ? knownParticiple(first)
    : leadsOn(first) || FILLERS.has(first.text);
}

const DETERMINERS =
  /^(?:all|the|a|an|each|both|any|some|it|this|these|those|them|my|our|your|its|their)$/;

/** Sentences with a verb of work that ask for no stitch, and headings. */
const HARMLESS_SENTENCES: readonly RegExp[] = [
  /^(?:work|knit|purl) (?:very |quite |rather )?(?:loosely|firmly|evenly|tightly|gently|neatly|slowly)(?: (?:from here(?: on)?|throughout|here|please))?[ .!]*$/,
  /^(?:carry on|continue|go on|move on|proceed|turn) (?:now )?(?:to|with) (?:the )?(?:next|second|third|last|other|following) (?:part|section|step|page|chapter|stage)[ .!]*$/,
  /^(?:[ivx]{1,4}|[a-h])[ .):-]*$/,
  /\bcrochet\b/,
  /^(?:nb|ps|ok|phew|yay|tip|hint|psst|oh|ah|aha|hm+)[ .!:]*$/,
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

/** "(48 rows)", "- 54 rows of lace pattern": how many rounds that makes. */
function statesRounds(tokens: readonly Token[]): boolean {
  const said = tokens.map((t) => t.text).join(' ');
  return /^[-(=:,] (?:= )?(?:that (?:is|makes) |making |a total of |total )?\d+ (?:rows|rounds|rnds)(?: (?:of (?:the )?(?:[a-z]+ )?(?:pattern|patt|lace)|in all|in total|total|altogether|worked|complete|completed|from [a-z -]+))?(?: [).])*$/.test(
    said,
  );
}

function isCount(tokens: readonly Token[], i: number): boolean {
  if (tokens[i].kind !== 'number') return false;
  const next = tokens[i + 1];
  const after = next?.text === '-' ? tokens[i + 2] : next;
  return (
    after?.kind === 'word' &&
    (STITCH_WORDS.has(after.text) ||
      ROUND_WORDS.has(after.text) ||
      ROW_WORDS.has(after.text) ||
      /^(?:times?|more)$/.test(after.text))
  );
}

const IMPERATIVE =
  /^(?:knit|purl|k|p|work|rep|repeat|cont|continue|dec|decrease|inc|increase|slip|pick|keep|carry|bind|cast|turn|ssk|sl|yo|rib|wrap)$/;

/** Stitches and fabrics by name: with a number they ask for something. */
const WORKED = /^(?:knit|purl|k|p|garter|stockinette|stocking|moss|seed|rib|ribbing)$/;

/** "…: w&t", where it is not what w&t means that is told. */
function wrapsAndTurns(list: readonly Token[]): boolean {
  const at = list.findIndex(
    (t, i) => t.text === 'w' && list[i + 1]?.text === '&' && list[i + 2]?.text === 't',
  );
  return at > 0 && !list.some((t) => /^(?:means?|stands?|wrap|wraps|is|are|=)$/.test(t.text));
}

/** A sentence that stands alone and that no rule has followed: true where it could be an instruction. */
export function sentenceInstructs(tokens: readonly Token[]): boolean {
  const list = tokens.filter((t) => t.kind !== 'line');
  if (list.length === 0) return false;
  if (looksLikeRound(list) || garbledLabel(list) || wrapsAndTurns(list)) return true;
  // "(80), omitting the last repeat"
  const count = list[0].text === '(' ? list[1] : list[0];
  if ((count?.kind === 'number' || STITCH_WORDS.has(list[0].text)) && limits(list)) return true;
  // "SLIDE 4 - CARRY ON"
  if (
    /^(?:slide|card|page|part|day|chapter|lesson|stage|week|clue|section)$/.test(list[0].text) &&
    list.length <= 6 &&
    list[1]?.kind === 'number' &&
    /^[-:.]$/.test(list[2]?.text ?? '') &&
    list
      .slice(3)
      .every(
        (t) =>
          t.kind === 'word' &&
          !isStitchWord(t) &&
          !/^(?:knit|purl|k|p|work|repeat|rep)$/.test(t.text),
      )
  )
    return false;
  // "Work the front sts, turn, work the back sts: that is one round" explains what a round is.
  if (explainsRound(list) || statesRounds(list)) return false;
  const text = list.map((t) => t.text).join(' ');
  if (HARMLESS_SENTENCES.some((re) => re.test(text)) || declaredRepeats(text.replace(/\.$/, '')))
    return false;
  // "CABLE PATTERN (8 rows)": a heading
  const open = list.findIndex((t) => t.text === '(');
  if (
    open > 0 &&
    open < 8 &&
    statesRounds(list.slice(open)) &&
    list.slice(0, open).every((t) => !isStitchWord(t) && !INSTRUCTING_VERBS.has(t.text))
  )
    return false;
  // "Part 1, decreasing every 3rd round": a heading
  if (
    /^(?:part|section|stage|chapter|phase)$/.test(list[0].text) &&
    /^[a-z0-9]$/.test(list[1]?.text ?? '') &&
    /ing$/.test(list[3]?.text ?? '') &&
    !list.some((t) => isStitchWord(t) || /^(?:until|till|times)$/.test(t.text))
  )
    return false;
  // "Now decrease at the end of every needle:" only leads to what follows.
  const leads =
    list[list.length - 1].text === ':' || /\b(?:as follows|like this|thus)[ .]*$/.test(text);
  const often = list.some((t) => /^(?:twice|thrice|times|until|till)$/.test(t.text));
  if (leads && !often && !list.some((t) => t.kind === 'number' || isStitchWord(t))) return false;
  // "Work in garter stitch throughout" is said of the whole.
  if (list.some((t) => t.text === 'throughout') && !list.some((t) => t.kind === 'number'))
    return false;
  // "Do not bind off yet", "Change to 4 mm needles"
  if (list.slice(0, 3).some((t) => /^(?:not|don't|never)$/.test(t.text))) return false;
  if (
    /^(?:change|switch|use|using|move|transfer)$/.test(list[0].text) &&
    list.some((t) => /^(?:needles?|dpns?|circular)$/.test(t.text))
  )
    return false;
  const stitched = list.some(isStitchWord);
  const words = list.filter((t) => t.kind === 'word');
  // Headings: "Decreases", "Begin decreasing", "Shape crown".
  const short = list.length <= 5 && !list.some((t) => t.kind === 'number' || t.kind === 'ordinal');
  const knits = words.some((t) =>
    /^(?:knit|purl|k|p|work|repeat|rep|cast|bind|off|bo|casting|binding)$/.test(t.text),
  );
  if (words.length > 0 && words.every((t) => t.text.length < 4 && !FILLERS.has(t.text)))
    return true;
  if (
    words.some((t) => t.text === 'through') &&
    words.some((t) => /^(?:yarn|wool|sts|stitches|loops|thread)$/.test(t.text))
  )
    return true;
  if (
    words.some(
      (t, i) => /^(?:all|every|each)$/.test(t.text) && STITCH_WORDS.has(words[i + 1]?.text ?? ''),
    ) &&
    short
  )
    return true;
  if (short && !stitched && !knits) return false;
  const first = words[0]?.text ?? '';
  const describes =
    (DESCRIBING_SUBJECTS.has(first) || /ing$/.test(first)) &&
    words.some((t) => DESCRIBING.has(t.text));
  if (saysHowLong(list)) return true;
  if (beginsClause(list)) return !(describes && /^(?:if|when|note|you|we|i)$/.test(first));
  if (describes) return leavesOut(text) && list.some((_, i) => isCount(list, i));
  if (stitched) return true;
  if ((FINISHED.test(text) || COMPARES.test(text)) && !PASSIVE_WORK.test(text)) return false;
  const shapes = words.some((t) => DECREASE_WORDS.has(t.text) || INCREASE_WORDS.has(t.text));
  const goesOn = words.some((t) => /^(?:until|till|every|times)$/.test(t.text));
  const lengths = list.some(
    (t, i) =>
      t.kind === 'number' && LENGTH_UNITS[list[i + 1]?.text] !== undefined && !sizesNeedle(list, i),
  );
  if ((shapes && goesOn) || lengths) return true;
  if (knits && words.some((t) => /^(?:off|bo)$/.test(t.text))) return true;
  const numbered = list.some((t) => t.kind === 'number');
  if (numbered && words.some((t) => WORKED.test(t.text))) return true;
  if (words.some((t) => /^(?:twice|thrice)$/.test(t.text))) return true;
  // "In the 1st round all the stitches are …"
  const ofRound = list.some(
    (t, i) =>
      (ROUND_WORDS.has(t.text) || ROW_WORDS.has(t.text)) &&
      (list[i - 1]?.kind === 'ordinal' || list[i + 1]?.kind === 'number'),
  );
  if (ofRound && words.some((t) => STITCH_WORDS.has(t.text))) return true;
  if (
    words.some(
      (t, i) =>
        /^(?:knit|purl)$/.test(t.text) && /^(?:all|every|each)$/.test(words[i + 1]?.text ?? ''),
    )
  )
    return true;
  return list.some((_, i) => isCount(list, i));
}

/** "Rns 9-12: as rounds 1-4", "8tth rnd: p", "frobnicate k": what was a round but for a slip in its label. */
function garbledLabel(list: readonly Token[]): boolean {
  const colon = list.slice(0, 7).findIndex((t) => t.text === ':');
  const [first, second] = list;
  if (colon > 0) {
    const { text } = list[colon - 1];
    const unit = ROUND_WORDS.has(text) || ROW_WORDS.has(text);
    if (unit && list.length > colon + 1 && first.kind === 'number') return true;
    const short = first.kind === 'word' && /^[ro][a-z]{1,4}$/.test(first.text);
    if (short && second?.kind === 'number' && colon <= 5 && list.length > colon + 1) return true;
  }
  const words = list.filter((t) => t.kind === 'word');
  const last = words[words.length - 1];
  if (words.length === list.length && words.length === 2 && /^[kp]$/.test(last.text)) return true;
  // "These 4 rows form the attern"
  return (
    words.some((t) => /^(?:form|forms|set|sets|make|makes)$/.test(t.text)) &&
    words.some((t) => near(t.text, ['pattern', 'repeat', 'sequence']))
  );
}

/** `Round 5 …:`, `Row 3 k2`: a label that could not be read. */
export function looksLikeRound(tokens: readonly Token[]): boolean {
  const [first] = tokens;
  if (first?.kind !== 'word' || !(ROUND_WORDS.has(first.text) || ROW_WORDS.has(first.text)))
    return false;
  if (tokens.slice(1, 12).some((t) => t.text === ':')) return true;
  // "Rnd 1 frobnicate"
  const said = tokens.filter((t) => t.kind !== 'line');
  return (
    said[1]?.kind === 'number' && said.length <= 5 && !said.some((t) => DESCRIBING.has(t.text))
  );
}

/** Some clause begins with a verb in the imperative. */
function beginsClause(tokens: readonly Token[]): boolean {
  let opens = true;
  for (let i = 0; i < tokens.length; i++) {
    const t = tokens[i];
    if (t.kind === 'mark' && ',;:.([*-'.includes(t.text)) {
      opens = true;
      continue;
    }
    if (t.kind !== 'word') {
      opens = false;
      continue;
    }
    if (opens && IMPERATIVE.test(t.text)) {
      const next = tokens[i + 1];
      // "Work measures …", "knit side": no verbs.
      const noun =
        next?.kind === 'word' &&
        (DESCRIBING.has(next.text) ||
          /^(?:side|sides|stitches|sts|stitch)$/.test(next.text) ||
          ((ROUND_WORDS.has(next.text) || ROW_WORDS.has(next.text)) &&
            DESCRIBING.has(tokens[i + 2]?.text ?? '')));
      const marker =
        /^(?:slip|keep|carry|pick)$/.test(t.text) &&
        tokens.slice(i, i + 5).some((w) => MARKER_WORDS.has(w.text) || w.text === 'yarn');
      const turn = t.text === 'turn' && tokens.length < 4;
      if (!noun && !marker && !turn) return true;
    }
    opens = opens && (LEADS.has(t.text) || t.text === 'and' || t.text === 'then');
    if (t.text === 'and' || t.text === 'then') opens = true;
  }
  return false;
}

/** "this gives a neat edge", "if you have more", "change to white", "which is a right-side row": remarks by how they begin. */
const REMARKS =
  /^(?:which|who|if|because|since|so that|as|when|whenever|while|where|whereby|although|though|in order|to (?!(?:the|each|every|all|last|end|within)\b)|change|changing|switch|starting|start|begin|beginning|remember|nb|ps|psso|at some point|weave|darn|leave to|have|listen)\b/;

/** Words left over in a round's stitches: true where they could ask for something. */
export function wordsInstruct(text: string): boolean {
  const words = text.match(/[a-z0-9']+/g) ?? [];
  if (limitsWork(text)) return true;
  if (
    words.some((w) => EVERYDAY.has(w)) &&
    words.every((w) => EVERYDAY.has(w) || FILLERS.has(w) || LEADS_ON.test(w))
  )
    return false;
  const [first] = words;
  if (
    first &&
    DESCRIBING_SUBJECTS.has(first) &&
    words.some((w) => DESCRIBING.has(w) || /[a-z]{3}s$/.test(w))
  ) {
    return /\d/.test(text);
  }
  if (!first || !(REMARKS.test(text.trim()) || EVERYDAY_VERBS.has(first))) return true;
  return words.some(
    (w) =>
      /\d/.test(w) ||
      INSTRUCTING_VERBS.has(w) ||
      STITCH_WORDS.has(w) ||
      ROUND_WORDS.has(w) ||
      ROW_WORDS.has(w) ||
      MARKER_WORDS.has(w) ||
      DECREASE_WORDS.has(w) ||
      INCREASE_WORDS.has(w) ||
      /^(?:once|twice|times?|until|till|every|each|last)$/.test(w) ||
      isSlip(w),
  );
}
