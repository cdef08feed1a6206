/**
 * American or British trade words for the same thing (common practice; the Craft Yarn Council's list of
 * UK terms names bind off/cast off, gauge/tension, stockinette/stocking stitch and seed/moss).
 * In: American words in British spelling, as the tool keeps them. Out: the words of the terms asked for.
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
  [/\byarn over\b/g, 'yarn over (yarn forward or round the needle)'],
];

const AMERICAN: readonly (readonly [RegExp, string])[] = [
  [/\b([Cc])olour/g, '$1olor'],
  [/\b([Cc])entred\b/g, '$1entered'],
  [/\b([Cc])entre/g, '$1enter'],
  [/\b([Gg])rey\b/g, '$1ray'],
];

export function inTerms(text: string, terms: Terms): string {
  const changes = terms === 'american' ? AMERICAN : BRITISH;
  return changes.reduce((words, [found, word]) => words.replace(found, word), text);
}
