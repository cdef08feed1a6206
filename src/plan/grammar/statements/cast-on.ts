/**
 * Cast-on sentences: `CO 120 sts (30 sts each side)`, `using the long-tail method, cast on ninety-six
 * stitches, twenty-four on each of four needles`, `cast on 120, placing a marker every 30 sts, join`. In: a
 * cursor where one may begin. Out: what it says, and the words that no rule follows.
 */

import { STITCH_WORDS } from '../../lexicon/words.ts';
import type { CastOn, SetUp } from '../ast.ts';
import { eatStitches } from '../phrases.ts';
import { followAll, type Named, type Numbers, type Rule, type Stretch, says } from '../rules.ts';
import type { TokenCursor } from '../token-cursor.ts';
import { joinOfWords } from './opening/joins.ts';
import { markersTold } from './opening/markers.ts';
import { emptyOpening, keeps, type Opening, sharesOf } from './opening/opening.ts';
import { OPENING_RULES } from './opening/rules.ts';

const WHO = new Set(['we', 'you', 'i', 'now', 'first']);

const EDGE = 'rim|edge|edges|outside|outer|border|brim|bottom|top|centre|center|middle|base|corner';
/** The same words begin such a sentence and say its number. */
const AT_EDGE = `begin|start|commence|beginning|starting at|from|along|round|around|in|with the|your|very|outside|outer* ${EDGE} ,? with|by|from|of? #cast @sts`;
const EDGE_HAS = 'your|the cast on edge? is|are|has|counts #cast @sts';
/** Ways to say that so many stitches are put on the needles, where no other words cast on. */
const PUTS_ON = [
  AT_EDGE,
  `start|begin|make|put|get|set|mount|lay|string|throw|take|strike|work up|on|with|by? # @sts ,|(|on|onto|over|to`,
  'start|begin|mount|lay up|on|with? # @sts and|.|;',
  'cast|knit|loop|wind # @sts on|onto|over to?',
  'knit|loop|wind on # @sts',
  '# @sts to start|begin with? ,|.|;|and',
  '@tool* need|want|have|needs # @sts on|onto the|your* needle|needles',
  EDGE_HAS,
];

/**
 * The sentence that begins here casts on. `first`: nothing has been cast on before; `bare`: no other words of
 * the text do so, and "Start: 96 sts" may.
 */
export function readCastOnHead(c: TokenCursor, first: boolean, bare = false): boolean {
  return c.takes(() => {
    let bracket = false;
    for (let n = 0; n < 3 && c.eatMark('([*'); n++) bracket = true;
    const start = c.i;
    for (
      let n = 0;
      n < 6 && c.phrase('then|now|next|first|firstly|loosely|to|begin|you|we|i|start|please|and');
      n++
    );
    c.eatMark(',:');
    if (castsOn(c)) return numberNear(c) || null;
    c.i = start;
    c.skip(WHO);
    if (bare && c.phrase('start|begin|beginning|loops|stitches|sts|edge') && c.eatMark(':')) {
      return c.number() !== null && (eatStitches(c) || c.mark('(,') || c.word() === 'on')
        ? true
        : null;
    }
    c.i = start;
    c.skip(WHO);
    // "108 sts: cast on", "84 sts cast on"
    if (first && c.number() !== null && eatStitches(c)) {
      c.eatMark(':-,');
      c.phrase('are|is to? be?');
      if (castsOn(c)) return true;
    }
    c.i = start;
    c.skip(WHO);
    if (!first) return null;
    if (PUTS_ON.some((rule) => c.attempt(() => (says(c, rule) ? true : null)))) return true;
    if (
      c.phrase('pick up and? knit?') ||
      c.phrase('begin|start|starting|beginning|commence|commencing with') ||
      c.phrase('make')
    ) {
      if (c.isNumber() && (/^st/.test(c.word(1)) || c.mark('(,', 1))) return true;
      if (c.word(-1) !== 'make' && c.word(-1) !== 'up') return null;
    }
    if (bracket) return null;
    let counted = false;
    // "Using the long-tail method and A, cast on 96 sts"
    for (let n = 0; n < 40 && !c.done; n++) {
      if (c.mark(';!?*') || (c.mark('.') && c.peek(1)?.capital)) return null;
      if (
        /^(?:knit|purl|round|rnd|row|rounds|rows|rnds)$/.test(c.word()) &&
        !/needles?/.test(c.word(1)) &&
        n === 0
      )
        return null;
      if (castsOn(c)) return numberNear(c) || counted || null;
      if (first && c.attempt(() => says(c, 'knit|loop|wind on # @sts'))) return true;
      if (c.isNumber() && STITCH_WORDS.has(c.word(1))) counted = true;
      if (c.word() === 'cast' && c.isNumber(1) && STITCH_WORDS.has(c.word(2))) return true;
      if (n > 0 && c.phrase('make') && c.isNumber() && /^st/.test(c.word(1))) return true;
      c.i++;
    }
    return null;
  });
}

function castsOn(c: TokenCursor): boolean {
  // "Cast-on edge per side: 26 sts" only describes it.
  if (
    c.word() === 'cast' &&
    /^(?:edge|edges|count|number|method)$/.test(c.word(c.here(1) === '-' ? 3 : 2))
  )
    return false;
  return c.phrase('cast|casting on') || c.phrase('co') || c.slashed('c', 'o');
}

/** A number of stitches comes soon. */
function numberNear(c: TokenCursor): boolean {
  for (let n = 0; n < 26 && c.i + n < c.end; n++) {
    const t = c.peek(n);
    if (!t || t.kind === 'line' || (t.kind === 'mark' && '.;'.includes(t.text))) return false;
    if (t.kind === 'number') {
      const next = c.word(n + 1);
      // "cast on all 4 sides in 1 go", "plus 1 stitch at each end": of what there are sides, and what stands besides.
      if (/^(?:sides?|corners?|needles?|edges?|go|time|piece)$/.test(next) || isBeside(c, n))
        continue;
      if (/^(?:more|fewer|less)$/.test(c.word(n + 2))) return false;
      if (!/^(?:mm|cm|inch|inches|in|ply)$/.test(next)) return true;
    }
  }
  return false;
}

/** "plus 1 stitch at each end", "and 2 edge sts": the number `n` tokens on is that of what is added. */
function isBeside(c: TokenCursor, n: number): boolean {
  if (!/^(?:plus|with|and)$/.test(c.word(n - 1))) return false;
  const { i } = c;
  c.i += n + 1;
  const beside =
    says(c, 'edge|seam|selvedge|selvage|extra @sts') ??
    says(c, '@sts at|on? each|either|both|every the? end|ends');
  c.i = i;
  return beside !== null;
}

const CAST = 'cast|casting|co on?';
const NEEDLE = 'n|ndl|ndls|needle|needles|dpn|dpns|side|sides';
const AND = ',|and|&*';
const OF = ':|=|loosely|a|total|of|exactly|the|all|on|firmly|now|about|then|another|further*';

const ON_EACH = /^(?:each|every|the|your|a|needles?|dpns?|on|onto|to|either)$/;

const CASTS: readonly Rule<Opening>[] = [
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
    says: [`${CAST} # x|times # @sts?`],
    means: (o, [a, b]) => {
      o.cast.push((a ?? 0) * (b ?? 0));
      o.parts ??= Math.min(a ?? 0, b ?? 0);
    },
  },
  // "and the same on the second, third and fourth"
  {
    says: [`the? same|another @on|for the? % needle? ${AND} %? needle? ${AND} %? needle?`],
    means: (o, n) => {
      const last = o.cast[o.cast.length - 1] ?? 0;
      o.cast.push(last * n.filter((nth) => nth !== null).length);
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
    says: [`${CAST} :? #each @sts? per|each|every|a on? each? side|needle|dpn|edge`],
    means: keeps,
  },
  {
    says: [
      `begin|start|commence? by? ${CAST} ${OF} #cast @sts?`,
      `c / o ${OF} #cast @sts?`,
      'pick up and? knit? #cast @sts?',
      AT_EDGE,
      'start|begin|make|put|get|set|mount|lay|string|throw|take|strike|loop|wind up|on|with|by? #cast @sts on?',
      'need|want|have|needs #cast @sts on|onto the|your* needle|needles',
      EDGE_HAS,
      'begin|start|commence|beginning|starting|commencing with #cast @sts?',
      'make|made #cast @sts?',
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
    says: ['#cast @sts? is|are|were|have|been|to|be* cast on :?', `#cast @sts :|-|, ${CAST}`],
    means: castsOnEach,
  },
  // "(CO 10 sts, pm) 6 times", "*CO 40, pm; rep from * 3 more times"
  { says: [')|] x #', ')|] # times'], means: (o, [n]) => repeats(o, n ?? 1) },
  { says: [') once|twice times?'], means: (o) => repeats(o, 2) },
  {
    says: ['rep|repeat from? * another? # more? times|time?'],
    means: (o, [n]) => repeats(o, (n ?? 0) + 1),
  },
  { says: ['rep|repeat from? * once more?'], means: (o) => repeats(o, 2) },
  { says: ['rep|repeat from? * twice more?'], means: (o) => repeats(o, 3) },
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
      if (o.cast.length === 0 || /^(?:after|every|each|at|for|to|in|on)$/.test(c.word()))
        return false;
      o.marked.push(sumOf(o.cast));
      o.roundMarker = true;
    },
  },
  {
    says: ['# @sts'],
    means: (o, [n]) => {
      if (o.marked.length === 0 || o.listed.length === 0) return false;
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
  { says: ['cast|casting on', 'co', 'as follows :?', 'provisionally|provisional', 'set up :'] },
];

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

const CAST_ON_RULES = [...CASTS, ...OPENING_RULES];

/** All that the sentence says; `castOn` is null where it holds no number of stitches. */
export function readCastOn(c: TokenCursor): { castOn: CastOn | null; unread: Stretch[] } {
  const start = c.i;
  const text = c.slice(start, c.end);
  const o = emptyOpening();
  const unread = followAll(c, CAST_ON_RULES, o);
  return { castOn: castOnOf(o, text), unread };
}

const sumOf = (list: readonly number[]): number => list.reduce((a, b) => a + b, 0);

/** The count, and what it was said from; null where no number of stitches is cast on. */
function countOf(o: Opening): { count: number; stated: number[] } | null {
  const cast = [...o.cast];
  const totals = [...o.totals];
  // "CO 40 sts: CO 20, pm, CO 20" gives the total first.
  if (cast.length > 2 && cast[0] === sumOf(cast.slice(1))) cast.shift();
  let count = sumOf(cast) * (o.times ?? 1);
  if (count === 0) {
    const whole = o.shares.find((s) => s.parts !== null);
    count = totals.pop() ?? (whole ? (whole.parts ?? 0) * whole.each : (o.shares[0]?.each ?? 0));
  }
  return count > 0 ? { count, stated: totals } : null;
}

function castOnOf(o: Opening, text: string): CastOn | null {
  const found = countOf(o);
  if (!found) return null;
  // A slip knot is the first stitch.
  if (/\bslip ?knot\b/.test(text) && found.stated.includes(found.count + 1)) found.count++;
  // "Cast on 120 sts plus 2 edge sts = 122 sts"
  if (o.extra > 0 && found.stated.includes(found.count + o.extra)) found.count += o.extra;
  let { count } = found;
  const stated = found.stated.filter((n) => n !== count);
  let sides: number | null = o.times ?? null;
  for (const { parts, each } of sharesOf(o)) {
    const all = parts === null ? null : parts * each;
    if (all !== null && (all === count || all + o.extra === count)) sides ??= parts;
    else if (all !== null) stated.push(all + o.extra);
    else if (each > 0 && (count - o.extra) % each === 0) sides ??= (count - o.extra) / each;
    else if (each > 0 && count % each === 0) sides ??= count / each;
    else if (each > 0) stated.push(each * Math.max(1, Math.round(count / each)));
  }
  const { listed, marked } = o;
  let markers: number[] = [];
  let roundMarker = o.roundMarker;
  if (marked.length > 0) {
    const all = listed.length > 0 ? sumOf(listed) : count;
    if (all !== count) stated.push(all);
    markers = marked.filter((n) => n < count);
    if (o.times !== null) {
      const part = count / o.times;
      markers = Array.from({ length: o.times - 1 }, (_, i) => (i + 1) * part);
    }
    if (listed.length > 0) roundMarker = marked.some((n) => n >= count);
    else roundMarker = o.times !== null || marked[marked.length - 1] === count;
  } else if (listed.length > 1) {
    if (sumOf(listed) !== count) stated.push(sumOf(listed));
    else if (listed.every((n) => n === listed[0])) sides ??= listed.length;
  }
  if (o.parts !== null && o.parts > 1 && count % o.parts === 0) sides ??= o.parts;
  let corners = false;
  if (markers.length === 0) {
    if (o.markers === 'corners') corners = true;
    else if (o.markers) {
      markers = placesOf(o.markers, count) ?? [];
      if (markers.length > 0) roundMarker = true;
    }
  }
  let join = joinOfWords(text);
  if (o.joinExtra === 'besides') join ??= { method: 'extra', halfTurns: 0 };
  else if (o.joinExtra === 'of-them' && join?.method !== 'crossed') {
    count -= 1;
    join ??= { method: 'extra', halfTurns: 0 };
  }
  return {
    count,
    sides,
    markers,
    cornerMarkers: corners,
    roundMarker,
    markersTold: markersTold(text),
    join,
    stated,
  };
}

/** Places of markers, in loops cast on before each; null where they are absurd. */
export function placesOf(
  set: Exclude<SetUp['markers'], 'corners' | null>,
  count: number,
): number[] | null {
  if ('at' in set) {
    const at = set.at.filter((n) => n > 0 && n < count);
    return at.length > 0 ? at : null;
  }
  if ('around' in set) return count % 2 === 1 ? [(count - 1) / 2, (count + 1) / 2] : null;
  const { every: by } = set;
  if (!(by > 0) || count / by > 1000) return null;
  const out: number[] = [];
  for (let at = by; at < count; at += by) out.push(at);
  return out;
}
