/**
 * What is said between the cast-on and the first round, in rules whose every word is accounted for: stitches shared
 * over needles and sides, markers, joining, needles, yarn and care. In: a cursor over the words (numbers in digits).
 * Out: the opening filled; words that no rule follows are left over (`rules.ts`).
 */
import type { Join, SetUp } from '../ast.ts';
import type { Numbers, Rule } from '../rules.ts';
import type { TokenCursor } from '../token-cursor.ts';
import { readJoin } from './join.ts';

export interface Opening {
  /** Stitches cast on, one number for each time the words cast on. */
  cast: number[];
  /** So many parts of so many stitches; parts null where they are not said. */
  readonly shares: { readonly parts: number | null; readonly each: number }[];
  /** Counts of all the stitches. */
  readonly totals: number[];
  /** Needles or sides that share the stitches equally. */
  parts: number | null;
  /** Stitches of one needle after the other. */
  readonly listed: number[];
  /** Stitches besides the equal shares: for a seam. */
  extra: number;
  markers: SetUp['markers'];
  roundMarker: boolean;
  /** Markers behind so many stitches of a list ("20 sts, pm, 20 sts"). */
  readonly marked: number[];
  /** How often the words before are cast on again in all. */
  times: number | null;
  joins: boolean;
  join: Join | null;
  joinExtra: 'of-them' | 'besides' | null;
}

export function emptyOpening(): Opening {
  return {
    cast: [],
    shares: [],
    totals: [],
    parts: null,
    listed: [],
    extra: 0,
    markers: null,
    roundMarker: false,
    marked: [],
    times: null,
    joins: false,
    join: null,
    joinExtra: null,
  };
}

type OpeningRule = Rule<Opening>;

const EACH = 'each|every';
const OF_THE = 'of? the|your|these?';

const share = (parts: number | null, each: number | null, o: Opening): boolean => {
  if (each === null) return false;
  o.shares.push({ parts, each });
  return true;
};

const SHARES: readonly OpeningRule[] = [
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
      `# @sts? lie|lies|sit|are|go|goes? @on ${EACH} ${OF_THE} # equal? @shared`,
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
      '# @sts? on|onto|to|for|along|at|in each|every|a|the 1|single? of? the|your|these? @shared',
      '# @sts? per|a|/|to|for @shared',
      '# @sts? lie|lies|sit|are|go? on|in|to|onto each|every #? @shared?',
      `# @sts? on|onto|to|per|for|along|at|in|a|/ ${EACH}`,
      `# @sts? ${EACH} @shared?`,
      '# @sts? a|per @shared',
    ],
    means: (o, [each]) => share(null, each, o),
  },
  // "with 36 on the front needle and 36 on the back one"
  {
    says: ['half of? the|them? @sts? ( # )', 'half of? the|them? @sts?'],
    means: (o, [each]) => {
      o.parts ??= 2;
      return each == null ? undefined : share(2, each, o);
    },
  },
  {
    says: [
      'so? that? each|every @shared holds|has|gets|carries|holding|takes # @sts?',
      'that|which|to make|makes|form|forms up? the|all? # sides|corners|edges',
    ],
    means: (o, [n], c) => {
      if (n === null) return false;
      if (/^(?:sides|corners|edges)$/.test(c.word(-1))) o.parts ??= n;
      else o.shares.push({ parts: null, each: n });
    },
  },
  {
    says: ['( # , # , # , # )', '( # , # , # )', '# , # , # and #'],
    means: (o, n) => {
      o.listed.push(...n.map((k) => k ?? 0));
    },
  },
  {
    says: ['# @sts? on the? % needle|side|pin?'],
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
      '@on|among the|your|these? # double pointed? @shared',
      '@on|among the|your|these? # equal? ~? @shared',
      'in|into # equal? parts|sections|groups|sides of # @sts?',
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
const EXTRAS: readonly OpeningRule[] = [
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
      `and|plus|+ # ${EXTRA}* @sts? ${EXTRA}* for|at the|a|each? seam|sewing|selvedge|selvage|selvedges|edge|edges`,
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

const MARKERS_OF =
  'a|an|another|the|your|1|one|#? further|new|removable|stitch|coloured|colored|corner|locking|side? stitch? @marker';
const EVERY_PLACE: readonly OpeningRule[] = [
  {
    says: [
      `pm|@place|with|and? ${MARKERS_OF} @marker? after|at|on|in|behind|beyond? each|every of? the? #|% @sts?`,
      `${MARKERS_OF} @marker? after|at|behind? each|every of? the? #|% @sts`,
      'pm|mark|marking after? each|every #|% @sts?',
      '#? after|at|behind? each|every #|% @sts',
    ],
    means: (o, n) => {
      const every = n[n.length - 1];
      if (every === null) return false;
      o.markers = { every };
    },
  },
  {
    says: ['between each|every|the group|set|section|part of # @sts?'],
    means: (o, [every]) => {
      if (every !== null) o.markers = { every };
    },
  },
  {
    says: [
      'in|into? # equal? parts|sections|groups of # @sts ,? with|and a|one|1? @marker in? between|at|each*',
    ],
    means: (o, [, every]) => {
      if (every != null) o.markers = { every };
    },
  },
  {
    says: ['# @sts between each|every|them|the|markers of? them|the? markers?', '# @sts apart'],
    means: (o, [every]) => {
      if (every !== null) o.markers = { every };
    },
  },
];

const listOf = (o: Opening, n: Numbers, skip: number): boolean => {
  const at = n.slice(skip).filter((k): k is number => k !== null);
  if (at.length === 0 || at.some((k, i) => i > 0 && k <= at[i - 1])) return false;
  o.markers = { at };
  return true;
};

const PLACES: readonly OpeningRule[] = [
  {
    says: [
      `pm|@place ${MARKERS_OF}? @marker? after|behind the? @sts? #|% @sts? , and? #|% @sts? ,|and|&* and? #|% @sts? ,|and|&* #|% @sts?`,
      `pm|@place ${MARKERS_OF}? @marker? after|behind the? @sts? #|% @sts? ,|and|&* and? #|% @sts? ,|and|&* and? #|% @sts?`,
      `pm|@place ${MARKERS_OF}? @marker? after|behind the? @sts? #|% @sts? ,|and|& and? #|% @sts?`,
      `pm|@place ${MARKERS_OF}? @marker? after|behind the? @sts? #|% @sts?`,
    ],
    means: (o, n) => listOf(o, n, 1),
  },
  {
    says: [
      'corners|markers|marker after|behind @sts? #|% , #|% ,|and|&* #|% ,|and|&* #|%',
      'corners|markers|marker after|behind @sts? #|% , #|% ,|and|&* #|%',
    ],
    means: (o, n) => listOf(o, n, 0),
  },
  {
    says: [
      `pm|@place ${MARKERS_OF}? @marker? at|in|for|on|after|between|to|mark|marking* each|every|all|the|both|them* #? corner|corners|side|sides|section|sections|segment|segments|wedge|wedges|needle|needles|panels`,
      `${MARKERS_OF} at|in|for|on|after|between each|every|all|the|both* #? corner|corners|side|sides|section|sections|segments|wedges|needle|needles`,
      'mark|marking each|every|all|the|both* #? corners|corner',
      'place|placing # markers',
      'with a|the? markers|marker in between',
    ],
    means: (o) => {
      o.markers ??= 'corners';
    },
  },
];

const ANOTHER =
  'of|in a? another|different|contrasting|contrast|second|other colour|color|kind|shade';
const ROUND_MARKERS: readonly OpeningRule[] = [
  {
    says: [
      `pm|@place ${MARKERS_OF} ${ANOTHER} for|at|to|mark|show|as|marking|indicate* the|a? @beginning of? the|a? @ring?`,
      `pm|@place ${MARKERS_OF}? @marker? for|at|to|mark|show|as|marking|indicate* the|a? @beginning of? the|a? @ring?`,
      `pm|@place? bor|eor|@beginning|centre|center? @marker at|for|to|mark|the|@beginning|of|@ring|centre|center|back*`,
      'mark|marking the? @beginning of? the? @ring',
      `#? at the @beginning of? the? @ring?`,
      'the first at|for the @beginning of? the? @ring?',
      `pm|@place ${MARKERS_OF}`,
      'bor|eor @marker',
      'marker at|for|to mark the? @beginning',
      'pm',
    ],
    means: (o) => {
      o.roundMarker = true;
    },
  },
  {
    says: [
      'so? that there are # @marker @marker? in? all?',
      'that is|makes # @marker @marker?',
      '# @marker @marker? in? all?',
    ],
  },
];

/** The rest of the clause, up to a mark or "and": words of care, which ask for no stitch. */
function restOfClause(c: TokenCursor): void {
  for (let n = 0; n < 24 && !c.done; n++) {
    const t = c.peek();
    if (!t || t.kind === 'number' || (t.kind === 'mark' && t.text !== '-' && t.text !== "'"))
      return;
    if (/^(?:and|then|join|place|placing|divide|pm|purl|knit|repeat)$/.test(t.text)) return;
    c.i++;
  }
}

const CARE: readonly OpeningRule[] = [
  {
    says: [
      'being|be|very|quite* careful|careful',
      'taking|take great|special? care',
      'make|making|be|being sure',
      'check|checking|ensure|ensuring|see|mind|minding|watch|watching|avoid|avoiding|beware',
      'do|does not twist|turn|let|join',
      "don't join",
      'not joined|joining',
      "don't|never twist|let",
      'without|no|not|never any|the|a|to|being|getting|be|get* twist|twisting|twists|twisted',
      'not|untwisted|twisted|straight',
      'so that|nothing|none|no',
      'once|when|after you|it|they|everything|having|the',
      'leave|leaving a|an ~* tail|end',
    ],
    means: (_, _n, c) => {
      restOfClause(c);
    },
  },
];

const RINGED =
  'in|into|to|for|as|on a|an|the|working|work|knit|knitting|worked|closed|in|into|and* @ring';
/** The stitches are closed to a ring. */
export const RING: readonly string[] = [
  `@join the|your|this|it|them|work|knitting|ends|end|both|cast|on|edge|stitches|sts|needles|stitch|strip|all|up|together|carefully|now|and* ${RINGED}`,
];
const JOINS: readonly OpeningRule[] = [
  {
    says: [
      ...RING,
      `the? work|ring|ring|round is then|now? @join ${RINGED}?`,
      'the? ring|round|circle is then|now? closed|joined',
      'close|closing the? ring|round|circle|rnd',
      'join|joins|joining|joined the|your|this|it|them|work|knitting|ends|together|carefully|now|up|cast|on|edge|sts|stitches*',
      'begin|start|start|starting|beginning|to|and|knit|knitting|work|working* in the|a? rounds|round|rnds|rnd',
    ],
    means: (o) => {
      o.joins = true;
    },
  },
  {
    says: [
      'crossing|cross|crossed|swap|swapping|swapped|exchange|exchanging|switch|switching|trade',
      'slip|lift|pass the? first|last cast? on? st|stitch',
    ],
    means: (_, _n, c) => {
      while (!c.done && !c.mark('.')) c.i++;
    },
  },
  {
    says: [
      'twisting|twisted|twist',
      '# half turn|turns|twist|twists',
      'half turn|turns|twist|twists',
      'a|#? full turn|turns|twist|twists',
      'mobius|moebius|möbius',
      '@join|joining? with|by|using|a|an|the|# extra @sts',
      'by knitting|working|slipping|lifting|passing',
    ],
    means: (_, _n, c) => {
      restOfClause(c);
    },
  },
];

const DISTRIBUTES: readonly OpeningRule[] = [
  {
    says: [
      '@distribute all|them|these|the|your|@sts|evenly|equally|even|equal|work|so|as|follows|out|up|back|two|like|this|same|number|then|now|cast|on*',
      'evenly|equally|even|equal',
      'needles :?',
      'as follows :?',
      'same|equal number of? @sts?',
      'in|to front|back|middle|behind of? it|them|the|cable|work*',
      'to|on|onto the|a front|back|other|first|second|left|right needle? tip?',
    ],
  },
];

const TOOLS: readonly OpeningRule[] = [
  {
    says: [
      '# -? @length|mm',
      'no|nos|size|us|uk|number|sizes # ( # mm )',
      'no|nos|size|us|uk|number|sizes # -? @length|mm?',
      '@tool',
      '# @tool',
    ],
  },
  {
    says: [
      'use|using|with|by|in|via|such as? the|a|an|any|your|whichever|whatever* ~* method|technique|tail',
      'use|using|with|by|in|via|such as? the|a|an|any|your|whichever|whatever* ~* cast on',
      'over # needles',
      'mark|marking the? centre|center|middle|corner|first (? %? )? @sts? with|by? a|an|the|safety|stitch|locking|coloured* pin|marker|thread',
      'move|moving|slip|carry|carrying the|your|this? pin|pins|marker|markers|thread|threads up|along|with|it|as|you|go|the|work|every|row|few|rows*',
      '(? a? multiple of # @sts? )?',
      'place|placing|add|with # more|further|other|extra markers',
      'slip knot',
      'a slip knot',
      'knit|work|knitting|working with the|a|your % needle?',
      'knit|work|knitting|working with the|a|your spare|other|free|next needle',
      'pull|pulling|pulled|bring|draw a|the|out|loop|of|cable|cord|through|up|its|then* between the? % and|& % @sts?',
      'pull|pulling|bring a|the|out|loop|of|cable|cord|through|up|its* between the? @sts',
    ],
    means: (_, _n, c) => !c.isNumber() && !(c.word() === 'of' && c.isNumber(1)),
  },
  {
    says: [
      'use|using|with|on|onto|in a|an|the|your|some|of|set* @yarn @yarn* #?',
      'use|using|with|on|onto|in a|an|the|your|some|of|set* # -? @length|mm @tool*',
      'use|using|with|on|onto|in a|an|the|your|some|of|set* # -? @length|mm # -? @length|mm @tool*',
      'use|using|with|on|onto|in a|an|the|your|some|of|set* #? @tool @tool* #? mm?',
      '@yarn',
    ],
  },
  {
    says: [
      'you|we|i like|prefer|please|know|need|want',
      'you should|will? now? have',
      'in|into which|whichever|whatever way',
    ],
  },
];

const TOTALS: readonly OpeningRule[] = [
  {
    says: [
      '= # @sts?',
      'a? total|totalling|totaling of? # @sts?',
      '# @sts? in all|total',
      '# @sts? altogether|total',
      'making|giving|makes|gives|leaving|equals # @sts?',
      '(|[ # @sts? )|]',
      'all # @sts',
    ],
    means: (o, [n], c) => {
      if (
        n === null ||
        /^(?:per|each|every|a|on|for|cms?|mm|in|ins|inch|inches)$/.test(c.word()) ||
        c.mark('/x')
      )
        return false;
      o.totals.push(n);
    },
  },
];

/** Rows to and fro, which is what is meant where nothing is joined. */
const FLAT: readonly OpeningRule[] = [
  {
    says: [
      'and|to|you|will|now* work|worked|works|working|knit|knitted|knitting? it|this|piece|square* flat in|on? rows?',
      'and|to|you|will|now* work|worked|works|working|knit|knitted|knitting? it|this|piece|square* to and fro in|on? rows?',
      'and|to|you|will|now* work|worked|works|working|knit|knitted|knitting? it|this|piece|square* back and forth in|on? rows?',
    ],
  },
];

const IDLE: readonly OpeningRule[] = [
  {
    says: [
      'that|this|which|it|there|so|they|these is|are|makes|make|gives|will|should|be|equals*',
      "that's|it's|there's|you'll|you've|they're",
      '@filler',
      'loosely|firmly|very|then|&|hence|thereby',
    ],
  },
  {
    says: [
      ',',
      '-',
      ':',
      '(',
      ')',
      '[',
      ']',
      '.',
      ';',
      '!',
      '=',
      '*',
      '"',
      "'",
      '/',
      '+',
      '?',
      '>',
    ],
  },
];

/** All of it, the narrower rules first. */
export const OPENING_RULES: readonly OpeningRule[] = [
  ...FLAT,
  ...EXTRAS,
  ...EVERY_PLACE,
  ...PLACES,
  ...ROUND_MARKERS,
  ...SHARES,
  ...TOTALS,
  ...JOINS,
  ...CARE,
  ...TOOLS,
  ...DISTRIBUTES,
  ...IDLE,
];

/** The shares, those of needles told apart with their number of needles. */
export function sharesOf(o: Opening): Opening['shares'] {
  return o.shares.map((s) => (s.parts === null && o.parts !== null ? { ...s, parts: o.parts } : s));
}

/** "Do not join": the piece is worked flat. */
export const NOT_JOINED = /(?:do(?:es)?\s+not|don't|not|without|never)\s+join(?:ed|ing)?/g;

/** How the round is joined, where the words say so. */
export function joinOfWords(text: string): Join | null {
  const said = text.replace(NOT_JOINED, ' ');
  return /\bjoin|twist|m[oö]bius|moebius/.test(said) ? readJoin(said) : null;
}
