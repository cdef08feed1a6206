/**
 * Words that change what is knitted wherever they stand: "except on needle 2", "leaving 4 sts unworked", "purling every
 * third stitch". No remark holds them, so that none of them is lost with one. In: words in lower case, numbers in digits.
 */
import { raw, regex } from '../lexicon/expression.ts';

const ANY = raw`(?:the|a|an|all|of|its|their|your|each|every|other|alternate|first|last|next|only|both|these|those|\d+(?:st|nd|rd|th)?|second|third|fourth|fifth)`;
const STITCHES = '(?:sts?|stitch(?:es)?|loops?)';
const PLACE = `(?:${STITCHES}|rounds?|rnds?|rows?|needles?|dpns?|sides?|sections?|quarters?|repeats?|corners?|markers?|edges?|ends?|half|halves|panels?|first|last|middle|cent(?:re|er)|second|third|fourth|decreases?|increases?|yarn overs?|\\d+(?:st|nd|rd|th)?)`;

/** Some of it is left out, or it holds only for some of it. */
const LEAVES_OUT = regex.plain`\b(?:except(?:ing|ed)?|excluding|exclude|omit(?:s|ting|ted)?|skip(?:s|ping|ped)?|ignor(?:e|ing)|unless|apart from|instead of|but not|not|only|without|leav(?:e|es|ing)|miss(?:ing)?|bar|save)\b(?: (?:for|out|off|on|in|at|to|over|across|along|from|with|by|of|working|knitting|purling|${ANY}))* ${PLACE}(?![a-z0-9])`;
/** Stitches worked otherwise. */
const WORKS = regex.plain`\b(?:purl(?:s|ing)?|knit(?:s|ting)?|slip(?:s|ping)?|work(?:s|ing)?|wrap(?:s|ping)?|drop(?:s|ping)?|twist(?:s|ing)?|cross(?:es|ing)?|decreas(?:e|es|ing)|increas(?:e|es|ing)|k|p|sl)\b(?: ${ANY})+ (?:edge |corner |centre |middle )?(?:${STITCHES}|\d+(?:st|nd|rd|th)?|tog|together)(?![a-z0-9])`;
const UNWORKED =
  /\b(?:unworked|unknitted|wyif|wyib|yarn in (?:front|back)|yarn (?:held )?(?:at|to) the (?:front|back)|backwards|through the (?:back|front) (?:loops?|legs?)|tbl)\b/;
/** What is no part of the knitting though it is left out. */
const NO_PART =
  /\b(?:not|without) (?:count(?:ing|ed)?|includ(?:ing|ed)?|twist(?:ing|ed)?|stretch(?:ing)?|pull(?:ing)?|tighten(?:ing)?|cut(?:ting)?|break(?:ing)?|turn(?:ing)?|any|los(?:e|ing)|drop(?:ping)?|split(?:ting)?|shown?|too)\b|\b(?:do|does|should|must|need|will|is|are|have) not\b|\bleav(?:e|ing) (?:a|an|the|your|about|at|long|enough|some)?(?: (?:long|short|good|loose|\d+))*[ -]*(?:cm|mm|in|inch(?:es)?|tails?|ends?|yarn|loops? of|gaps?)\b/;

function plain(words: string): string {
  return words.replace(/[^a-z0-9' -]+/g, ' ').replace(/\s+/g, ' ');
}

/** The words take some of the work out of what is told. */
export function leavesOut(words: string): boolean {
  const text = plain(words);
  return UNWORKED.test(text) || (LEAVES_OUT.test(text) && !NO_PART.test(text));
}

/** The words take some of the work out of what is told, or have some of it worked otherwise. */
export function limitsWork(words: string): boolean {
  return WORKS.test(plain(words)) || leavesOut(words);
}

/** Binding off "without the last stitch", "except 4 sts": some of the stitches are not ended. */
export function keepsSome(words: string): boolean {
  return /\b(?:except|excepting|excluding|omit|omitting|skip|skipping|but not|without|all but)\b(?: (?:for|the|a|an|on|at|of))* (?:(?:first|last|next|final|middle|end|edge) (?:\d+ )?(?:sts?|stitch(?:es)?|loops?|one)|\d+ (?:sts?|stitch(?:es)?|loops?))\b|\bunworked\b/.test(
    plain(words),
  );
}
