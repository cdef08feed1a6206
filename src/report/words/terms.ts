/**
 * American or British trade words for the same thing (common practice; the Craft Yarn Council's list of
 * UK terms names bind off/cast off, gauge/tension, stockinette/stocking stitch and seed/moss).
 * In: American words. Out: the words of the terms asked for.
 */

export type Terms = 'american' | 'british';

/** Longer phrases first. American "moss stitch" is another fabric: it is never written here. */
const BRITISH: readonly (readonly [RegExp, string])[] = [
  [/reverse stockinette(?: stitch)?/g, 'reverse stocking stitch'],
  [/Reverse stockinette(?: stitch)?/g, 'Reverse stocking stitch'],
  [/stockinette(?: stitch)?/g, 'stocking stitch'],
  [/Stockinette(?: stitch)?/g, 'Stocking stitch'],
  [/\bseed(?= stitch)/g, 'moss'],
  [/\bSeed(?= stitch)/g, 'Moss'],
  [/\bBind([ -])off/g, 'Cast$1off'],
  [/\bbind([ -])off/g, 'cast$1off'],
  [/\bBinding([ -])off/g, 'Casting$1off'],
  [/\bbinding([ -])off/g, 'casting$1off'],
  [/\b[Bb]ound([ -])off/g, 'cast$1off'],
  [/\bGauge\b/g, 'Tension'],
  [/\bgauge\b/g, 'tension'],
  [/\bcolor/g, 'colour'],
  [/\bColor/g, 'Colour'],
  [/\bcenter/g, 'centre'],
  [/\bgray\b/g, 'grey'],
  [/\byarn over\b/g, 'yarn over (yarn forward or round the needle)'],
];

export function inTerms(text: string, terms: Terms): string {
  if (terms === 'american') return text;
  return BRITISH.reduce((words, [found, word]) => words.replace(found, word), text);
}
