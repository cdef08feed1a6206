/**
 * Sentences that tell of something and have nothing worked: what other knitters may do, what stitches look like, what the
 * writer did, what to count or look at. In: the tokens of a sentence. Out: whether it is such.
 */
import type { Token } from '../lex/tokens.ts';
import { CLASSES } from '../lexicon/classes.ts';
import {
  DECREASE_WORDS,
  DESCRIBING,
  EVERYDAY_VERBS,
  FABRIC_WORDS,
  INCREASE_WORDS,
  INSTRUCTING_VERBS,
  LEADS,
  MODALS,
  PRONOUNS,
  ROUND_WORDS,
  ROW_WORDS,
} from '../lexicon/words.ts';
import { isSlip, isStitchWord } from './word-law.ts';

/** "If you want it bigger, cast on 8 more stitches", "For a larger mat …": what other knitters may do, and this piece does not. */
const LEFT_TO_YOU =
  /^(?:(?:and|but|or|so|also|of course) )*(?:should you\b|you (?:(?:may|might|could)\b(?! now)|can\b(?=.*\b(?:if (?:you|desired|wanted)|instead|also)\b))|optional(?:ly)?\b|if (?:desired|wanted|wished|you (?:want|wish|like|prefer|would|need|find|have|run|drop|tend|get|can|can't|cannot|own|hate|feel|must|don't|do not|would rather)|yours|your|it|there|this|they|necessary|needed|preferred|desired)|(?:for|to make) (?:a|an|it) (?:much |little |bit )*(?:bigger|larger|smaller|wider|longer|deeper|narrower|shorter))\b/;

/** The sentence says what may be done, and not what is. */
export function leftToYou(tokens: readonly Token[]): boolean {
  if (
    !/^(?:and|but|or|so|also|of|if|for|to|should|you|optional|optionally)$/.test(
      tokens[0]?.text ?? '',
    )
  )
    return false;
  const text = tokens
    .slice(0, 10)
    .map((t) => t.text)
    .join(' ');
  return LEFT_TO_YOU.test(text) && !tokens.some((t) => /^(?:otherwise|else)$/.test(t.text));
}

const LEADS_TO_WORK =
  /^(?:until|till|twice|times|work|knit|purl|repeat|rep|now|then|last|final|finally|next)$/;
/** Words that stand before a stitch which is told of, and not worked. */
const OF_A_STITCH =
  /^(?:the|a|an|that|this|each|every|your|both|these|those|of|lonely|first|last|2)$/;

/** "The ssk mirrors the k2tog", "k2tog leans right": stitches are told of, none is worked. */
export function tellsOfStitches(list: readonly Token[]): boolean {
  if (list.some((t) => t.kind === 'number' || LEADS_TO_WORK.test(t.text))) return false;
  const verbs = list.filter((t) => DESCRIBING.has(t.text));
  return (
    verbs.length > 0 &&
    list.every((t, i) => {
      if (!isStitchWord(t)) return true;
      const [before, after] = [list[i - 1]?.text ?? '', list[i + 1]?.text ?? ''];
      return OF_A_STITCH.test(before) || DESCRIBING.has(after);
    })
  );
}

/** "I did 12 of them in blue", "mine took an evening": what the writer tells of herself, without any work in it. */
export const TELLER =
  /^(?:i|mine|my|everyone|everybody|nobody|people|some|most|grandmother|mother|he|she)$/;
const WORK_TOLD =
  /^(?:knit|knitted|purl|purled|k|p|work|worked|repeat|repeated|rep|repeating|dec|decrease|decreased|inc|increase|increased|cast|bound|bind|bo|until|till|continued|continue)$/;
/** What is done beside the knitting: "count your stitches after every decrease round". */
const CHECKS =
  /^(?:count|check|read|measure|look|watch|mind|remember|note|take|try|wash|lay|stop|have|enjoy|relax|breathe|smile)$/;
/** Some word of work that is no name of a round: "every decrease round" asks for none. */
export function asksForWork(words: readonly Token[]): boolean {
  return words.some((t, i) => {
    const next = words[i + 1]?.text ?? '';
    return WORK_TOLD.test(t.text) && !ROUND_WORDS.has(next) && !ROW_WORDS.has(next);
  });
}

/** "Beginners: please read this twice", "always count your stitches": a verb of checking leads. */
export function checks(words: readonly Token[]): boolean {
  const at = words.findIndex(
    (t) => !LEADS.has(t.text) && !/^(?:always|beginners|don't|forget|do|not|to)$/.test(t.text),
  );
  return at >= 0 && CHECKS.test(words[at].text);
}

const CHANGES =
  /^(?:change|switch|swap|start|begin|stop|end|finish|until|till|times|twice|every|each|on|only)$/;

/** "It gets better in about 3 rounds", "For the first 3 rounds it looks hopeless": only how long something takes is counted. */
export function tellsOfTime(list: readonly Token[]): boolean {
  const asks = list.some(
    (t, i) =>
      CHANGES.test(t.text) ||
      INSTRUCTING_VERBS.has(t.text) ||
      FABRIC_WORDS.has(t.text) ||
      DECREASE_WORDS.has(t.text) ||
      INCREASE_WORDS.has(t.text) ||
      (t.text !== 'a' && CLASSES.yarn.has(t.text)) ||
      isStitchWord(t) ||
      (t.kind === 'word' && isSlip(t.text) && !ROUND_WORDS.has(t.text) && !ROW_WORDS.has(t.text)) ||
      (t.kind === 'number' && !lasts(list, i)),
  );
  if (asks || !list.some((t) => t.kind === 'number')) return false;
  return list.some(
    (t, i) =>
      PRONOUNS.has(t.text) &&
      list
        .slice(i + 1, i + 4)
        .some((v) => DESCRIBING.has(v.text) || MODALS.has(v.text) || EVERYDAY_VERBS.has(v.text)),
  );
}

/** "3 rounds", "4 or 5 rows", "a round or 2", "1 of them" */
function lasts(list: readonly Token[], i: number): boolean {
  const next = list[i + 1]?.text ?? '';
  const unit = ROUND_WORDS.has(next) || ROW_WORDS.has(next);
  return unit || /^(?:or|of)$/.test(next) || list[i - 1]?.text === 'or';
}
