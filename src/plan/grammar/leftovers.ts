/**
 * Words that no rule follows within an instruction, behind it or among its stitches: prose, unless they could ask for
 * something. In: their tokens, or their text. Out: true where they could.
 */
import { type Token, tokenize } from '../lex/tokens.ts';
import { CLASSES, HANDLING } from '../lexicon/classes.ts';
import { EVERYDAY } from '../lexicon/everyday.ts';
import {
  CRAFT_NOUNS,
  DECREASE_WORDS,
  DESCRIBING,
  DESCRIBING_SUBJECTS,
  EVERYDAY_VERBS,
  FABRIC_WORDS,
  FILLERS,
  INCREASE_WORDS,
  INSTRUCTING_VERBS,
  MARKER_WORDS,
  MODALS,
  PRONOUNS,
  ROUND_WORDS,
  ROW_WORDS,
  STITCH_WORDS,
  WORK_FORMS,
} from '../lexicon/words.ts';
import { placesElsewhere } from './adverbials.ts';
import { hidesOrder, otherYarn } from './hidden-orders.ts';
import { leavesToYou } from './left-to-you.ts';
import { limitsWork } from './limits.ts';
import { onlyTells } from './narration/only-tells.ts';
import { areRemarks, isRemark } from './remarks.ts';
import { toldOfEdges } from './unknown-names.ts';
import {
  countsNothing,
  isCount,
  isEveryday,
  isHarmless,
  isSlip,
  isStitchWord,
  KEYWORDS,
  LEADS_ON,
  limits,
  statesRounds,
} from './word-law.ts';

/** Sets a clause off from what stands before it. */
const SETS_OFF = /^(?:,|-|:|;|\(|and|but)$/;

/** Behind which round it stops: "and you have just purled". */
const HAVING_WORKED =
  /\byou (?:have )?(?:just |last )?(?:purled|knitted|worked|decreased|increased)\b/;

/** Words left over within an instruction: true where they could ask for something. */
/** "Work 4 rounds in waffle pattern", which nothing tells. */
export const UNTOLD_PATTERN =
  /^in (?:the )?(?!same|this|that|these|next|following|first|each|every|any|established|set|whole|main)[a-z-]+(?: [a-z-]+)? (?:pattern|patt)[ .]*$/;

export function leftoverInstructs(tokens: readonly Token[]): boolean {
  if (UNTOLD_PATTERN.test(tokens.map((t) => t.text).join(' '))) return true;
  const [first] = tokens;
  const last = tokens[tokens.length - 1];
  if (first?.text === '(' && last?.text === ')') {
    // A remark in brackets is judged like any sentence.
    return (
      limits(tokens) ||
      tokens.some(
        (t, i) =>
          isStitchWord(t) ||
          isCount(tokens, i) ||
          // "(…, purl the centre stitch on wrong side rows)"
          (/^(?:knit|purl)$/.test(t.text) && /^(?:the|your)$/.test(tokens[i + 1]?.text ?? '')),
      )
    );
  }
  const said = tokens.map((t) => t.text).join(' ');
  if (toldOfEdges(said)) return true;
  if (placesElsewhere(tokens) || otherYarn(tokens) || hangsOnly(tokens)) return true;
  if (onlyTells(tokens) || areRemarks(tokens, SETS_OFF.test(first?.text ?? ''))) return false;
  if (limits(tokens) || WAYS.test(said) || HAVING_WORKED.test(said)) return true;
  if (PLACED.test(said)) return true;
  if (statesRounds(tokens) || isEveryday(tokens)) return false;
  // "Work round A frobnicate": right behind what was followed, without a comma, a word that nobody knows.
  const strange = tokens.filter((t) => t.kind === 'word' && !FILLERS.has(t.text));
  if (strange.length > 0 && strange[0] === first && !(leadsOn(first) && knownParticiple(first)))
    return true;
  return tokens.some(
    (t) => t.kind === 'number' || t.kind === 'ordinal' || ENDS.test(t.text) || !isHarmless(t),
  );
}

/** "in the middle", "before the corners": somewhere else than behind what was told. */
const PLACED =
  /^(?:in|at|near) the (?:very )?(?:middle|cent(?:re|er)|corners?)\b|^(?:just |right |immediately )?(?:before|between|behind|inside|outside|around|ahead of|next to|beside|in front of) (?:each |every |all )?(?:of )?(?:the )?(?:corners?|middle|cent(?:re|er)|edges?|ridges?|shaping|decreases?|increases?|every decrease)\b(?! (?:begins?|starts?|is|are|to)\b)/;

/** "… if you have an odd number": it is not known whether it is worked. What is at will is noted elsewhere. */
function hangsOnly(tokens: readonly Token[]): boolean {
  const words = tokens.filter((t) => t.kind !== 'line' && !/^[,(]$/.test(t.text));
  const said = words.map((t) => t.text).join(' ');
  return (
    /^(?:(?:but|and|only) )*(?:if|unless|provided|depending)\b/.test(said) &&
    leavesToYou(said) === null &&
    !words.some((t) => t.kind === 'mark' || BESIDE.test(t.text))
  );
}

/** What is done or looked at beside the order, or what is at will. */
const BESIDE =
  /^(?:you're|it|necessary|needed|possible|use|using|check|count|help|helps|easier|better|marker|markers|like|want|wish|prefer|desired)$/;

/** ", ending with a plain round": behind which round something stops. */
const ENDS = /^(?:ending|finishing|plain|done|worked|knitted|purled|completed)$/;

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
  if (limits(tokens) || placesElsewhere(tokens, 'start')) return true;
  if (toldOfEdges(tokens.map((t) => t.text).join(' '))) return true;
  if (isEveryday(tokens, HANDLING) || (!behind && onlyTells(tokens))) return false;
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

/** How far, how often and which: beside an end they are told of something else that is worked. */
const EXTENTS =
  /^(?:until|till|every|each|other|alternate|half|once|twice|thrice|times?|more|fewer|less|again|knit|purl|k|p|repeat|rep|work)$/;

/** "until the centre closes": how far the thread is pulled. */
const TILL_CLOSED =
  /\b(?:until|till) (?:the |it |this )*(?:cent(?:re|er)|hole|middle|gap|circle|ring|opening|it|work|piece|all|everything|square)? ?(?:is |has |gets |lies |sits )*(?:closed?s?|shuts?|tight|snug|disappear(?:s|ed)?|gone|vanish(?:es|ed)?|flat|firm)\b/;
/** Which way the stitches are bound off: "as if to knit", "from the knit side", "while knitting". */
const KNITWISE =
  /\b(?:(?:as if |as though |as )?to (?:knit|purl)|(?:from|on|with|by) the (?:knit|purl|front|back)(?: side)?|(?:knit|purl)[- ]?wise|(?:while |by |in )?(?:knit|purl)ting?|(?:while |by )?(?:purling|knitting))\b(?= ?(?:[,.;()-]|$|(?:and|with|not|while|as|by|in|very|quite)\b))/g;

/**
 * Words that no rule follows in a sentence that binds off, or draws the yarn through the stitches (`count` of them, where it
 * tells): true where they could work some of them, or stand right `behind` what was followed and lead on from nothing. How the edge is made and the thread is pulled changes no loop.
 */
export function besideEndingInstructs(
  words: readonly Token[],
  { count, binds }: { readonly count: number | null; readonly binds: boolean },
  behind: boolean,
): boolean {
  const said = words.map((t) => t.text).join(' ');
  const rest = said.replace(TILL_CLOSED, ' ').replace(KNITWISE, (way) => (binds ? ' ' : way));
  const tokens = rest === said ? words : tokensOf(rest);
  if (binds && limitsBinding(words)) return true;
  if (binds && behind && tokens.some((t) => t.kind === 'word') && !leadsFirst(tokens, 0))
    return true;
  return (
    limits(tokens) ||
    tokens.some(
      (t, i) =>
        (t.kind === 'number' && t.value !== count && !countsNothing(t, tokens[i + 1])) ||
        t.kind === 'ordinal' ||
        (t.kind === 'word' &&
          (EXTENTS.test(t.text) ||
            (binds && SOME_OF_THEM.test(t.text)) ||
            isStitchWord(t) ||
            isSlip(t.text) ||
            [
              STITCH_WORDS,
              ROUND_WORDS,
              ROW_WORDS,
              MARKER_WORDS,
              DECREASE_WORDS,
              INCREASE_WORDS,
            ].some((set) => set.has(t.text)))),
    )
  );
}

/** "the corners only" */
const ONLY_SOME =
  /\b(?:corners?|half|sides?|needles?|edges?|middle|cent(?:re|er))\b.*\bonly\b|\bonly\b.*\b(?:corners?|half|sides?|needles?|edges?|middle|cent(?:re|er))\b/;
export const limitsBinding = (words: readonly Token[]): boolean =>
  ONLY_SOME.test(words.map((t) => t.text).join(' '));

/** Not all the stitches, or others than those. */
const SOME_OF_THEM =
  /^(?:corners?|first|last|next|half|side|sides|needle|needles|marker|skip|slip|wrap|turn|cross|except|but|together|tog|over|picot|icord|join|edging|border|yarn|pattern|rib|moss|garter|seed)$/;

/** Words behind a count that no rule follows hold no work, no limit and no slip of the pen for either. */
export function isChat(tokens: readonly Token[]): boolean {
  return (
    !limits(tokens) &&
    !/\b(?:so on|etc)\b/.test(tokens.map((t) => t.text).join(' ')) &&
    tokens.every(
      (t) =>
        t.kind === 'word' &&
        !WORK_FORMS.has(t.text) &&
        !(FABRIC_WORDS.has(t.text) && !EVERYDAY.has(t.text)) &&
        !isStitchWord(t) &&
        !isSlip(t.text) &&
        !/^(?:again|over|until|till|except|other)$/.test(t.text) &&
        // A short word that nobody knows may be garbled.
        (t.text.length > 4 ||
          [EVERYDAY, FILLERS, EVERYDAY_VERBS, PRONOUNS, MODALS, CRAFT_NOUNS].some((set) =>
            set.has(t.text),
          ) ||
          LEADS_ON.test(t.text)),
    )
  );
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

/** "this gives a neat edge", "if you have more", "change to white", "which is a right-side row": remarks by how they begin. */
const REMARKS =
  /^(?:which|who|if|because|since|so that|as|when|whenever|while|where|whereby|although|though|in order|to (?!(?:the|each|every|all|last|end|within)\b)|change|changing|switch|starting|start|begin|beginning|remember|nb|ps|psso|at some point|weave|darn|leave to|have|listen)\b/;

/** "so that it lies flat": the clause at `at` of a round's stitches is a remark. `apart`: a mark or "and" stands before it. Out: where it ends, or `at`. */
export function remarkEnd(text: string, at: number, apart: boolean): number {
  CLAUSE.lastIndex = at;
  const clause = CLAUSE.exec(text)?.[0] ?? '';
  if (STOPS.test(text.slice(Math.max(0, at - 4), at)) && hidesOrder(tokensOf(clause))) return at;
  return isRemark(wordTokens(clause), apart) ? at + clause.length : at;
}

const CLAUSE = /[^,;.!?()[\]{}*\n]{0,200}/y;

/** Words of a round's text as tokens. */
export function wordTokens(words: string): Token[] {
  return (words.match(/[a-z][a-z0-9']*|\d+/g) ?? []).map((text) => ({
    kind: /^\d/.test(text) ? 'number' : 'word',
    text,
    value: Number(text),
    spaced: true,
    capital: false,
    from: 0,
    to: 0,
  }));
}

/** … with their marks. */
export function tokensOf(words: string): Token[] {
  const map = Int32Array.from({ length: words.length + 1 }, (_, i) => i);
  return tokenize({ norm: words, text: words, map }).filter((t) => t.kind !== 'line');
}

/** At the beginning of a sentence. */
const STOPS = /[.!?]\s*$/;

/** Words left over in a round's stitches: true where they could ask for something. */
export function wordsInstruct(text: string): boolean {
  const words = text.match(/[a-z0-9']+/g) ?? [];
  if (limitsWork(text) || hidesOrder(tokensOf(text))) return true;
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
