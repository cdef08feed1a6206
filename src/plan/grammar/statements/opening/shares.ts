/**
 * Stitches shared over needles and sides, stitches for a seam besides, and counts of them all, as rules of an opening.
 */
import { CLASSES } from '../../../lexicon/classes.ts';
import type { TokenCursor } from '../../token-cursor.ts';
import { END_STITCHES } from './end-stitches.ts';
import { keeps, type Opening, type OpeningRule } from './opening.ts';

const EACH = 'each|every|either';
const LIE = 'lie|lies|sit|sits|are|is|go|goes|rest|rests|stay|remain';
const WHICH = 'front|back|first|second|other|left|right|top|bottom|one|%';
const OF_THE = 'of? the|your|these?';
/** What needles are like. */
const LIKE = 'equal|double|pointed|dp|dpn|short|metal|wooden|bamboo|straight*';
const NEXT = ',|and|&|n|needle*';
const TO = ',|and|&|n|needle|-|to*';

const share = (o: Opening, parts: number | null, each: number | null): boolean => {
  if (each === null) return false;
  o.shares.push({ parts, each });
  return true;
};

/** "needles 1, 2 and 3", "needle 1 to 4": more of them are named, of as many stitches. */
function namesMore(c: TokenCursor): boolean {
  if (c.mark('-') || /^(?:to|n)$/.test(c.word())) return true;
  const at = c.mark(',&') || c.word() === 'and' ? (c.word(1) === 'and' ? 2 : 1) : -1;
  return (
    at > 0 &&
    c.isNumber(at) &&
    !c.mark('-:=', at + 1) &&
    !/^(?:on|onto|to)$/.test(c.word(at + 1)) &&
    !CLASSES.sts.has(c.word(at + 1))
  );
}

/** "20 on each | of the frobbles": what has them is no needle and no side. */
function ofStrange(c: TokenCursor): boolean {
  if (c.word() !== 'of' || /^(?:them|these|those)$/.test(c.word(1))) return false;
  for (let n = 1; n < MOST_LIKE && c.peek(n); n++)
    if (c.isNumber(n) || CLASSES.shared.has(c.word(n))) return false;
    else if (
      !CLASSES.tool.has(c.word(n)) &&
      !/^(?:the|your|my|equal|metal|bamboo)$/.test(c.word(n))
    )
      return true;
  return true;
}
/** Words up to what the needles are called. Chosen. */
const MOST_LIKE = 6;

export const SHARES: readonly OpeningRule[] = [
  {
    says: ['#listed @sts? on|onto n|needle|side #'],
    means: (o, n, c, named) => !namesMore(c) && keeps(o, n, c, named),
  },
  {
    says: [
      `#each @sts? each? @on each|every? of? the? n|needles|needle|sides # ${TO} # ${NEXT} # ${NEXT} #parts`,
      `#each @sts? each? @on n|needles|needle # ${TO} # ${NEXT} #parts`,
      `#each @sts? each? @on each|every? of? n|needles|needle|sides # ${TO} #parts`,
      `#each @sts? ${LIE}? @on ${EACH} ${OF_THE} #parts ${LIKE} @shared`,
      '#each @sts? at a|one time @on the? #parts double|pointed* @shared',
      `#each @sts? @on ${EACH} ${OF_THE} #parts double pointed? @shared?`,
      '=? #parts equal? @shared ,? each? of|with|x|at|having|-|: #each @sts? each?',
      'on|onto|over the|your? #parts @shared ,? #each @sts? on? each|every @shared?',
      '#each @sts? each @on the|your? #parts @shared',
      '#each @sts? apiece',
      '#each @sts x #parts @shared?',
      '#each x #parts @shared',
      '#each @sts? per|a|/|on a|each|every? @shared x|times|on #parts @shared?',
      '#parts times #each @sts?',
      '#each @sts? x #parts = #total @sts?',
    ],
    means: keeps,
  },
  {
    says: ['=|: # x|times # @sts?', '# x # @sts?'],
    means: (o, [a, b]) => share(o, Math.min(a ?? 1, b ?? 1), Math.max(a ?? 1, b ?? 1)),
  },
  {
    says: [
      '# corner|marked @sts with|and # @sts? after|between|beside|before each|every|them? of? them? @sts?',
    ],
    means: (o, [corners, between]) => share(o, corners, (between ?? 0) + 1),
  },
  {
    says: [
      `#each @sts? of? them? ${LIE}? on|onto|to|for|along|at|in each|every|either|a|the 1|single? of? the|your|these? needle|cable? @shared`,
      '#each @sts? per|a|/|to|for @shared',
      '#each @sts? to|for|in|on a|one|1 @shared',
      `#each @sts? of? them? ${LIE}? on|in|to|onto each|every|either #? @shared?`,
      `#each @sts? on|onto|to|per|for|along|at|in|a|/ ${EACH}`,
      `#each @sts? ${EACH} @shared?`,
    ],
    means: (o, n, c, named) => !ofStrange(c) && keeps(o, n, c, named),
  },
  { says: ['# half|part @on each|every|either needle? @shared'], means: (_, [n]) => n === 1 },
  // "with 36 on the front needle and 36 on the back one"
  {
    says: ['half of? the|them? @sts? ( # @sts? )', 'half of? the|them? @sts?'],
    means: (o, [each]) => {
      o.parts ??= 2;
      return each == null ? undefined : share(o, 2, each);
    },
  },
  {
    says: [
      '@care|so|count|confirm|verify|again* that? each|every of? the? #? @shared? holds|has|have|gets|carries|holding|takes|contains|should* #each @sts?',
      '@care|count|confirm|verify|again* that? you|there have|are #each @sts? @on|to? each|every of? the? @shared?',
      'that|which|to make|makes|form|forms up? the|all? #parts sides|corners|edges',
      '( #listed , #listed , #listed )',
      '( #listed , #listed ,? and|& #listed )',
      '( #listed , #listed , #listed ,? and|& #listed )',
      '( #listed and|+|/|& #listed )',
      '#listed , #listed , #listed ,? and|&? #listed',
      `#listed @sts? ${LIE}? @on? the|a|your? ${WHICH} needle|side|pin|half|tip|point|cable? tip?`,
      // Needle by needle: "N1: 20 sts, N2: 20 sts"
      'n|needle|needles|side|sides # :|=|-|,? #listed @sts?',
      'n|needle|side # with|has|holds|takes|gets|having #listed @sts?',
      'first|second|third|fourth needle|side :|has|holds|,? #listed @sts?',
      '#listed - #listed - #listed - #listed - #listed - #listed',
      '#listed - #listed - #listed - #listed',
      '#listed - #listed - #listed',
      '#listed / #listed / #listed / #listed',
      '#listed + #listed + #listed + #listed',
      '(|:|- #listed ,|-|/ #listed ,|-|/ #listed ,|-|/ #listed @sts? )?',
      'as|so|thus :? #listed @sts? , #listed @sts? , #listed @sts? ,|and|& #listed @sts?',
      'as|so|thus :? #listed , #listed ,|and|& #listed',
    ],
    means: keeps,
  },
  // "a marker at each corner (4)"
  {
    says: ['( #n )'],
    means: (o, [n], c) => {
      if (n === null || !(CLASSES.corner.has(c.word(-4)) || CLASSES.side.has(c.word(-4))))
        return false;
      o.parts ??= n;
    },
  },
  {
    says: ['@distribute all|them|these|the|your|@sts* # and|+|& # @sts?'],
    means: (o, [a, b]) => {
      if (a !== b) return false;
      o.listed.push(a ?? 0, b ?? 0);
    },
  },
  {
    says: ['@distribute all|them|these|the|your|@sts* in|into # equal|even? parts?'],
    means: (o, [parts], c) => {
      if (!c.done && !c.mark('.,:;)')) return false;
      o.parts ??= parts;
    },
  },
  {
    says: ['# @sts? @on each|every? of? the? needles i ,|and* ii ,|and* iii ,|and* iv'],
    means: (o, [each]) => share(o, 4, each),
  },
  {
    says: [
      `@on n|needles|needle # ${TO} # ${NEXT} # ${NEXT} #parts`,
      `@on n|needles|needle # ${TO} # ${NEXT} #parts`,
      'in|into #parts equal? parts|sections|groups|sides|halves|lots of #each @sts?',
      '@distribute all|them|these|the|your|@sts|evenly|equally|out|up* @on|among the|your|these* #parts double|pointed|dp* @shared',
      '@on|among the|your|these? #parts double pointed? @shared',
      '@on|among the|your|these? #parts equal? ~? @shared',
      '#parts equal? sides|corners|sections|edges',
      '= #parts equal? @shared',
    ],
    means: keeps,
  },
  // "30 sts, 1 centre st, 30 sts"
  {
    says: ['# @sts? ,|+|and # centre|center|corner|marked|middle @sts? ,|+|and # @sts?'],
    means: (o, [a, b, d]) => void o.totals.push((a ?? 0) + (b ?? 0) + (d ?? 0)),
  },
];

const EXTRA = 'edge|selvedge|selvage|seam|border|extra|more|corner|spare|odd|single';
/** What they are for. */
const PURPOSE = 'which|that|to|for|as|the|a|serves|serve|is|are|be|meant|used|needed|your*';
/** Most edge stitches that need no name. Chosen: sides have more. */
const MOST_EDGE = 3;
const AT_ENDS =
  'at|on|for|to|along? each|either|every|both end|ends|side|sides|edge|edges|extremity for|the|a|seam|sewing|up|making*';
const BESIDES = /^(?:edge|edges|selv|selv[ae]ge|seam|border|extra|more|corner|spare|odd)$/;

export const EXTRAS: readonly OpeningRule[] = [
  {
    says: [
      'including|incl|inclusive|counting|of|which|is|are|with* # extra|more|further|spare? @sts? to|for|as|in|the|a|used|only* join|joining|closing with|up|it|round|ring|the|a*',
    ],
    means: (o, [n]) => {
      if (n !== 1 || o.cast.length === 0) return false;
      o.joinExtra ??= 'of-them';
      return true;
    },
  },
  // "including 2 edge sts", "(incl. 1 edge st each side)": of those cast on
  {
    says: [
      `including|incl|inclusive|counting|of|with which|of? of? # ${EXTRA} @sts? ${AT_ENDS}`,
      `including|incl|inclusive|counting . # ${EXTRA} @sts? ${AT_ENDS}`,
    ],
    means: (o, [n]) => {
      o.extra += 2 * (n ?? 1);
    },
  },
  {
    says: [
      `including|incl|inclusive|counting .? of? the? #extra ${EXTRA} @sts? for|the|a|seam*`,
      `of which|them #extra is|are the? ${EXTRA} @sts?`,
    ],
    means: keeps,
  },
  { says: ['ie|namely|viz .? ,?', 'that is ,?'] },
  {
    says: [
      `and|plus|+|,|with* #|a|an ${EXTRA}* @sts? ${EXTRA}* ${AT_ENDS}`,
      `and|plus|+|,|with* at|on|in each|either|both|every end|ends|side|sides|edge|edges #|a ${EXTRA}* @sts? ${PURPOSE} seam|sewing|joining|selvedge|edge? up?`,
    ],
    means: (o, [n], c) => {
      // "30 sts each side" shares them out.
      let besides = false;
      for (let k = 1; k < 10; k++) besides ||= BESIDES.test(c.word(-k));
      if (!besides && (n ?? 1) > MOST_EDGE) return false;
      o.extra += 2 * (n ?? 1);
    },
  },
  {
    says: [
      'and|plus|+ #extra edge|seam|selvedge|selvage|extra|border @sts at|for|on|in|to the|a|each|beginning|start|end|of|right|left|side|front* seam|row|rows|edge|side?',
      'and|plus|+ #extra edge|seam|selvedge|selvage|border @sts',
      `and|plus|+ #extra ${EXTRA}* @sts? ${EXTRA}* for|at the|a|each? seam|sewing|selvedge|selvage|selvedges|edge|edges|corner|centre|center|middle`,
    ],
    means: keeps,
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
  END_STITCHES,
  // "(64 plus 1 for joining)", ": 64 for the square and one to join with"
  {
    says: [
      '(|,|:|=|;|- # @sts? for|in|make|form|of|the|square|work|piece|pattern|sides* and|plus|+ # extra|more|further? @sts? to|for|as|in|the|a|used|only* join|joining|closing|close with|up|it|round|ring|the|a* )?',
    ],
    means: (o, [all, one]) => {
      if (one !== 1 || o.cast[0] !== (all ?? 0) + 1) return false;
      o.joinExtra ??= 'of-them';
      return true;
    },
  },
  {
    says: ['# extra @sts?', 'extra @sts'],
    means: (o, [n]) => {
      if (n != null && n !== 1) return false;
      o.joinExtra ??= 'of-them';
    },
  },
];

/** Behind a number that is no count of all the stitches. */
const NO_TOTAL =
  /^(?:per|each|every|a|on|for|cms?|mm|in|ins|inch|inches|markers?|times|lie|sit|rest|are)$/;

function noTotal(c: TokenCursor): boolean {
  // "16 sts to a side"
  if (/^(?:to|in|on)$/.test(c.word()) && /^(?:a|1|one|each|every)$/.test(c.here(1))) return true;
  return NO_TOTAL.test(c.word()) || CLASSES.shared.has(c.word());
}

/** ", 15 sts per side" */
function sharesBehind(c: TokenCursor): boolean {
  if (!c.mark(',') || !c.isNumber(1)) return false;
  return /^(?:per|each|on|in|for|to|a)$/.test(c.word(CLASSES.sts.has(c.word(2)) ? 3 : 2));
}

export const TOTALS: readonly OpeningRule[] = [
  {
    says: [
      'a? total|totalling|totaling of? #total @sts?',
      '#total @sts? in all|total',
      '#total @sts? altogether|total',
      '=|making|giving|makes|gives|leaving|equals #total @sts?',
      '(|[ #total @sts? )|]',
      'all #total @sts',
    ],
    means: (o, n, c, named) => !c.mark('/x') && !noTotal(c) && keeps(o, n, c, named),
  },
  {
    says: ['.|:|; #total @sts now|rem|remain|remaining|left*'],
    // "60 sts: 30 sts, 1 centre st, 29 sts" is a list, "60 sts, 15 per side" none.
    means: (o, n, c, named) =>
      (!c.mark(',/x') || sharesBehind(c)) && !noTotal(c) && keeps(o, n, c, named),
  },
];
