/**
 * Rounds that a translator calls turns, tours or laps: "Turn 4: k1, …", "purl one tour", "in each turn". In: the designer's
 * text. Out: the words that are read as rounds; none where too few lines or orders are told so.
 */
import type { Replacement } from './numbers.ts';

const NAME = '(?:turns?|tours?|laps?|circuits?)';
const LABELLED = new RegExp(
  `^[ \\t•*-]{0,8}(?:\\d{1,3}(?:st|nd|rd|th) ${NAME}|${NAME} \\d{1,3})\\b[^\\n]{0,40}?:`,
  'gim',
);
const ORDERED =
  /\b(?:knit|purl|work) (?:one|two|three|four|a|an|\d{1,2})(?: plain)? (?:tours?|laps?)\b/gi;
/** Lines or orders that must do so. Chosen: one or two may be slips. */
const LEAST = 3;
const ROUND = new RegExp(
  `(?<=\\b(?:\\d{1,3}(?:st|nd|rd|th)?|one|two|three|four|five|six|eight|ten|first|second|third|each|every|odd|even|all|plain|last|next|following|this|that|other|these|the|a)[ -])(?<!\\b(?:then|and|to) )${NAME}\\b(?! (?:the )?work\\b)|\\b${NAME}(?= \\d{1,3}\\b(?! (?:sts?|stitches|times)\\b))`,
  'gim',
);

export function roundsCalledTurns(text: string): Replacement[] {
  const labels = text.match(LABELLED)?.length ?? 0;
  const orders = text.match(ORDERED)?.length ?? 0;
  if (labels < LEAST && orders < LEAST) return [];
  return [...text.matchAll(ROUND)].map(({ index, 0: said }) => ({
    from: index,
    to: index + said.length,
    text: /s$/i.test(said) ? 'rounds' : 'round',
  }));
}
