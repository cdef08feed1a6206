/**
 * Counts that a sentence tells as lists, shares, sums or ridges, and which can be held against the piece; plain numbers are
 * read in `narration/`. In: the words of a sentence, in lower case. Out: what they tell, in order.
 */
import { ORDINALS } from '../lex/numbers.ts';
import { regex } from '../lexicon/expression.ts';
import { STS, UNIT } from '../lexicon/words.ts';

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

/** An expression, and what its words tell: "half of them, 20", "needles 1 to 4: 10 sts each". */
type CountFrame = readonly [RegExp, (m: readonly string[]) => ToldCount];

const ALL = '(?: (?:in all|altogether|so far|in total|by now|all told|already|up to here|now))*';
const END = '(?=\\s*(?:[.,;:!)]|$|and\\b|so\\b|but\\b|since\\b|because\\b|as\\b|are\\b))';
/** By how many parts they make. */
const FRACTIONS = ['', '', 'half', 'third', 'quarter', ...[...ORDINALS.keys()].slice(4)];
const FRACTION = FRACTIONS.slice(2).join('|');
const SIGNS: Readonly<Record<string, (a: number, b: number) => number>> = {
  minus: (a, b) => a - b,
  less: (a, b) => a - b,
  plus: (a, b) => a + b,
  times: (a, b) => a * b,
  'divided by': (a, b) => a / b,
};

const FRAMES: readonly CountFrame[] = [
  // "52, 44, 36 sts"
  [
    /(?:^\W*|\b(?:counts?|totals?|rounds (?:leave|give))\b[^\d.;]{0,40}? )(\d+(?:,? (?:and )?\d+){2,})(?: (?:sts?|stitch(?:es)?|loops?))?(?=[ .]*$)/g,
    ([, list]) => ({ kind: 'list', counts: (list.match(/\d+/g) ?? []).map(Number) }),
  ],
  [
    regex.g`\b(?:there are|are|lie|have|leaves?|with|has) (?:the |now |equal )*(\d+) (?:equal )?(?:sides|sections|parts|wedges|panels|quarters) (?:of|with|having) (\d+) ${STS}(?: each)?${END}`,
    ([, parts, count]) => ({ kind: 'parts', parts: Number(parts), count: Number(count) }),
  ],
  [
    regex.g`\b(?:(half)|(an?|\d+) (${FRACTION})s?) of (?:the |these |those |all |your )*(?:them|it|these|those|${STS})(?: (?:is|are|makes?|gone|left|remain|now|have|has|been|lost))*[ ,:=(-]+(?:now |only |that is )?(\d+)(?: ${STS})?(?: left)?${END}`,
    ([, half, part, name, count]) => ({
      kind: 'share',
      part: half ? 1 : Number(part) || 1,
      of: FRACTIONS.indexOf(half ?? name),
      count: Number(count),
    }),
  ],
  [
    /\b(\d+)(?: sts| stitches)? (minus|less|plus|times|divided by) (\d+)(?: sts| stitches)? (?:is|are|makes?|leaves?|gives?|equals|=) (\d+)/g,
    ([, a, sign, b, is]) => ({
      kind: 'sum',
      count: SIGNS[sign](Number(a), Number(b)),
      is: Number(is),
    }),
  ],
  [
    regex.g`^\W*(?:(?:so|and|now|we are|you are|that is) )*(?:down|up|back) to (\d+)(?: ${STS})?(?: now)?${END}`,
    ([, count]) => ({ kind: 'now', count: Number(count) }),
  ],
  [
    regex.g`^\W*(?:needles?|n|ndls?|dpns?) ?\d+ ?(?:to|-|and|through) ?(?:needles?|n)? ?\d+[: -]*(?:have |has |hold |with )?(\d+) ${STS}(?: each)?${END}`,
    ([, count]) => ({ kind: 'each', count: Number(count) }),
  ],
  [
    regex.g`\b(\d+) ${UNIT} (?:have|has|are|were) (?:now |been |already )*purled${ALL}${END}`,
    ([, count]) => ({ kind: 'purled', count: Number(count) }),
  ],
  [
    regex.g`(?:\b(?:you|we)(?: now| should)? have(?: now| made)? |^\W*)(\d+) (?:garter |purl )?ridges?(?: (?:are|is|now|visible|done|finished|made|so far|on the right side))*${END}`,
    ([, count]) => ({ kind: 'ridges', count: Number(count) }),
  ],
];

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
