/**
 * What single words mean to the law of the reader: a stitch, a count, a word that limits, or one that asks for nothing
 * and is no slip of the pen. In: tokens. Out: whether they are such.
 */
import type { Token } from '../lex/tokens.ts';
import { CLASSES } from '../lexicon/classes.ts';
import { EVERYDAY } from '../lexicon/everyday.ts';
import { near } from '../lexicon/suggestions.ts';
import {
  DECREASE_WORDS,
  FILLERS,
  INCREASE_WORDS,
  INSTRUCTING_VERBS,
  ROUND_WORDS,
  ROW_WORDS,
  STITCH_WORDS,
} from '../lexicon/words.ts';
import { limitsWork } from './limits.ts';
import { readStitch } from './steps/stitch-words.ts';

/** Words whose slips of the pen must not pass for prose within an instruction. */
export const KEYWORDS =
  'rounds round rnds repeat until every other alternate decrease decreasing increase increasing stitches stitch knit purl remain remaining times marker markers needles needle work following next last each twice even continue before after between pattern garter'.split(
    ' ',
  );

/** Nearly a word that instructs, and no everyday word itself: "pure" is no "purl". */
export function isSlip(word: string): boolean {
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
export function countsNothing(t: Token, next: Token | undefined): boolean {
  const text = next?.text ?? '';
  if (CLASSES.tool.has(text) && (t.kind === 'number' || t.kind === 'ordinal')) return true;
  if (t.kind !== 'number') return false;
  const counts = STITCH_WORDS.has(text) || ROUND_WORDS.has(text) || ROW_WORDS.has(text);
  return text === '-' || (t.value === 1 && !counts);
}

/** Everyday words and fillers alone, one of them everyday: they ask for nothing wherever they stand. */
export function isEveryday(tokens: readonly Token[], besides?: ReadonlySet<string>): boolean {
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

export function limits(tokens: readonly Token[]): boolean {
  return limitsWork(tokens.map((t) => t.text).join(' '));
}

export function isCount(tokens: readonly Token[], i: number): boolean {
  if (tokens[i].kind !== 'number') return false;
  const at = /^(?:-|plain|knit|purl|garter|extra|further)$/.test(tokens[i + 1]?.text ?? '')
    ? i + 2
    : i + 1;
  const after = tokens[at];
  return (
    after?.kind === 'word' &&
    (STITCH_WORDS.has(after.text) ||
      ROUND_WORDS.has(after.text) ||
      ROW_WORDS.has(after.text) ||
      /^(?:times?|more)$/.test(after.text))
  );
}

/** "on each needle", "every side": what is told is told of each of them. */
export function tellsEachSide(tokens: readonly Token[]): boolean {
  return tokens.some(
    (t, i) =>
      /^(?:each|every)$/.test(t.text) &&
      tokens.slice(i + 1, i + 5).some((w) => CLASSES.side.has(w.text)),
  );
}

/** "(48 rows)", "- 54 rows of lace pattern", "by then you will have done 26 rounds": how many rounds that makes. */
export function statesRounds(tokens: readonly Token[]): boolean {
  return STATES_ROUNDS.test(tokens.map((t) => t.text).join(' '));
}

const STATES_ROUNDS =
  /^(?:[-(=:,] )*(?:(?:so|by then|altogether|in all|all in all|all told|in total) )*(?:(?:that|this|it|which|there|the (?:whole )?(?:thing|piece|square|lot)|(?:if|when) you count(?: them)?,? you|you|we|i) (?:(?:now|just|only|will|should|have|has|then) )*(?:is|was|be|are|makes?|made|took|takes?|have|has|gives?|comes to|get|worked|done|knitted) (?:now |just |only )?|= |making |a total of |total )?\d+ (?:rows|rounds|rnds)(?: (?:of (?:the )?(?:[a-z]+ )?(?:pattern|patt|lace)|in all|in total|total|altogether|worked|complete|completed|for me|by then|now|so far|from [a-z -]+))*(?: [).])*$/;

/** Words that lead on from a whole clause: "using …", "so that …", "loosely …". */
export const LEADS_ON =
  /^(?:with|using|in|on|by|for|to|from|at|over|as|so|because|since|if|when|while|that|which|who|where|like|without|before|after|than|rather|enough|of|not|no|very|quite|almost|about|or|but|this|it|they|there|these|those|you|your|we|i|he|she|both|each|all|any|some|is|are|was|will|should|can|may|must|the|a|an|my|our|its|their|even)$/;
