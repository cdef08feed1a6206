/**
 * Cast-on sentences: `CO 120 sts (30 sts each side)`, `using the long-tail method, cast on ninety-six
 * stitches, twenty-four on each of four needles`, `cast on 120, placing a marker every 30 sts, join`. In: a
 * cursor where one may begin. Out: what it says, and the words that no rule follows.
 */
import { STITCH_WORDS } from '../../lexicon/words.ts';
import type { CastOn, SetUp } from '../ast.ts';
import { stitchesHung } from '../markers-hung.ts';
import { eatStitches } from '../phrases.ts';
import { followAll, type Stretch, says } from '../rules.ts';
import type { TokenCursor } from '../token-cursor.ts';
import { BREAKDOWN } from './opening/breakdown.ts';
import { castInParts } from './opening/cast-in-parts.ts';
import { AT_EDGE, CASTS, EDGE_HAS, sumOf } from './opening/casts.ts';
import { joinOfWords } from './opening/joins.ts';
import { markersTold } from './opening/markers.ts';
import { emptyOpening, type Opening, type OpeningRule, sharesOf } from './opening/opening.ts';
import { stitchesPutOn } from './opening/puts-on.ts';
import { OPENING_RULES } from './opening/rules.ts';

const WHO = new Set(['we', 'you', 'i', 'now', 'first']);

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

/** … and where nothing else of the text could: "96 sts, 24 per dpn, join", "Strike up 96 sts", "Set up: 96 sts on 4 dpns". */
const PUTS_ON_BARE = [
  'you|we? need|want # @sts to begin|start|on',
  'set up :|- # @sts',
  '# @sts ,|on|over|per|:|(|-|=|at',
  'strike|hit|beat|pitch|mount|knot|pick|hang|open|knit|form|lay up|on # @sts',
];

/** The sentence joins a round or shares its stitches out: no gauge and no note of a size. */
function tellsOpening(c: TokenCursor): boolean {
  for (let n = 0; n < 30 && c.peek(n) && !c.mark('.;!', n); n++)
    if (
      /^(?:join|joined|joining|needles?|dpns?|pins?|ndls?|circular|close|closed|ring)$/.test(
        c.word(n),
      )
    )
      return true;
  return false;
}

/**
 * The sentence that begins here casts on. `first`: nothing has been cast on before; `bare`: no other words of
 * the text do so, and "Start: 96 sts" may.
 */
const NO_CAST_ON = /^(?:of|than|without|before|after|when|while|from|like|avoid|than|is|was|that)$/;

export function readCastOnHead(c: TokenCursor, first: boolean, bare = false): boolean {
  return c.takes(() => {
    let bracket = false;
    for (let n = 0; n < 3 && c.eatMark('([*'); n++) bracket = true;
    const start = c.i;
    // "Instead of casting on round the outside, we begin with 8 stitches"
    if (c.word() === 'casting' && NO_CAST_ON.test(c.word(-1))) return null;
    if (/^(?:of|than)$/.test(c.word(1)) && c.word(2) === 'casting') return null;
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
    if (bare && c.attempt(() => stitchesPutOn(c)) !== null) return true;
    if (
      bare &&
      c.attempt(() => (PUTS_ON_BARE.some((rule) => says(c, rule)) ? true : null)) &&
      tellsOpening(c)
    )
      return true;
    if (bare && PUTS_ON.some((rule) => c.attempt(() => (says(c, rule) ? true : null)))) return true;
    if (
      bare &&
      (c.phrase('pick up and? knit?') ||
        c.phrase('begin|start|starting|beginning|commence|commencing with') ||
        c.phrase('make'))
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
      if (n > 0 && c.phrase('make') && (c.number() ?? 0) > 1 && /^st/.test(c.word())) return true;
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
      // "by casting on any multiple of 8 stitches"
      if (/^multiples?$/.test(c.word(n - 2)) && c.word(n - 1) === 'of') continue;
      if (/^(?:more|fewer|less)$/.test(c.word(n + 2))) return false;
      if (!/^(?:mm|cm|inch|inches|in|ply)$/.test(next)) return true;
    }
  }
  return false;
}

/** "plus 1 stitch at each end", "and 2 edge sts": the number `n` tokens on is that of what is added. */
function isBeside(c: TokenCursor, n: number): boolean {
  if (!/^(?:plus|with|and)$/.test(c.word(n - 1))) return false;
  return c.ahead(() => {
    c.i += n + 1;
    const beside =
      says(c, 'edge|seam|selvedge|selvage|extra @sts') ??
      says(c, '@sts at|on? each|either|both|every the? end|ends');
    return beside !== null;
  });
}

/** What no other rule takes for the stitches cast on, where a sentence puts them on in words of its own. */
const PUT_ON: OpeningRule = {
  says: ['# chain|loop|knit|made? on? @sts', '#'],
  means: (o, [n], c) => {
    if (n == null || o.cast.length > 0 || o.shares.length > 0 || n !== o.putOn) return false;
    c.eatMark('.');
    o.cast.push(n);
    o.putOn = null;
  },
};

const CAST_ON_RULES = [BREAKDOWN, ...CASTS, ...OPENING_RULES, PUT_ON];

/**
 * All that the sentence says; `castOn` is null where it holds no number of stitches. `parts`: tokens that tell it part by part,
 * over more than one sentence at times.
 */
export function readCastOn(c: TokenCursor): {
  castOn: CastOn | null;
  unread: Stretch[];
  parts: number;
} {
  const start = c.i;
  const text = c.slice(start, c.end);
  const o = emptyOpening();
  const parts = castInParts(c, o);
  const behind = c.i;
  // "96 sts, 24 per dpn, join"
  const bare = parts ? null : says(c, '# @sts ,|on|over|per|:|(|-|=|at');
  if (parts) {
    // The rest tells how they are joined and marked.
  } else if (bare) {
    c.i--;
    o.cast.push(bare[0] ?? 0);
  } else {
    const at = stitchesPutOn(c);
    o.putOn = at === null ? null : (c.peek(at)?.value ?? null);
  }
  const unread = followAll(c, CAST_ON_RULES, o);
  const told = c.slice(behind, c.end);
  return { castOn: castOnOf(o, text, told), unread, parts: behind - start };
}

/** The count, and what it was said from; null where no number of stitches is cast on. */
function countOf(o: Opening): { count: number; stated: number[] } | null {
  const cast = [...o.cast];
  const totals = [...o.totals];
  // "CO 40 sts: CO 20, pm, CO 20" gives the total first, "CO 96 sts: *CO 24, pm; rep from * 3 more times" too.
  if (cast.length > 1 && cast[0] === sumOf(cast.slice(1)) * (o.times ?? 1)) cast.shift();
  // "CO 96 sts: *CO 24, pm; rep from * twice more" does not come to its total.
  else if (cast.length > 1 && o.times !== null) totals.push(cast.shift() ?? 0);
  let count = sumOf(cast) * (o.times ?? 1);
  if (count === 0) {
    const whole = o.shares.find((s) => s.parts !== null);
    count = totals.pop() ?? (whole ? (whole.parts ?? 0) * whole.each : (o.shares[0]?.each ?? 0));
  }
  return count > 0 ? { count, stated: totals } : null;
}

function castOnOf(o: Opening, text: string, told: string): CastOn | null {
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
  let join = joinOfWords(text) ?? o.join;
  if (o.joinExtra === 'besides') join ??= { method: 'extra', halfTurns: 0 };
  else if (o.joinExtra === 'of-them' && join?.method !== 'crossed') {
    count -= Math.max(1, o.takesLast);
    join = { ...join, method: 'extra', halfTurns: join?.halfTurns ?? 0 };
  }
  return {
    count,
    sides,
    markers,
    cornerMarkers: corners,
    roundMarker,
    hungIn: o.hungIn,
    markersTold: markersTold(told),
    join,
    lessExtra: o.joinExtra !== null,
    stated,
  };
}

/** Places of markers, in loops cast on before each; null where they are absurd. */
export function placesOf(
  set: Exclude<SetUp['markers'], 'corners' | null>,
  count: number,
): number[] | null {
  if ('at' in set) {
    const at = stitchesHung({ action: 'place', ...set }, count).filter((n) => n > 0 && n < count);
    return at.length > 0 ? at : null;
  }
  if ('around' in set) return count % 2 === 1 ? [(count - 1) / 2, (count + 1) / 2] : null;
  const { every: by } = set;
  if (!(by > 0) || count / by > 1000) return null;
  const out: number[] = [];
  for (let at = by; at < count; at += by) out.push(at);
  return out;
}
