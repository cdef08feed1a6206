/**
 * Headings among sentences, which ask for nothing: parts and pages by their numbers, patterns with the rounds or stitches
 * that they take. In: the tokens of a sentence. Out: whether it is such.
 */
import type { Token } from '../lex/tokens.ts';
import { INSTRUCTING_VERBS } from '../lexicon/words.ts';
import { isStitchWord, statesRounds } from './word-law.ts';

/** "Cable pattern, 8 rows:", "4-row lace panel:", "Rib over 6 rounds:": leads to rounds that are told. */
const HEADING =
  /^(?:(?:now|then|next|the|a) )*(?:\d+ - (?:row|round) )?(?:[a-z]+ ){1,4}(?:[,(-] |over |of |which has |has |with |multiple of )*(?:\d+ (?:rows|rounds|rnds)(?: (?:in all|in total|repeat))? )?[)]? ?:$|^(?:[a-z]+ ){1,4}\( (?:over |multiple of )?\d+ (?:rows|rounds|rnds) \)$/;
const PATTERN = /^(?:pattern|patt|panel|panels|repeat|repeats|chart|motif|motifs)$/;
const OF_PATTERN =
  /^(?:now|for|the|a|an|each|every|which|that|this|it|there|is|are|has|goes|takes|worked|repeated|repeats|repeat|repeating|pattern|patt|panel|panels|chart|motifs?|cables?|cabled|lace|rib|ribbed|ribbing|seed|moss|texture|textured|over|on|of|multiple|st|sts|stitch|stitches|rounds?|rnds?|rows?|wide|high|deep|times?|around|round|in|to|by|and|so|with|all|altogether|total|needle|sides?)$/;

/** "Pattern, over 16 sts, so 8 times round:": how wide and high the pattern is that is told below. */
export function sizesPattern(list: readonly Token[]): boolean {
  const text = list.map((t) => t.text).join(' ');
  return (
    /:$|\(|\bmultiple of\b|\brepeat (?:of|over)\b|\bwide\b/.test(text) &&
    !/^(?:repeat|rep) (?!of|over)/.test(text) &&
    list.some((t) => PATTERN.test(t.text)) &&
    list.every((t) => t.kind === 'number' || t.kind === 'mark' || OF_PATTERN.test(t.text))
  );
}

/** "SLIDE 4 - CARRY ON" */
export function numbersSection(list: readonly Token[]): boolean {
  return (
    /^(?:slide|card|page|part|day|chapter|lesson|stage|week|clue|section)$/.test(list[0].text) &&
    list.length <= 6 &&
    list[1]?.kind === 'number' &&
    /^[-:.]$/.test(list[2]?.text ?? '') &&
    list
      .slice(3)
      .every(
        (t) =>
          t.kind === 'word' &&
          !isStitchWord(t) &&
          !/^(?:knit|purl|k|p|work|repeat|rep)$/.test(t.text),
      )
  );
}

/** "CABLE PATTERN (8 rows)": a heading */
export function headsRounds(list: readonly Token[]): boolean {
  const open = list.findIndex((t) => t.text === '(');
  const text = list.map((t) => t.text).join(' ');
  const end = HEADING.test(text) ? list.length : open;
  const told = end > open || (open > 0 && open < 8 && statesRounds(list.slice(open)));
  return (
    told && list.slice(0, end).every((t) => !isStitchWord(t) && !INSTRUCTING_VERBS.has(t.text))
  );
}
