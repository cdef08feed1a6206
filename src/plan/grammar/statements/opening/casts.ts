/**
 * Rules of how many stitches a sentence casts on, in one go or by the parts of the round. In: a cursor within a cast-on.
 * Out: the opening's counts.
 */
import { CLASSES } from '../../../lexicon/classes.ts';
import type { Named, Numbers, Rule } from '../../rules.ts';
import type { TokenCursor } from '../../token-cursor.ts';
import { keeps, type Opening } from './opening.ts';

export const sumOf = (list: readonly number[]): number => list.reduce((a, b) => a + b, 0);

const EDGE = 'rim|edge|edges|outside|outer|border|brim|bottom|top|centre|center|middle|base|corner';
/** The same words begin such a sentence and say its number. */
export const AT_EDGE = `begin|start|commence|beginning|starting at|from|along|round|around|in|with the|your|very|outside|outer* ${EDGE} ,? with|by|from|of? #cast @sts`;
export const EDGE_HAS = 'your|the cast on edge? is|are|has|counts #cast @sts';
const CAST = 'cast|casting|co on?';
const NEEDLE = 'n|ndl|ndls|needle|needles|dpn|dpns|side|sides';
const AND = ',|and|&*';
/** "rep from *", "repeat this" */
const AGAIN = 'rep|repeat|do from? *? this|that|these|it|the|same?';
const OTHERS = 'other|others|remaining|rest';
const SAME = 'the? same|another|#each number|amount? of? @sts?';
const OF = ':|=|loosely|a|total|of|exactly|the|all|on|firmly|now|about|then|another|further*';

const ON_EACH = /^(?:each|every|the|your|a|needles?|dpns?|on|onto|to|either)$/;

export const CASTS: readonly Rule<Opening>[] = [
  // "Needles 2, 3 and 4: cast on 24 sts each"
  {
    says: [
      `@on? ${NEEDLE} # , # ${AND} # :|,|-? cast on # @sts? each?`,
      `@on? ${NEEDLE} # :|,|-? cast on # @sts? each?`,
      `@on? ${NEEDLE} # ${AND} # :|,|-? cast on # @sts? each?`,
    ],
    means: (o, n) => void o.cast.push((n[n.length - 1] ?? 0) * (n.length - 1)),
  },
  {
    says: [`@on? ${NEEDLE} # -|to # :|,? cast on # @sts? each?`],
    means: (o, [a, b, each]) => void o.cast.push((each ?? 0) * ((b ?? 0) - (a ?? 0) + 1)),
  },
  {
    says: [
      'knit|loop|wind on #cast @sts',
      'cast #cast @sts? on|onto to? each|every of? the|your? #parts double? pointed? equal? @shared',
    ],
    means: castsOnEach,
  },
  {
    says: [`${CAST} # x|times # (|= #total )? @sts?`],
    means: (o, [a, b, total]) => {
      o.cast.push((a ?? 0) * (b ?? 0));
      o.parts ??= Math.min(a ?? 0, b ?? 0);
      o.totals.push(total ?? 0);
    },
  },
  {
    says: [`${CAST} # x|times # @sts?`],
    means: (o, [a, b]) => {
      o.cast.push((a ?? 0) * (b ?? 0));
      o.parts ??= Math.min(a ?? 0, b ?? 0);
    },
  },
  // "Cast on 24/24/24/24 sts"
  {
    says: [
      `${CAST} # / # / # / # @sts?`,
      `${CAST} # / # / # @sts?`,
      `${CAST} # - # - # - # @sts?`,
      `${CAST} # + # + # + # @sts?`,
    ],
    means: (o, n) => {
      const all = n.map((k) => k ?? 0);
      o.cast.push(sumOf(all));
      if (all.every((k) => k === all[0])) o.parts ??= all.length;
    },
  },
  // "Take 4 needles, cast 24 sts on each"
  {
    says: [
      'take|taking|with|using|use|on|onto|over the|your|a|set|of|each* #parts double? pointed? needles|dpns|pins ,|and|then* cast on? #cast @sts? on|onto|to each|every one? of? them?',
      'take|taking|with|using|use|on|onto|over the|your|a|set|of|each* #parts double? pointed? needles|dpns|pins ,|and|then* cast on #cast @sts? each|apiece',
      'on|onto each|every one? of the|your? #parts double|pointed|dp* @shared ,? cast on #cast @sts?',
    ],
    means: castsOnEach,
  },
  // "Cast on (24 sts, place marker) 4 times"
  {
    says: [
      `${CAST} (|[ #cast @sts? ,? pm )|] #parts times|x?`,
      `${CAST} (|[ #cast @sts? ,? @place a? marker )|] #parts times|x?`,
      `${CAST} #cast @sts? #parts times with a? markers|marker|pm between each|them`,
    ],
    means: (o, n, c, named) => {
      const { cast = [], parts = [] } = named();
      castsOnEach(o, n, c, named);
      o.markers ??= { every: cast[0] };
      return parts.length > 0;
    },
  },
  // "Cast on 15 sts on the first needle and the same on the other three", "… and 15 onto each of the others"
  {
    says: [
      `${SAME} @on|for each|every? of? the|your? ${OTHERS} #parts? @shared?`,
      `${SAME} @on|for each|every? of? the|your? #parts ${OTHERS} @shared?`,
    ],
    means: (o, _n, c, named) => {
      const { listed, cast } = o;
      const { parts = [], each: [each] = [listed.at(-1) ?? cast.at(-1) ?? 0] } = named();
      const others = parts[0] ?? othersUpTo(c, o, each);
      if (cast.length === 0 || others === null) return false;
      if (listed.length > 0) listed.push(...new Array<number>(others).fill(each));
      else cast.push(each * others);
      if (each === (listed[0] ?? cast[0])) o.parts ??= others + 1;
    },
  },
  // "and the same on the second, third and fourth"
  {
    says: [`the? same|another @on|for the? % needle? ${AND} %? needle? ${AND} %? needle?`],
    means: (o, n) => {
      const others = n.filter((nth) => nth !== null).length;
      if (o.listed.length > 0)
        o.listed.push(...new Array<number>(others).fill(o.listed.at(-1) ?? 0));
      else o.cast.push((o.cast.at(-1) ?? 0) * others);
    },
  },
  {
    says: [
      `${CAST} , #cast @sts`,
      `${CAST} ${OF} #cast @sts? on|onto|to|per|for|along each|every of? the|your? #parts equal? @shared`,
      `${CAST} #cast @sts? #parts times ,?`,
      'with|from #cast @sts ,? cast on',
    ],
    means: castsOnEach,
  },
  {
    says: [
      `${CAST} :? #each @sts? per|each|every|a|for|along on? the? each|every? side|needle|dpn|edge`,
    ],
    means: keeps,
  },
  {
    says: [
      `begin|start|commence? by? ${CAST} ${OF} #cast @sts?`,
      `c / o ${OF} #cast @sts?`,
      'pick up and? knit? #cast @sts?',
      AT_EDGE,
      'start|begin|make|put|get|set|mount|lay|string|throw|take|strike|loop|wind up|on|with|by? #cast @sts on|up?',
      'need|want|have|needs #cast @sts on|onto the|your* needle|needles',
      EDGE_HAS,
      'begin|start|commence|beginning|starting|commencing with #cast @sts?',
      'strike|hit|beat|pitch|mount|knot|pick|hang|open|knit|form|lay up|on #cast @sts',
      'set up : #cast @sts',
      'you|we? need|want #cast @sts to begin|start?',
      'make|made #cast @sts?',
      'knit|make|pick|work|form|draw|pull|take up|through? #cast @sts up? into|in|through|from|out|onto|round|around of? the|this|your|a|it|yarn* ring|loop|circle|it|finger|thread?',
      'make|made a|an|the ~* cast on of #cast @sts',
      '@distribute the|your cast on of #cast @sts',
      'start|begin|beginning|loops|stitches|sts|edge : #cast @sts?',
    ],
    means: (o, n, c, named) =>
      // "Cast on 64 sts, put 16 sts on each needle"
      (o.cast.length === 0 || !ON_EACH.test(c.word())) &&
      !/^(?:mm|cm|inch|ply|sides|edges|corners)$/.test(c.word()) &&
      castsOnEach(o, n, c, named),
  },
  // "Finger-hung cast-on 76 sts"
  {
    says: ['~ ~? ~? cast on :? # @sts'],
    means: (o, [n]) => {
      if (o.cast.length > 0) return false;
      o.cast.push(n ?? 0);
    },
  },
  {
    says: [
      '#cast @sts? is|are|were|have|been|to|be|will|must* put|mounted|strung|made|laid|thrown|taken|wound|picked|set|started|begun|formed|needed|wanted|worked on|up|onto|over|to* the|your|one|a|1* @tool*',
      '#cast @sts? is|are|were|have|been|to|be* cast on :?',
      `#cast @sts :|-|, ${CAST}`,
    ],
    means: castsOnEach,
  },
  // "(CO 10 sts, pm) 6 times", "*CO 40, pm; rep from * 3 more times"
  { says: [')|] x #', ')|] # times'], means: (o, [n]) => repeats(o, n ?? 1) },
  { says: [') once|twice times?'], means: (o) => repeats(o, 2) },
  {
    says: [`${AGAIN} another? # more|further? times|time?`],
    means: (o, [n]) => repeats(o, (n ?? 0) + 1),
  },
  { says: [`${AGAIN} once more?`], means: (o) => repeats(o, 2) },
  { says: [`${AGAIN} twice more?`], means: (o) => repeats(o, 3) },
  // "CO 20, pm, CO 20", "3 sts, pm, 2 sts, pm, 11 sts"
  {
    says: [
      '# centre|center|middle|corner|marked? @sts? ,? pm',
      '# centre|center|middle|corner|marked? @sts? ,? place|placing a? marker',
    ],
    means: (o, [n]) => {
      o.listed.push(n ?? 0);
      o.marked.push(sumOf(o.listed));
    },
  },
  {
    says: ['pm', 'place|placing a? marker'],
    means: (o, _, c) => {
      if (o.cast.length === 0 || /^(?:after|every|each|at|for|to|in|on|of|which)$/.test(c.word()))
        return false;
      o.marked.push(sumOf(o.cast));
      o.roundMarker = true;
    },
  },
  {
    says: ['# @sts', '#'],
    means: (o, [n], c) => {
      if (o.marked.length === 0 || o.listed.length === 0) return false;
      if (!CLASSES.sts.has(c.word(-1)) && !(c.done || c.mark('.;)'))) return false;
      o.listed.push(n ?? 0);
    },
  },
  // "… 90" at the end of a line.
  {
    says: ['#'],
    means: (o, [n], c) => {
      if (n === null || !c.done || o.cast.length === 0) return false;
      o.totals.push(n);
    },
  },
  {
    says: [
      'initial|foundation|mounted|made|starting @sts :|=?',
      'cast|casting on',
      'co',
      'as follows :?',
      'provisionally|provisional',
      'set up :',
    ],
  },
];

/** How many others of as many stitches come to the count that is told before, or behind; null where none does. */
function othersUpTo(c: TokenCursor, o: Opening, each: number): number | null {
  if (/^(?:other|remaining|rest)$/.test(c.word(-1))) return null;
  const so = sumOf(o.listed.length > 0 ? o.listed : o.cast);
  const upTo = (all: number): number | null =>
    all > so && (all - so) % each === 0 ? (all - so) / each : null;
  if (o.listed.length > 0) return upTo(sumOf(o.cast));
  for (let n = 0; n < MOST_BEHIND && c.peek(n); n++) {
    const told = c.isNumber(n) && CLASSES.sts.has(c.word(n + 1)) ? c.peek(n) : null;
    if (told) return upTo(told.value);
  }
  return null;
}

/** Tokens within which the count of all is looked for. Chosen: a sentence. */
const MOST_BEHIND = 24;

/** So many stitches, or so many on each of several needles. */
function castsOnEach(o: Opening, _n: Numbers, _c: TokenCursor, named: () => Named): void {
  const { cast = [], parts } = named();
  o.cast.push(sumOf(cast) * (parts?.[0] ?? 1));
  if (parts) o.parts ??= parts[0];
}

function repeats(o: Opening, n: number): boolean {
  if (o.cast.length === 0 || n < 2 || n > 1000) return false;
  o.times = n;
  return true;
}
