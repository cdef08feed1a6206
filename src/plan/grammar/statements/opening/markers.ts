/**
 * Where markers are placed before the first round, as rules of an opening: every so many stitches, at places told, at
 * corners, at the beginning of the round.
 */
import { CLASSES } from '../../../lexicon/classes.ts';
import { regex } from '../../../lexicon/expression.ts';
import { MARKER_WORDS } from '../../../lexicon/words.ts';
import type { MarkersTold } from '../../ast.ts';
import { markersHung } from '../../markers-hung.ts';
import type { Numbers } from '../../rules.ts';
import type { TokenCursor } from '../../token-cursor.ts';
import { markersListed } from './markers-listed.ts';
import { type Opening, type OpeningRule, restOfClause } from './opening.ts';

const KIND = [...CLASSES.markerkind].join('|');
const MARKERS_OF = `a|an|another|the|your|those|its|1|one|#* @markerkind* @marker`;
const PIN = 'pin|pins|ring|rings|tag|tags|clip|clips|marker|markers|thread|threads';
const STANDS =
  'is|are|goes|go|belongs|belong|stands|sits|follows|put|placed|hung|in|on|onto|to|the|your|right|left|hand|needle|being|comes';
const SET = 'group|set|section|part|lot|batch';
export const EVERY_PLACE: readonly OpeningRule[] = [
  // "the middle st of each needle is marked"
  {
    says: [
      'the? centre|center|middle|central @sts of|on|in each|every @side is|being|are|gets|has|wears a? marked|pinned|marker|pin|thread',
      'the? % @sts of|on|in each|every @side is|being|are|gets marked|pinned',
    ],
  },
  {
    says: [
      `pm|@place a|the|your|#* @marker as follows|thus|this|below :?`,
      `pm|@place a|the|your|#* @marker on|in|during|while|as|you|we|knitting|working|purling|knit|work|the* first|1|% @unit as follows|thus|this|below :?`,
      `@marker? as follows :`,
    ],
  },
  {
    says: ['k1|k2|p1|p2|#'],
    means: (o, _n, c) => {
      c.i--;
      const list = markersListed(c);
      if (!list) return false;
      o.markers = { at: list.at };
      o.totals.push(list.total);
    },
  },
  // "mark the 1st, 17th, 33rd and 49th st", as `lex/marker-words.ts` tells it
  {
    says: ['place|placing markers in|after sts #'],
    means: (o, _n, c) => {
      c.i -= 5;
      const hung = markersHung(c);
      if (!hung?.at) return false;
      const { action, at, every } = hung;
      if (action === 'mark') o.hungIn.push(hung);
      else o.markers = every ? { at, every } : { at };
      return true;
    },
  },
  // "no other markers needed but I used 11": what the writer did for herself
  {
    says: [
      'but|and|though|although|,|(|;* i used|use|had|like|put|added|hung in? # more|of|extra|other|others|them|these|markers|marker*',
      'the? other|others|remaining # @marker? are|is optional|extra',
    ],
    means: (_, _n, c) => c.done || c.mark('.,;)') || /^(?:so|to|but|just|for|as)$/.test(c.word()),
  },
  {
    says: [
      `pm|@place|with|and? ${MARKERS_OF} @marker? ${STANDS}* after|at|on|in|behind|beyond? each|every ${SET}? of? the? #|% @sts?`,
      `pm|@place|then|and|,* ${MARKERS_OF} @marker? of|in a? another|different kind|sort|colour|color|shade ${STANDS}* after|at|behind? each|every #|% @sts?`,
      `pm|@place # @markerkind* @marker? ,? with|having #every @sts between|in|apart them|each?`,
      `pm|@place # @markerkind* @marker? ,? #every @sts apart`,
      `pm|@place a|an|the|your? ring|rings|loop|tag|thread ${STANDS}* after|behind each|every #|% @sts?`,
      'pm|mark|marking after? each|every #|% @sts?',
      `pm|@place ${MARKERS_OF} ${STANDS}* onto? the? needle? each|every time you? have|reach|cast #|% more? @sts? on? more?`,
      `and|another|other|others|further|more* #? ${STANDS}* after|at|behind? each|every #|% @sts`,
    ],
    means: (o, n) => {
      const every = n[n.length - 1];
      if (every === null) return false;
      o.markers = { every };
    },
  },
  {
    says: [
      `pm|@place ${MARKERS_OF} ${STANDS}* between|after each|every|the ${SET} of # @sts?`,
      `between|after each|every|the ${SET} of # @sts?`,
    ],
    means: (o, n) => {
      const every = n[n.length - 1];
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
  // "Mark 6 sections of 20 sts"
  {
    says: [
      `mark|marking off|out|up|into* # equal? sections|section|sides|parts|segments|wedges|quarters|panels of|with|having # @sts? each?`,
    ],
    means: (o, [, every]) => {
      if (every != null) o.markers = { every };
    },
  },
  {
    says: ['# @sts between each|every|them|the|markers of? them|the? markers?', '# @sts apart'],
    means: (o, [every]) => {
      // Behind stitches that are marked themselves they say how far apart those are.
      if (every !== null && o.parts === null && o.hungIn.length === 0) o.markers = { every };
    },
  },
];

const SORTS = `(?:(?:${KIND}|of|the|your|these|those)\\s+)*`;
const MARKERS_TOLD = regex.g`\b(\d{1,3})\s+${SORTS}(?:markers|mkrs)\b`;
/** "the 6 markers mark the corners", "mark each of the 4 corners": corners of the whole round. */
const CORNERS_TOLD = regex.g`\b(\d{1,3})\s+${SORTS}(?:markers|mkrs)\s+(?:now\s+|will\s+)?(?:marks?|shows?|indicates?|are|sit|stand|for|at|to\s+mark)(?:\s+(?:at|in|on|out|off|the|each|all|of|your|square's))*\s+corners\b|\b(\d{1,3})\s+corners\b|=\s*(\d{1,3})\s+(?:equal\s+)?(?:sections|segments|wedges|panels|fields)\b(?!\s*of\b)`;

/** "a marker for the start and 3 more" */
const MORE_TOLD =
  /\b(?:markers?|pm)\b[^.;\d]{0,60}(?:[+,]|\band|\bplus|\bthen)\s+(\d{1,3})\s+(?:more|others?|further|additional)\b(?!\s+(?:sts?|stitch))/g;

/** Numbers of markers, and of corners marked, that the words of an opening tell (digits for numbers). */
export function markersTold(text: string): MarkersTold {
  const all = (re: RegExp): number[] =>
    [...text.matchAll(re)].map((m) => Number(m[1] ?? m[2] ?? m[3])).filter((n) => n > 1);
  const more = all(MORE_TOLD);
  return { markers: [...all(MARKERS_TOLD), ...more], corners: all(CORNERS_TOLD) };
}

const listOf = (o: Opening, n: Numbers, skip: number): boolean => {
  const at = n.slice(skip).filter((k): k is number => k !== null);
  if (at.length === 0 || at.some((k, i) => i > 0 && k <= at[i - 1])) return false;
  o.markers = { at };
  return true;
};

const AROUND =
  'on|at|to either|each|both side|sides of the middle|centre|center|central @sts? and? @marker? pair?';
/** Markers hung within the work, on the stitches that are there. */
export const HUNG = [
  `pm|@place ${MARKERS_OF} ${AROUND}`,
  `pm|@place ${AROUND}`,
  `pm|@place ${MARKERS_OF} ,|:? #|a|each? after|behind|at? each|every #|% @sts`,
  'pm after|behind? each|every #|% @sts',
];

export const PLACES: readonly OpeningRule[] = [
  {
    says: [
      `,|:|;|-? mark|marking each|all|every? of? them|these|those|it @sts? with|by|using? the|a|your* @markerkind* ${PIN}?`,
    ],
  },
  {
    says: [
      'which|that|they|these|those|and* are|is the|your|always|all|#* corner|corners|knitted|knit @sts? throughout|always?',
    ],
  },
  // "Hung a marker in the centre st, no. 21, and moved it up as I went"
  {
    says: [
      `pm|@place? ${MARKERS_OF} in|on|into|onto|to|through|round the|your? centre|center|middle @sts|one ,|(? @sts|the|number|no|nos* #|%? @sts? )?`,
      'on|in|into the? @sts? number|no|nos? # ( the? centre|center|middle @sts|one? )',
    ],
  },
  {
    says: [
      'i|you|we|keep|kept|then|and|so|to* move|moved|moving|carry|carried|carrying|shift|shifted|shifting|lift|lifted|lifting it|this|them|the|your|that|these|those|threads|thread|@marker* up|upward|upwards|along as|while|when? you|we? knit|work|go|purl?',
    ],
    means: (_, _n, c) => restOfClause(c),
  },
  {
    says: HUNG.slice(0, 2),
    means: (o) => {
      o.markers = { around: 'middle' };
    },
  },
  {
    says: [`pm|@place ${MARKERS_OF} @marker? after|behind the? @sts? #|% @sts?`],
    means: (o, n) => listOf(o, n, 1),
  },
  {
    says: [
      `pm|@place after|behind the? @sts? #|% @sts? , and? #|% @sts? ,|and|&* and? #|% @sts? ,|and|&* #|% @sts?`,
      `pm|@place after|behind the? @sts? #|% @sts? ,|and|&* and? #|% @sts? ,|and|&* and? #|% @sts?`,
      'after|behind the? @sts? #|% @sts? , and? #|% @sts? ,|and|&* #|% @sts',
      'after|behind the? @sts #|% , and? #|% ,|and|&* #|%',
      `pm|@place after|behind the? @sts? #|% @sts? ,|and|& and? #|% @sts?`,
      `pm|@place after|behind the? @sts? #|% @sts?`,
    ],
    means: (o, n) => listOf(o, n, 0),
  },
  {
    says: [
      'corners|markers|marker for|at|the|corners|go|goes|come|comes|hang* after|behind the? @sts? #|% , #|% ,|and|&* #|% ,|and|&* #|% @sts?',
      'corners|markers|marker for|at|the|corners|go|goes|come|comes|hang* after|behind the? @sts? #|% , #|% ,|and|&* #|% @sts?',
    ],
    means: (o, n) => listOf(o, n, 0),
  },
  {
    says: [
      `pm|@place ${MARKERS_OF} @marker? at|in|for|on|after|between|to|mark|marking|the|end|start|beginning|of* each|every|all|the|both|them* #? corner|corners|side|sides|section|sections|segment|segments|wedge|wedges|needle|needles|panels|lot|set|group`,
      `pm|@place at|in|for|on|after|between|to|mark|marking|the|end|start|beginning|of* each|every|all|the|both|them* #? corner|corners|side|sides|section|sections|segment|segments|wedge|wedges|needle|needles|panels|lot|set|group`,
      `${MARKERS_OF} at|in|for|on|after|between each|every|all|the|both* #? corner|corners|side|sides|section|sections|segments|wedges|needle|needles|lot|set|group`,
      'mark|marking each|every|all|of|the|both* #? corners|corner',
      'place|placing # markers',
      'with a|the? markers|marker in between',
    ],
    means: (o, n, c) => {
      // "with needles no. 4" marks nothing.
      if (/^(?:with|using|use|have|having)$/.test(c.word(-2))) return false;
      o.markers ??= 'corners';
      const told = n[n.length - 1];
      if (told != null && /^(?:corners|sides)$/.test(c.word(-1))) o.parts ??= told;
    },
  },
];

/** "Mark quarter points", "place a marker at each quarter": those of the whole round. */
export const QUARTERS: readonly OpeningRule[] = [
  {
    says: [
      'mark|marking off|out|up|at|in|into|the|each|every|your|all|round|rnd|#* quarter|quarters|fourth|fourths point|points|mark|marks|position|positions?',
      `pm|@place ${MARKERS_OF} @marker? at|on|for|to|mark|marking|the|each|every|all|#* quarter|quarters|fourth|fourths point|points|mark|marks|position|positions?`,
      `pm|@place at|on|for|to|mark|marking|the|each|every|all|#* quarter|quarters|fourth|fourths point|points|mark|marks|position|positions?`,
    ],
    means: (o) => {
      o.markers ??= 'corners';
      o.parts ??= 4;
    },
  },
];

const EACH_ONE = 'each|every|the|a|all? @shared|@marker';
const CORNER_WORDS = new Set(
  'is are it they and always knit knitted worked as a the corner corners stitch stitches st sts throughout in on every each all round rounds rnd rnds row rows your which you that this k will be of called marked 1 one just to right left straight immediately directly after before behind next first last side sides marker markers m needle needles = ( ) , : -'.split(
    ' ',
  ),
);

/** Behind words of a corner stitch: that it is one, and knitted always. False where nothing of the kind follows. */
function cornerRemark(c: TokenCursor): boolean {
  const { i } = c;
  while (!c.done && (CORNER_WORDS.has(c.here()) || c.peek()?.kind === 'ordinal')) {
    // "the one after each marker"; "knit 1 round" asks for it.
    if (c.isNumber() && !/^(?:the|this|that)$/.test(c.word(-1))) break;
    c.i++;
  }
  return /\b(?:corners?|always|throughout|every)\b/.test(c.slice(Math.max(0, i - 4), c.i));
}

const ANOTHER =
  'of|in a? another|different|contrasting|contrast|second|other colour|color|kind|shade';
export const ROUND_MARKERS: readonly OpeningRule[] = [
  {
    says: [
      `pm|@place? ${MARKERS_OF} sits|goes|stands|is? before|at|on the? %|first|last @sts`,
      `pm|@place ${MARKERS_OF} ${ANOTHER} for|at|to|mark|show|as|marking|indicate* the|a? @beginning of? the|a? @ring?`,
      `pm|@place ${MARKERS_OF} @marker? for|at|to|mark|show|as|marking|indicate* the|a? @beginning of? the|a? @ring?`,
      `pm|@place for|at|to|mark|show|as|marking|indicate* the|a? @beginning of? the|a? @ring?`,
      `and|,* #|a? marker? ${ANOTHER} for|at|to|mark|show|as|marking|indicate* the|a? @beginning of? the|a? @ring?`,
      `pm ${ANOTHER} for|at|to|mark|show|as|marking|indicate* the|a? @beginning? of? the|a? @ring?`,
      `pm|@place? bor|eor|@beginning|centre|center? @marker at|for|to|mark|the|@beginning|of|@ring|centre|center|back*`,
      'the? %|last|final @marker? being|is? at|for the @beginning of? the? @ring?',
      `pm|@place ${MARKERS_OF}`,
    ],
    means: (o) => {
      o.roundMarker = true;
    },
  },
  {
    says: ['this|that|it|which is the? @beginning of the|each|every? @ring'],
    means: (o) => {
      o.roundMarker = true;
    },
  },
  // "The first stitch of each needle is the corner stitch, it is always knitted.", "corner st = the one after each marker"
  {
    says: [
      `the|each|every|your? %|first|last|next|middle|centre|center? @sts ,|that|which|comes|follows|stands|sits|straight|right|just|immediately|directly|to|the|left|of|on|after|before|behind|following* ${EACH_ONE} ,|that? is|are|makes|will|=`,
      'the|each|every|your? corner|corners @sts? =|is|are|(|,',
      ',|;|:|and? always knit|k it|them|this|these',
      ',|;|:|and? knit|k it|them|this|these always|throughout|on|in|every',
    ],
    means: (_, _n, c) => cornerRemark(c),
  },
  // "marker for start + 3 more, one every 25 sts"
  {
    says: [
      '+|and|plus|then|also|with|,* # more|others|other|further|additional @marker? ,|:? 1|a?',
    ],
    means: (_, _n, c) => {
      for (let n = 1; n < 16; n++)
        if (MARKER_WORDS.has(c.word(-n)) || c.word(-n) === 'pm') return true;
      return false;
    },
  },
  {
    says: ['#? at the @beginning of? the? @ring?'],
    means: (o, [n]) => {
      if (n != null && n !== 1) return false;
      o.roundMarker = true;
    },
  },
  // "The last marker shows the beginning of the round."
  {
    says: [
      'a|the|this|that|it|your|last|final|first|other|%|one* #? of? these|them|those? @marker? is|will|shows|showing|marks|marking|indicates|indicating|tells|denotes|sits|stands|serves|being|=',
      `use|using|with|in|have|having a|an|the? different|another|contrasting|contrast|other|odd|special|unique colour|color|kind|sort|marker|shade|one? for|at|as the|your %|last|first|final|beginning one|marker|#?`,
      `make|making|with|have|having|use|using|a|the|your* first|last|final|% #? @marker? is|being|in|of|should|be|a|an|one* different|another|contrasting|contrast|other|odd* colour|color|coloured|colored`,
    ],
    means: (o, _n, c) => {
      const { i } = c;
      const coloured = /^(?:colou?r|one|marker)$/.test(c.word(-1)) || c.here(-1) === '1';
      restOfClause(c);
      if (!coloured && !/\b(?:beg|begin\w*|start\w*|end|ends|bor|where)\b/.test(c.slice(i, c.i)))
        return false;
      o.roundMarker = true;
    },
  },
  {
    says: ['# at|in|for|on each|every corner|side|end'],
    means: (_, [n]) => n === 1,
  },
  {
    says: [
      'so? that? # @marker divide|mark|part|separate|show the|work|into|its|corners|square|piece|up|off*',
      'so? that there are # @marker @marker? in? all?',
      'that is|makes # @marker @marker?',
      '# @marker @marker? in|all|total|altogether|together*',
      'so|that|there|you|we|are|have|making|,* # marked|corner @sts in? all|total?',
      'these|they|which|this are|is|mark|will|be|show* the|your #? corner|corners @sts?',
    ],
  },
];
