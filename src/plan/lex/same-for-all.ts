/**
 * A round that says of which others it holds too, behind its stitches: "Rnd 2 k (same for all even rnds up to 14)", "Rnd 1:
 * knit, as all the odd rnds". In: the designer's text. Out: the same told in the label, as "Rnd 2 and every even rnd: k".
 */
import { regex } from '../lexicon/expression.ts';
import type { Replacement } from './numbers.ts';
import { readAs } from './replaced.ts';
import { WORK_UNIT } from './wording.ts';

const SAME =
  '(?:(?:the |and )?(?:same|likewise|ditto|also|like this|so|this)(?: (?:goes|holds|applies|is done|it is))?(?: for| on| in| as| with)?|as(?: (?:for|in|on))?|and(?: so)?|like)';
const ALL = `(?:all|every|each)(?: (?:the|of the|following|foll\\.?|other|further|remaining)){0,2}`;
const BEHIND = regex.gim`^([ \t•*-]{0,8})((${WORK_UNIT}|r) ?\d{1,3}|\d{1,3}(?:st|nd|rd|th) (${WORK_UNIT}))[ ]?[:.-]?[ \t]{1,4}([^\n(,]{1,40}?)[ \t]{0,8}(?:\(|,|-|–) ?(?:${SAME} ${ALL} (odd|even|uneven)(?:[- ]numbered)?(?: ${WORK_UNIT})?|${ALL} (odd|even|uneven)(?: ${WORK_UNIT})?:? (?:the )?(?:same|alike|like this|ditto))(?:,? (?:up )?(?:to|until|till|through)(?: and including)?(?: ${WORK_UNIT})? ?(\d{1,3}))?\)?[.]?(?=[ \t]*$)`;

export function sameForAll(text: string): Replacement[] {
  const as = ([, , label, unit, other, stitches, sort, alike, last]: RegExpExecArray): string => {
    const which = (sort ?? alike).toLowerCase().replace('uneven', 'odd');
    const one = /^row/i.test(unit ?? other ?? '') ? 'row' : 'round';
    const named = unit?.toLowerCase() === 'r' ? label.replace(/^r ?/i, 'round ') : label;
    return `${named} and every ${which} ${one}${last ? ` to ${one} ${last}` : ''}: ${stitches}`;
  };
  return readAs(text, BEHIND, as, 1);
}
