/**
 * Corner stitches told by their name beside a fabric: "corner sts k, all other sts in moss st", "moss everything else", "work
 * moss, knitting the corner sts". Two clauses in either order and by any joint: what the corners are, and the fabric of the
 * others. In: the designer's text. Out: such words as they are told needle by needle where the text says that the first
 * stitch of every needle is one, or over marked stitches where it marks them; none where it does not say where they stand.
 */
import { regex } from '../lexicon/expression.ts';
import type { Replacement } from './numbers.ts';
import { readAs } from './replaced.ts';
import { FABRIC_NAME, STS } from './wording.ts';

const SIDE = '(needle|pin|dpn|side|section)';
const FIRST_TOLD = regex.i`\b(?:1st|first) (?:st|stitch|one) (?:on|of|in) (?:every|each) ${SIDE}\b[^.\n]{0,24}\bcorner\b|\bcorner (?:${STS})?[^.\n]{0,24}\b(?:1st|first) (?:(?:st|stitch|one) )?(?:on|of|in) (?:every|each) ${SIDE}\b|\b(?:every|each) ${SIDE} (?:begins|starts) with (?:its|a|the) corner\b`;
/** Markers hang in the corner stitches. */
const MARKED =
  /\b(?:mark|marked|markers?|pins?|clips?|rings?)\b[^.\n]{0,60}\b(?:in|into|on|onto|through)\b[^.\n]{0,80}(?:[.:,;(][^.\n]{0,20})?\bcorner\b|\bmark(?:ed|ing)?\b[^.\n]{0,60}\bcorner (?:sts?|stitch)/i;
const CORNERS = `(?:the |every |each |all |your )?(?:\\d |four )?corner ${STS}`;
const FABRIC = `((?:${FABRIC_NAME})(?: st(?:itch)?\\b)?)`;
const KNIT = '(?:knit|knitted|k)';
const AS =
  '(?: as (?:set|before|established|always|usual|(?:they|it) (?:falls?|comes?|appears?|stands?|lies?|lie)))?';
/** "everything else", "all the other sts", "the rest", "in between" */
const OTHERS = `(?:everything else|all else|(?:everything|all(?: the)?(?: ${STS})?|the ${STS}) (?:in )?between(?: them)?|in between(?: them)?|(?:all )?(?:the |your )?(?:others?|rest|remaining|remainder)(?: of the ${STS}| ${STS})?)`;
const VERB = '(?:work(?:ing)?|keep(?:ing)?|with|do|in)';
const CORNERS_CLAUSE = `(?:(?:always )?(?:knit|knitting|k) ${CORNERS}${AS}|${CORNERS}(?: are| is)?(?: always)?(?: worked)? ${KNIT}${AS})`;
const FABRIC_CLAUSE = `(?:(?:${VERB} (?:even )?(?:in )?)?${FABRIC}${AS}(?: (?:(?:on|over|for|across|in) )?${OTHERS})?|(?:${VERB} )?${OTHERS}(?: are)?(?: worked| kept)?(?: in)? ${FABRIC}${AS})`;
/** What seed stitch is, told beside it. */
const SEED = String.raw`(?: ?\((?:purl|knit|k|p) (?:the|what looks like an?|whatever looks like an?) (?:knits?|purls?)(?: sts?)?(?:,| and| &|, and) ?(?:purl|knit|k|p) (?:the|what looks like an?|whatever looks like an?) (?:knits?|purls?)(?: sts?)?\))`;
const JOINT = '(?:,|;|:| -| –)?(?: (?:and|but|with|while|then|only))* ';
const BEGINS = '\\b(?<=[:.] {1,2}|^ {0,8})';
const ENDS = '(?=[ ]?(?:[.;(]|$))';

const WAYS: readonly RegExp[] = [
  `${BEGINS}${CORNERS_CLAUSE}${JOINT}${FABRIC_CLAUSE}(${SEED})?${ENDS}`,
  `${BEGINS}${FABRIC_CLAUSE}(${SEED})?${JOINT}${CORNERS_CLAUSE}${ENDS}`,
].map((source) => new RegExp(source, 'gim'));

export function cornerStitches(text: string): Replacement[] {
  if (!/\bcorner\b/i.test(text)) return [];
  const first = FIRST_TOLD.exec(text);
  const side = first && (first[1] ?? first[2] ?? first[3]);
  if (!side && !MARKED.test(text)) return [];
  return WAYS.flatMap((re) =>
    readAs(text, re, ([, one, other, seed]) => {
      const fabric = one ?? other;
      // Purl where it looks knitted: seed alone.
      if (seed && !/^(?:moss|seed)/i.test(fabric)) return null;
      if (side) return `on each ${side.toLowerCase()} k1, ${fabric}`;
      return `${fabric}, knitting the marked sts`;
    }),
  );
}
