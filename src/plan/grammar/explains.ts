/**
 * Sentences that explain or sum up: what a round or a fabric is, how many rounds there are. In: the tokens of a sentence. Out: whether it
 * does, and so asks for nothing.
 */
import type { Token } from '../lex/tokens.ts';
import { isRemark } from './remarks.ts';
import { statesRounds } from './word-law.ts';

/** "Work the front sts, turn, work the back sts: that is one round": what a round is, no round to work. */
export function explainsRound(tokens: readonly Token[]): boolean {
  const said = tokens.map((t) => t.text).join(' ');
  return /\b(?:that|this|which|it) (?:is|makes|counts as|completes|equals) (?:1|a|the) (?:full |complete |whole )?(?:round|rnd|row)\b/.test(
    said,
  );
}

const NAMED_FABRIC =
  /^[( *]*(?:(?:note|remember|nb|reminder)[ :]*)?(?:in |for )?(?:the |your )?(?:double )?(?:seed|moss|garter|stockinette|stocking|rib|ribbing|pattern|work|even|as)(?: (?:st|stitch|pattern|set|established|as|even|worked|when|knitted|in|the|rounds?))* (?:[=:-]|is|means|you|always|every|each|we|i)/;
const OF_FABRIC =
  /^(?:set|established|even|keep|seed|moss|garter|stockinette|stocking|rib|ribbing|pattern|double|note|remember|nb|reminder|in|for|your|means|you|we|i|by|worked|work|just|simply|knit|knits|knitted|knitting|k|purl|purls|purled|purling|p|the|a|an|every|each|all|st|sts|stitch|stitches|over|on|above|and|as|they|it|see|face|facing|come|comes|appear|appears|present|look|looks|show|always|again|them|that|those|are|is|of|rows?|rounds?|previous|last|below|before|into|when|so|below|one|ones)$/;

/** "Garter stitch in the round means knitting one round and purling the next": by its rounds. */
const GARTER_TOLD =
  /^[( *]*(?:(?:note|remember|nb|reminder)[ :]*)?(?:in )?(?:the )?garter (?:st|stitch)(?: (?:is|means|when|worked|knitted|in|the|rounds?|simply|just|here|that|you|we|to|of|alternately|alternating|by|=))*(?: (?:means|is|by|you|to|alternately|alternating|=))(?: (?:you|to|simply|just|alternately|alternating|that|a|an|1|one))* (?:k|knit\w*|p|purl\w*)(?: (?:1|one|a|an|the|each|every|first|next|other|rounds?|rnds?|and|then|alternately|k|knit\w*|p|purl\w*|in|turn|by|followed|,))*[ )]*$/;

/** "(seed st = knit the purls, purl the knits as they face you)": what a fabric is. */
export function explainsFabric(tokens: readonly Token[]): boolean {
  const said = tokens.map((t) => t.text).join(' ');
  if (GARTER_TOLD.test(said)) return true;
  if (
    !NAMED_FABRIC.test(said) ||
    !/\b(?:k|knit\w*)\b.*\b(?:p|purl\w*)\b|\b(?:p|purl\w*)\b.*\b(?:k|knit\w*)\b/.test(said)
  )
    return false;
  return tokens.every((t) => t.kind === 'mark' || (t.kind === 'word' && OF_FABRIC.test(t.text)));
}

/** "Altogether that is 26 rounds, and the last stripe is a narrow one" */
export function tellsRounds(list: readonly Token[]): boolean {
  const behind = list.findIndex((t, i) => i > 0 && /^[,;]$/.test(t.text));
  if (behind < 0) return statesRounds(list);
  return statesRounds(list.slice(0, behind)) && isRemark(list.slice(behind), true);
}

/** "co - cast on; k - knit; rep - repeat": what abbreviations mean. */
export function listsMeanings(tokens: readonly Token[]): boolean {
  return MEANINGS.test(tokens.map((t) => t.text).join(' '));
}
const MEANINGS = /^[a-z0-9]{1,9} [-=:] [^;]{1,60}; [a-z0-9]{1,9} [-=:] [a-z]/;
