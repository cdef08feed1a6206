/**
 * Stitches shared over needles and sides, stitches for a seam besides, and counts of them all, as rules of an opening.
 */
import type { Opening, OpeningRule } from './opening.ts';

const EACH = 'each|every|either';
const LIE = 'lie|lies|sit|sits|are|is|go|goes|rest|rests|stay|remain';
const WHICH = 'front|back|first|second|other|left|right|top|bottom|one|%';
const OF_THE = 'of? the|your|these?';

const share = (parts: number | null, each: number | null, o: Opening): boolean => {
  if (each === null) return false;
  o.shares.push({ parts, each });
  return true;
};

export const SHARES: readonly OpeningRule[] = [
  {
    says: [
      '# @sts? each? @on each|every? of? the? n|needles|needle|sides # ,|and|&|n|needle|-|to* # ,|and|&|n|needle* # ,|and|&|n|needle* #',
      '# @sts? each? @on n|needles|needle # ,|and|&|n|needle|-|to* # ,|and|&|n|needle* #',
      '# @sts? each? @on each|every? of? n|needles|needle|sides # ,|and|&|n|needle|-|to* #',
    ],
    means: (o, n) => share(n[n.length - 1], n[0], o),
  },
  {
    says: [
      `# @sts? ${LIE}? @on ${EACH} ${OF_THE} # equal? @shared`,
      `# @sts? @on ${EACH} ${OF_THE} # double pointed? @shared?`,
    ],
    means: (o, [each, parts]) => share(parts, each, o),
  },
  {
    says: [
      '# equal? @shared ,? each? of|with|x|at|having|-|: # @sts? each?',
      'on|onto|over the|your? # @shared ,? # @sts? on? each|every @shared?',
    ],
    means: (o, [parts, each]) => share(parts, each, o),
  },
  {
    says: ['# @sts? each @on the|your? # @shared', '# @sts x # @shared?', '# x # @shared'],
    means: (o, [each, parts]) => share(parts, each, o),
  },
  {
    says: ['# @shared x # @sts?', '# times # @sts?'],
    means: (o, [parts, each]) => share(parts, each, o),
  },
  {
    says: ['# x # = # @sts?', '# @sts x # = # @sts?'],
    means: (o, [a, b, all]) => {
      o.totals.push((a ?? 0) * (b ?? 0));
      if (all !== null) o.totals.push(all);
      o.shares.push({ parts: null, each: a ?? 0 });
    },
  },
  {
    says: ['# x #'],
    means: (o, [a, b]) => share(Math.min(a ?? 1, b ?? 1), Math.max(a ?? 1, b ?? 1), o),
  },
  {
    says: [
      '# corner|marked @sts with|and # @sts? after|between|beside|before each|every|them? of? them? @sts?',
    ],
    means: (o, [corners, between]) => share(corners, (between ?? 0) + 1, o),
  },
  {
    says: [
      `# @sts? ${LIE}? on|onto|to|for|along|at|in each|every|either|a|the 1|single? of? the|your|these? needle|cable? @shared`,
      '# @sts? per|a|/|to|for @shared',
      `# @sts? ${LIE}? on|in|to|onto each|every|either #? @shared?`,
      `# @sts? on|onto|to|per|for|along|at|in|a|/ ${EACH}`,
      `# @sts? ${EACH} @shared?`,
      '# @sts? a|per @shared',
    ],
    means: (o, [each]) => share(null, each, o),
  },
  {
    says: ['# half|part @on each|every|either needle? @shared'],
    means: (_, [n]) => n === 1,
  },
  // "with 36 on the front needle and 36 on the back one"
  {
    says: ['half of? the|them? @sts? ( # @sts? )', 'half of? the|them? @sts?'],
    means: (o, [each]) => {
      o.parts ??= 2;
      return each == null ? undefined : share(2, each, o);
    },
  },
  {
    says: [
      'so? that? each|every of? the? #? @shared? holds|has|have|gets|carries|holding|takes|contains # @sts?',
      'that|which|to make|makes|form|forms up? the|all? # sides|corners|edges',
    ],
    means: (o, said, c) => {
      const n = said[said.length - 1];
      if (n === null) return false;
      if (/^(?:sides|corners|edges)$/.test(c.word(-1))) o.parts ??= n;
      else o.shares.push({ parts: null, each: n });
    },
  },
  {
    says: ['( # , # , # , # )', '( # , # , # )', '( # and|+|/|& # )', '# , # , # ,? and|&? #'],
    means: (o, n) => {
      o.listed.push(...n.map((k) => k ?? 0));
    },
  },
  {
    says: [`# @sts? ${LIE}? @on? the|a|your? ${WHICH} needle|side|pin|half|tip|point|cable? tip?`],
    means: (o, [n]) => {
      o.listed.push(n ?? 0);
    },
  },
  // Needle by needle: "N1: 20 sts, N2: 20 sts"
  {
    says: [
      'n|needle|needles|side|sides # :|=|-|,? # @sts?',
      'n|needle|side # with|has|holds|takes|gets|having # @sts?',
      'first|second|third|fourth needle|side :|has|holds|,? # @sts?',
    ],
    means: (o, n) => {
      o.listed.push(n[n.length - 1] ?? 0);
    },
  },
  {
    says: ['# - # - # - # - # - #', '# - # - # - #', '# - # - #', '# / # / # / #', '# + # + # + #'],
    means: (o, n) => {
      o.listed.push(...n.map((k) => k ?? 0));
    },
  },
  {
    says: [
      'as|so|thus :? # @sts? , # @sts? , # @sts? ,|and|& # @sts?',
      'as|so|thus :? # , # ,|and|& #',
    ],
    means: (o, n) => {
      o.listed.push(...n.map((k) => k ?? 0));
    },
  },
  {
    says: ['# @sts? @on each|every? of? the? needles i ,|and* ii ,|and* iii ,|and* iv'],
    means: (o, [each]) => share(4, each, o),
  },
  {
    says: [
      '@on n|needles|needle # ,|and|&|n|needle|-|to* # ,|and|&|n|needle* # ,|and|&|n|needle* #',
      '@on n|needles|needle # ,|and|&|n|needle|-|to* # ,|and|&|n|needle* #',
    ],
    means: (o, n) => {
      o.parts ??= n[n.length - 1];
    },
  },
  {
    says: [
      'in|into # equal? parts|sections|groups|sides|halves|lots of # @sts?',
      '@on|among the|your|these? # double pointed? @shared',
      '@on|among the|your|these? # equal? ~? @shared',
    ],
    means: (o, [parts, each]) => {
      if (each !== undefined && each !== null) o.shares.push({ parts, each });
      else if (parts !== null && parts > 1) o.parts ??= parts;
    },
  },
  {
    says: ['# equal? sides|corners|sections|edges'],
    means: (o, [parts]) => {
      o.parts ??= parts;
    },
  },
  // "30 sts, 1 centre st, 30 sts"
  {
    says: ['# @sts? ,|+|and # centre|center|corner|marked|middle @sts? ,|+|and # @sts?'],
    means: (o, [a, b, d]) => {
      o.totals.push((a ?? 0) + (b ?? 0) + (d ?? 0));
    },
  },
];

const EXTRA = 'edge|selvedge|selvage|seam|border|extra|more|corner';
export const EXTRAS: readonly OpeningRule[] = [
  {
    says: [
      `and|plus|+|, # ${EXTRA}* @sts? ${EXTRA}* at|on|for each|either|every end|side|edge|extremity ${`for the|a? seam|sewing?`}`,
      `and|plus|+|, # ${EXTRA}* @sts? ${EXTRA}* at|on|for each|either|every end|side|edge|extremity`,
      `and|plus|+ # ${EXTRA} @sts? each end|side`,
    ],
    means: (o, [n]) => {
      o.extra += 2 * (n ?? 0);
    },
  },
  {
    says: [
      `and|plus|+ # edge|seam|selvedge|selvage|extra|border @sts at|for|on|in|to the|a|each|beginning|start|end|of|right|left|side|front* seam|row|rows|edge|side?`,
    ],
    means: (o, [n]) => {
      o.extra += n ?? 0;
    },
  },
  {
    says: [
      `and|plus|+ # ${EXTRA}* @sts? ${EXTRA}* for|at the|a|each? seam|sewing|selvedge|selvage|selvedges|edge|edges|corner|centre|center|middle`,
    ],
    means: (o, [n]) => {
      o.extra += n ?? 0;
    },
  },
  {
    says: [
      'and|plus|+ # extra @sts? for|to? the? join|joining?',
      'and|plus|+ # more @sts? for|to the? join|joining',
    ],
    means: (o) => {
      o.joinExtra = 'besides';
    },
  },
  {
    says: ['# extra @sts? for|to? the? join|joining?', '# extra', 'extra @sts'],
    means: (o) => {
      o.joinExtra ??= 'of-them';
    },
  },
];

export const TOTALS: readonly OpeningRule[] = [
  {
    says: [
      '= # @sts?',
      'a? total|totalling|totaling of? # @sts?',
      '# @sts? in all|total',
      '# @sts? altogether|total',
      'making|giving|makes|gives|leaving|equals # @sts?',
      '(|[ # @sts? )|]',
      'all # @sts',
      '.|:|; # @sts',
    ],
    means: (o, [n], c) => {
      // "60 sts: 30 sts, 1 centre st, 29 sts" is a list.
      if (c.mark(',')) return false;
      if (
        n === null ||
        /^(?:per|each|every|a|on|for|cms?|mm|in|ins|inch|inches|markers?|sides|needles|corners|dpns|parts|groups|times|lie|sit|rest|are)$/.test(
          c.word(),
        ) ||
        c.mark('/x')
      )
        return false;
      o.totals.push(n);
    },
  },
];
