/**
 * Sentences that were an instruction but for a slip of the pen. In: their tokens. Out: whether they are such.
 */
import type { Token } from '../lex/tokens.ts';
import { CLASSES } from '../lexicon/classes.ts';
import { EVERYDAY } from '../lexicon/everyday.ts';
import { near } from '../lexicon/suggestions.ts';
import {
  CRAFT_NOUNS,
  DECREASE_WORDS,
  DESCRIBING,
  EVERYDAY_VERBS,
  FILLERS,
  INCREASE_WORDS,
  ROUND_WORDS,
  ROW_WORDS,
  WORK_FORMS,
  words,
} from '../lexicon/words.ts';

const WORK_VERBS = ['knit', 'purl', 'rep', 'repeat', 'decrease', 'increase', 'join', 'bind'];
const OFF_VERBS = ['cast', 'bind', 'fasten'];
/** What a label is made of, besides numbers. */
const LABEL_WORDS = [
  'round',
  'rounds',
  'rnd',
  'rnds',
  'row',
  'rows',
  'next',
  'every',
  'decrease',
  'increase',
];

/** Nearly one of those words, and none that says something itself. */
export function isSlipOf(word: string, known: readonly string[]): boolean {
  return near(word, known) && !SAYING.some((set) => set.has(word));
}

/** Names of rounds that are none, but for a slip. */
export const NAME_SLIPS = ['every', 'decrease', 'increase'];

const OTHERS = words('reps joint knits purls');
const SAYING: readonly ReadonlySet<string>[] = [
  EVERYDAY,
  EVERYDAY_VERBS,
  WORK_FORMS,
  CRAFT_NOUNS,
  DECREASE_WORDS,
  INCREASE_WORDS,
  FILLERS,
  CLASSES.join,
  OTHERS,
];

/** "Rqounds 1 and 2:", "Nqext 4 rounds:", "Tqhree times:": a caption that was a label, or said how often, but for a slip. */
export function garbledCaption(tokens: readonly Token[]): boolean {
  return tokens.some(
    ({ kind, text }) =>
      kind === 'word' && (/^(?:times|twice|thrice)$/.test(text) || isSlipOf(text, LABEL_WORDS)),
  );
}

/** "Rns 9-12: as rounds 1-4", "8tth rnd: p", "frobnicate k": what was a round but for a slip in its label. */
export function garbledLabel(list: readonly Token[]): boolean {
  const colon = list.slice(0, 7).findIndex((t) => t.text === ':');
  const [first, second] = list;
  if (colon > 0) {
    if (garbledCaption(list.slice(0, colon))) return true;
    const { text } = list[colon - 1];
    const unit = ROUND_WORDS.has(text) || ROW_WORDS.has(text);
    if (unit && list.length > colon + 1 && first.kind === 'number') return true;
    const short = first.kind === 'word' && /^[ro][a-z]{1,4}$/.test(first.text);
    if (short && second?.kind === 'number' && colon <= 5 && list.length > colon + 1) return true;
  }
  const said = list.filter((t) => t.kind === 'word');
  const last = said[said.length - 1];
  // "Knitt.", "Purrl to the end", "Cqast off": nothing but a heading otherwise
  const [verb, off] = said;
  if (verb === first && list.length <= 6 && isSlipOf(verb.text, WORK_VERBS)) return true;
  if (off?.text === 'off' && isSlipOf(verb.text, OFF_VERBS)) return true;
  if (said.length === list.length && said.length === 2 && /^[kp]$/.test(last.text)) return true;
  // "These 4 rows form the attern"
  return (
    said.some((t) => /^(?:form|forms|set|sets|make|makes)$/.test(t.text)) &&
    said.some((t) => near(t.text, ['pattern', 'repeat', 'sequence']))
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
