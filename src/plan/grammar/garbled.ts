/**
 * Sentences that were an instruction but for a slip of the pen. In: their tokens. Out: whether they are such.
 */
import type { Token } from '../lex/tokens.ts';
import { EVERYDAY } from '../lexicon/everyday.ts';
import { near } from '../lexicon/suggestions.ts';
import {
  CRAFT_NOUNS,
  DESCRIBING,
  EVERYDAY_VERBS,
  FILLERS,
  ROUND_WORDS,
  ROW_WORDS,
  WORK_FORMS,
} from '../lexicon/words.ts';

const WORK_VERBS = ['knit', 'purl', 'repeat', 'decrease', 'increase', 'bind'];
const isKnownWord = (word: string): boolean =>
  EVERYDAY.has(word) ||
  EVERYDAY_VERBS.has(word) ||
  WORK_FORMS.has(word) ||
  CRAFT_NOUNS.has(word) ||
  FILLERS.has(word);

/** "Rns 9-12: as rounds 1-4", "8tth rnd: p", "frobnicate k": what was a round but for a slip in its label. */
export function garbledLabel(list: readonly Token[]): boolean {
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
  // "Knitt.", "Purrl to the end": nothing but a heading otherwise
  const [verb] = words;
  if (list.length <= 6 && verb === first && near(verb.text, WORK_VERBS) && !isKnownWord(verb.text))
    return true;
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
  const short = first?.text === 'r' && tokens[1]?.kind === 'number';
  if (
    first?.kind !== 'word' ||
    !(short || ROUND_WORDS.has(first.text) || ROW_WORDS.has(first.text))
  )
    return false;
  if (tokens.slice(1, 12).some((t) => t.text === ':')) return true;
  // "Rnd 1 frobnicate"
  const said = tokens.filter((t) => t.kind !== 'line');
  return (
    said[1]?.kind === 'number' &&
    (said.length <= 5 || said.some((t) => /^(?:like|same)$/.test(t.text))) &&
    !said.some((t) => DESCRIBING.has(t.text))
  );
}
