/**
 * American or British trade words for the same thing (common practice; the Craft Yarn Council's list of
 * UK terms names bind off/cast off, gauge/tension, stockinette/stocking stitch and seed/moss).
 * In: American words in British spelling, as the tool keeps them. Out: the words of the terms asked for.
 */

import type { Plan } from '../../plan/plan.ts';

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
];

/** Words of one trade and not the other's, each counted once; what our own plans spell in British for all stands apart. */
const SAID: Readonly<Record<Terms, readonly RegExp[]>> = {
  american: [
    /\bgauge\b/i,
    /\bstockinette\b/i,
    /\b(?:bind|binding|bound)[ -]off\b/i,
    /\bseed\b/i,
    /\b(?:color|center)/i,
  ],
  british: [
    /\btension\b/i,
    /\bstocking st(?:itch)?\b/i,
    /\bcast(?:ing)?[ -]off\b/i,
    /\bmoss\b/i,
    /\bskpo\b|\bsl ?1, ?k ?1, ?psso\b|\btog tbl\b/i,
    /\b(?:yfwd|yrn|yon)\b/i,
  ],
};
const SPELT = /\b(?:colour|centre)/i;

/** The terms of several plans together: those that most are written in, American where as many are in either. */
export function termsOfAll(plans: readonly Pick<Plan, 'text'>[]): Terms {
  const british = plans.filter((plan) => termsOf(plan) === 'british').length;
  return 2 * british > plans.length ? 'british' : 'american';
}

/** The terms that a plan is written in: American where its words are of neither or of both alike. */
export function termsOf({ text }: Pick<Plan, 'text'>): Terms {
  const said = (terms: Terms) => SAID[terms].filter((word) => word.test(text)).length;
  const [american, british] = [said('american'), said('british')];
  if (american + british > 0) return british > american ? 'british' : 'american';
  return SPELT.test(text) ? 'british' : 'american';
}

/** `own`: the designer's words, which stay as she wrote them. */
export function inTerms(text: string, terms: Terms, own: readonly string[] = []): string {
  const changes = terms === 'american' ? AMERICAN : BRITISH;
  const said = (part: string) =>
    changes.reduce((words, [found, word]) => words.replace(found, word), part);
  const kept = own.filter((words) => said(words) !== words);
  if (kept.length === 0) return said(text);
  const longestFirst = kept.toSorted((a, b) => b.length - a.length).map(literally);
  const parts = text.split(
    new RegExp(`(?<![\\p{L}\\d])(${longestFirst.join('|')})(?![\\p{L}\\d])`, 'u'),
  );
  return parts.map((part, i) => (i % 2 === 1 ? part : said(part))).join('');
}

/** What the tool itself says of a plan: a British plan is spoken of in British terms, others in the tool's own words. */
export function inPlanTerms(
  text: string,
  plan: Pick<Plan, 'text' | 'title' | 'colours' | 'rounds'>,
): string {
  return termsOf(plan) === 'british' ? inTerms(text, 'british', ownWords(plan)) : text;
}

function literally(words: string): string {
  return words.replace(/[.*+?^${}()|[\]\\/-]/g, '\\$&');
}

/** What a designer named: her title, her colours and what she says of them; `colour A` and MC are the trade's. */
export function ownWords({ title, colours, rounds }: Pick<Plan, 'title' | 'colours' | 'rounds'>) {
  if (!colours) return title === '' ? [] : [title];
  const names = [colours.castOn, colours.ending, ...rounds.map((round) => round.colour)];
  const named = new Set([...names, ...Object.keys(colours.words)]);
  return [title, ...named, ...Object.values(colours.words)].filter(
    (words): words is string =>
      typeof words === 'string' && words !== '' && !/^(?:MC|CC\d?|(?:CC |colour )\w)$/.test(words),
  );
}
