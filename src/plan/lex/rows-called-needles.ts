/**
 * Rows that a translator calls needles: "2nd needle: k1, …", "18 sts and 34 needles". In: the designer's text. Out: the
 * words that are read as rows; none where needles are what stitches lie on.
 */
import type { Replacement } from './numbers.ts';
import { readAs } from './replaced.ts';

const LABELLED =
  /^[ \t•*-]{0,8}(?:(?:\d{1,3}(?:st|nd|rd|th)|first|second|third) needle|needle \d{1,3})\b[^\n]{0,40}?:/gim;
const EXPLAINED =
  /\bneedles?\b["”']? (?:here )?(?:means?|stands for|is)\b[^.\n]{0,40}\b(?:rows?|across|time)\b/i;
const TO_AND_FRO = /\b(?:to and fro|back and forth|straight needles|in rows)\b/i;
/** Stitches lie on several of them. */
const HOLDS =
  /\b(?:double[- ]?pointed|dpns?|(?:each|every) of (?:the )?\w+ needles|\b(?:on|over|per|to) (?:each|every|[3-8]|three|four|five|six) needles?)\b/i;
const ROW =
  /(?<=\b(?:\d{1,3}(?:st|nd|rd|th)?|first|second|third|fourth|fifth|sixth|seventh|eighth|each|every|odd|even|all|last|next|following|this|that|other) )needle(s?)\b(?! (?:no|size|of)\b)|(?<=^[ \t•*-]{0,8})needle(s?)(?= \d{1,3}\b[^\n]{0,40}?:)/gim;

export function rowsCalledNeedles(text: string): Replacement[] {
  const labels = text.match(LABELLED)?.length ?? 0;
  if (labels === 0 || HOLDS.test(text)) return [];
  if (!EXPLAINED.test(text) && !(labels > 2 && TO_AND_FRO.test(text))) return [];
  return readAs(text, ROW, ([, many, more]) => (many || more ? 'rows' : 'row'));
}
