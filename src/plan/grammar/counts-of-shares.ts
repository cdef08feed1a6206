/**
 * Counts told as shares, sums or ridges: "half of them, 20", "48 minus 8 is 40", "needles 1 to 4: 10 sts each", "3 garter
 * ridges". In: a sentence in lower case. Out: frames (`told-counts.ts`) with what each tells.
 */
import { regex } from '../lexicon/expression.ts';
import { STS, UNIT } from '../lexicon/words.ts';
import type { CountFrame } from './told-counts.ts';

const ALL = '(?: (?:in all|altogether|so far|in total|by now|all told|already|up to here|now))*';
const END = '(?=\\s*(?:[.,;:!)]|$|and\\b|so\\b|but\\b|since\\b|because\\b|as\\b|are\\b))';
/** By how many parts they make. */
const FRACTIONS = [
  '',
  '',
  'half',
  'third',
  'quarter',
  'fifth',
  'sixth',
  'seventh',
  'eighth',
  'ninth',
  'tenth',
];
const FRACTION = FRACTIONS.slice(2).join('|');
const SIGNS: Readonly<Record<string, (a: number, b: number) => number>> = {
  minus: (a, b) => a - b,
  less: (a, b) => a - b,
  plus: (a, b) => a + b,
  times: (a, b) => a * b,
  'divided by': (a, b) => a / b,
};

export const OF_SHARES: readonly CountFrame[] = [
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
