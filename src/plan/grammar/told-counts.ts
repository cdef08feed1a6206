/**
 * Counts that a sentence tells as lists, shares, sums or ridges, and which can be held against the piece; plain numbers are
 * read in `narration/`. In: the words of a sentence, in lower case. Out: what they tell, in order.
 */
import { OF_SHARES } from './counts-of-shares.ts';

export type ToldCount =
  /** All the stitches of the moment, or those of each part. */
  | { readonly kind: 'now' | 'each'; readonly count: number }
  /** "4 sides of 14 sts" */
  | { readonly kind: 'parts'; readonly parts: number; readonly count: number }
  | { readonly kind: 'list'; readonly counts: readonly number[] }
  /** So many parts of so many: "a quarter of them, 12". */
  | { readonly kind: 'share'; readonly part: number; readonly of: number; readonly count: number }
  /** "48 minus 8 is 40" */
  | { readonly kind: 'sum'; readonly count: number; readonly is: number }
  /** Rounds that were purled, or the ridges that they make. */
  | { readonly kind: 'purled' | 'ridges'; readonly count: number };

/** An expression, and what its words tell. */
export type CountFrame = readonly [RegExp, (m: readonly string[]) => ToldCount];

/** "52, 44, 36 sts" */
const IN_A_ROW: CountFrame = [
  /(?:^\W*|\b(?:counts?|totals?|rounds (?:leave|give))\b[^\d.;]{0,40}? )(\d+(?:,? (?:and )?\d+){2,})(?: (?:sts?|stitch(?:es)?|loops?))?(?=[ .]*$)/g,
  ([, list]) => ({ kind: 'list', counts: (list.match(/\d+/g) ?? []).map(Number) }),
];
const FRAMES: readonly CountFrame[] = [IN_A_ROW, ...OF_SHARES];

/** "When you come out at the other end there are …": the clause tells of the moment that has come. */
const BY_NOW =
  /(^|[.,;:(] ?|\b(?:and|so) )(?:when|once|if|by the time|as soon as) (?:you|we)(?: (?:have|are|will have))?(?: (?:now|just|all|then|only))* (?:come|comes|get|gets|got|reach|reached|finish|finished|done|do|work|worked|knit|knitted|arrive|arrived|count|counted|stop|stopped)\b[^,;:\d]*?(?:[,;:]|(?= (?:it is|there|you|that|we)\b))/;

/** The words without what only tells that they hold now. */
export function atHand(words: string): string {
  return words.replace(BY_NOW, '$1');
}

/** What is told so, and the words that tell something else. */
function told(words: string): { readonly counts: ToldCount[]; readonly rest: string } {
  const counts: ToldCount[] = [];
  let rest = atHand(words)
    .replace(/\s+/g, ' ')
    .replace(/ (?=[,.;:!])/g, '');
  if (!/\d/.test(rest) || rest.length > 400) return { counts, rest };
  for (const [frame, means] of FRAMES)
    rest = rest.replace(frame, (...m: string[]) => {
      counts.push(means(m));
      return '';
    });
  return { counts, rest };
}

export const toldCounts = (words: string): ToldCount[] => told(words).counts;

/** What is said around a count and asks for nothing. */
const IDLE = /\b(?:and|so|now|then|that|is|or|with|thus|again|here|good|count|still|ok|done)\b/g;

/** The sentence tells such counts and nothing besides. */
export function tellsSharesAlone(words: string): boolean {
  const { counts, rest } = told(words);
  return counts.length > 0 && !/[a-z0-9]/.test(rest.replace(IDLE, ''));
}
