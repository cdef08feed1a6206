/**
 * Corner stitches told by their name where the text says that the first stitch of every needle is one: "corner sts k, all
 * other sts in moss st". In: the designer's text. Out: such words as they are told needle by needle; none where the text
 * does not say where its corner stitches stand.
 */
import type { Replacement } from './numbers.ts';
import { STS } from './wording.ts';

const TOLD =
  /\b(?:1st|first) (?:st|stitch) (?:on|of|in) (?:every|each) (needle|pin|dpn|side|section)\b[^.\n]{0,24}\bcorner\b/i;
const CORNERS = `(?:the |every |each |all )?corner ${STS}`;
const FABRIC = '((?:moss|seed|garter|stockinette|stocking|rib|ribbing)(?: st(?:itch)?\\b)?)';
const OTHERS = `,? (?:and )?(?:work |keep |working |keeping )?(?:all )?(?:the )?(?:others?|rest|remaining)(?: ${STS})?(?: are)?(?: worked)?(?: in)? ${FABRIC}`;
const KNIT = '(?:knit|knitted|k)';
const BEGINS = '\\b(?<=[:.] {1,2}|^ {0,8})';

const WAYS: readonly RegExp[] = [
  `${BEGINS}${CORNERS}(?: are| is)?(?: always)? ${KNIT}(?: as before)?${OTHERS}`,
  `${BEGINS}${KNIT} ${CORNERS}${OTHERS}`,
  `${BEGINS}${KNIT} ${CORNERS},? (?:and )?${FABRIC} (?:the )?(?:rest|others)(?![a-z])`,
  `${BEGINS}(?:work (?:even )?in )?${FABRIC}(?: as set)?,? (?:but |with )?(?:(?:knitting|knit) ${CORNERS}|${CORNERS} ${KNIT})(?: as before)?(?=[ ]?(?:[.;]|$))`,
].map((source) => new RegExp(source, 'gim'));

export function cornerStitches(text: string): Replacement[] {
  const side = TOLD.exec(text)?.[1];
  if (!side) return [];
  return WAYS.flatMap((re) =>
    [...text.matchAll(re)].map(({ index, 0: said, 1: fabric }) => ({
      from: index,
      to: index + said.length,
      text: `on each ${side.toLowerCase()} k1, ${fabric}`,
    })),
  );
}
