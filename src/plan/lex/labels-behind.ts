/**
 * Lines that name their round behind it: "*ssk, k16, k2tog* five times, 90 sts (round 2)", "Knit - round 3". In: the
 * designer's text. Out: the labels put in front, as replacements; none where too few lines do so.
 */
import { regex } from '../lexicon/expression.ts';
import { UNIT } from '../lexicon/words.ts';
import type { Replacement } from './numbers.ts';

const BEHIND = regex.gim`^([ \t]{0,8})(?!${UNIT}\b|\d)(\S[^\n]{0,200}?)([ \t]{0,4}(?:\(|[-–—:] ?|(?<!\b(?:as|like|same) )(?:on|in) )(${UNIT} \d{1,3}(?: ?(?:[-–,&]|to|and) ?\d{1,3}){0,4}|(?:last|next|final) ${UNIT})\)?\.?[ \t]{0,8})$`;
/** Lines that must do so. Chosen: one or two may be remarks. */
const LEAST = 3;
const STITCHES = /[*([]|\b(?:knit|purl|[kp] ?\d)/i;

export function labelsBehind(text: string): { inserted: Replacement[]; removed: Replacement[] } {
  const found = [...text.matchAll(BEHIND)];
  const numbers = found.map((m) => (m[4].match(/\d+/g) ?? []).map(Number));
  // Two of stitches that count on from round 1 leave no doubt.
  const countOn = found.every(
    (m, i) => STITCHES.test(m[2]) && numbers[i][0] === (numbers[i - 1]?.at(-1) ?? 0) + 1,
  );
  if (found.length < (countOn ? 2 : LEAST)) return { inserted: [], removed: [] };
  return {
    inserted: found.map(({ index, 1: lead, 4: label }) => {
      const at = index + lead.length;
      return { from: at, to: at, text: `${label}: ` };
    }),
    removed: found.map(({ index, 1: lead, 2: said, 3: behind }) => {
      const from = index + lead.length + said.length;
      return { from, to: from + behind.length, text: '' };
    }),
  };
}
