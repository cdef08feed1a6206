/**
 * Cast-on sentences: `CO 120 sts (30 sts each side)`, `using the long-tail method, cast on ninety-six
 * stitches, twenty-four on each of four needles`, `cast on 120, placing a marker every 30 sts, join`. In: a
 * cursor where one may begin; the sentence with its numbers in digits. Out: what it says.
 */
import type { CastOn } from '../ast.ts';
import { eatStitches } from '../phrases.ts';
import { readStatedCount } from '../steps/stated-counts.ts';
import type { TokenCursor } from '../token-cursor.ts';
import { markersOf, ROUND_MARKER, readJoin } from './set-up.ts';

const WHO = new Set(['we', 'you', 'i', 'now', 'first']);

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
    // "108 sts: cast on"
    if (first && c.number() !== null && eatStitches(c) && c.eatMark(':-,') && castsOn(c))
      return true;
    c.i = start;
    c.skip(WHO);
    if (!first) return null;
    if (
      c.phrase('pick up and? knit?') ||
      c.phrase('begin|start|starting|beginning|commence|commencing with') ||
      c.phrase('make')
    ) {
      return c.isNumber() && (/^st/.test(c.word(1)) || c.mark('(,', 1)) ? true : null;
    }
    if (bracket) return null;
    // "Using the long-tail method and A, cast on 96 sts"
    for (let n = 0; n < 40 && !c.done; n++) {
      if (c.mark(';!?*') || (c.mark('.') && c.peek(1)?.capital)) return null;
      if (
        /^(?:knit|purl|round|rnd|row|rounds|rows|rnds)$/.test(c.word()) &&
        !/needles?/.test(c.word(1)) &&
        n === 0
      )
        return null;
      if (castsOn(c)) return numberNear(c) || null;
      if (n > 0 && c.phrase('make') && c.isNumber() && /^st/.test(c.word(1))) return true;
      c.i++;
    }
    return null;
  });
}

function castsOn(c: TokenCursor): boolean {
  return c.phrase('cast|casting on') || c.phrase('co') || c.slashed('c', 'o');
}

/** A number of stitches comes soon. */
function numberNear(c: TokenCursor): boolean {
  for (let n = 0; n < 26 && c.i + n < c.end; n++) {
    const t = c.peek(n);
    if (!t || t.kind === 'line' || (t.kind === 'mark' && '.;'.includes(t.text))) return false;
    if (t.kind === 'number') {
      const next = c.word(n + 1);
      if (!/^(?:mm|cm|inch|inches|in|ply)$/.test(next)) return true;
    }
  }
  return false;
}

const COUNT =
  /(?:(?:cast(?:ing)?[\s-]*on|c\/?o)(?![a-z])|pick\s+up(?:\s+and\s+knit)?|(?:begin|start|commenc)(?:e|ning|ing)?\s+with|make|(?:start|begin|beginning|loops|stitches|sts|edge):)[\s:]*(?:loosely\s+|a\s+total\s+of\s+|on\s+|exactly\s+|the\s+)*(\d+)(?!\s*(?:mm|cm|inch|ply))/;
const LATE_COUNT = /(\d+)\s*(?:sts?|stitch(?:es)?)(?![a-z])/;
/** "CO: join, 20 per side = 80": the count of a table's last column. */
const LAST_CELL = /=\s*(\d+)\s*$/;
const ON_EACH =
  /(\d+)?\s*(?:sts?|stitch(?:es)?)?\s*(?:on|onto|to|per|for|along)\s+each\s+(?:of\s+)?(?:the\s+|your\s+)?(\d+)\s*(?:dpns?|needles?|sides?|double|corners?|sections?)/;
const SIDES_OF =
  /(\d+)\s*(?:equal\s+)?(?:sides?|needles?|sections?|edges?)\s*(?:of|with|x|at|having|-)\s*(\d+)(?:\s*(?:sts?|stitch(?:es)?)(?:\s+each)?)?/;
const PRODUCT = /(\d+)\s*x\s*(\d+)(?:\s*=\s*(\d+))?/;
const PER_SIDE =
  /(\d+)\s*(?:sts?|stitch(?:es)?)?\s*(?:on\s+|per\s+|for\s+|along\s+|to\s+|at\s+|a\s+)?(?:each|every|per|a|the)?\s*(?:side|needle|edge|dpn)(?!s)/;
const OVER_NEEDLES =
  /(?:over|on|onto|between|across|among)\s+(?:your\s+)?(\d+)\s*(?:dpns?|needles?|double)/;

/** What the sentence says; null where it holds no number of stitches. */
export function castOnOf(text: string): CastOn | null {
  const cell = LAST_CELL.exec(text);
  const named = COUNT.exec(text) ?? LATE_COUNT.exec(text);
  const shared =
    named &&
    /^\s*(?:sts?|stitch(?:es)?)?\s*(?:per|each|on\s+each|a\s+side)/.test(
      text.slice(named.index + named[0].length),
    );
  const m = cell && shared ? cell : (named ?? cell);
  if (!m) return null;
  let count = Number(m[1]);
  if (!(count > 0)) return null;
  let rest = m === cell ? text.slice(0, m.index) : text.slice(m.index + m[0].length);
  const stated: number[] = cell && m !== cell ? [Number(cell[1])] : [];
  let sides: number | null = null;
  const share = (n: number, per: number): void => {
    if (n * per === count) sides ??= n;
    else stated.push(n * per);
  };

  // "24 sts on each of 4 needles", alone or behind the total.
  const numberBefore =
    /^\s*(?:sts?|stitch(?:es)?)?\s*(?:on|onto|to|per|for|along)\s+each\s+(?:of\s+)?/.test(rest);
  const each = ON_EACH.exec(rest);
  if (each) {
    const n = Number(each[2]);
    if (numberBefore && each.index <= 10) {
      count *= n;
      sides = n;
      rest = rest.slice(each.index + each[0].length);
    } else if (each[1]) share(n, Number(each[1]));
    else if (count % n === 0) sides = n;
  }
  const { markers, roundMarker, total, repeated } = placedWhileCasting(text, m);
  let marks = roundMarker;
  if (total !== null) count = total;
  if (repeated !== null) sides = repeated;

  const needles = [
    ...rest.matchAll(/\bn(?:eedle)?\s*\d\s*[:=-]?\s*(\d+)\s*(?:sts?|stitch(?:es)?)?/g),
  ];
  if (needles.length > 1) {
    const sum = needles.reduce((all, one) => all + Number(one[1]), 0);
    if (sum !== count) stated.push(sum);
    else if (needles.every((one) => one[1] === needles[0][1])) sides = needles.length;
  }
  const listed = /\bon\s+n1\b[^.]*?\bn(\d)\b(?![^.]*\bn\d)/.exec(rest);
  if (listed && count % Number(listed[1]) === 0) sides = Number(listed[1]);
  const eachOn = each
    ? null
    : /(\d+)\s*(?:sts?|stitch(?:es)?)?\s*each\s+(?:on|onto|to)\s+(?:your\s+|the\s+)?(\d+)/.exec(
        rest,
      );
  if (eachOn) share(Number(eachOn[2]), Number(eachOn[1]));
  const sidesOf = each ? null : SIDES_OF.exec(rest);
  const seam =
    /(?:and|plus|\+)\s+(\d+)\s+(?:sts?|stitch(?:es)?|extra)?\s*for\s+(?:the\s+)?(?:seam|join|selv|edge)/.exec(
      rest,
    );
  const extra = seam ? Number(seam[1]) : 0;
  if (sidesOf && extra > 0 && Number(sidesOf[1]) * Number(sidesOf[2]) + extra === count)
    sides ??= Number(sidesOf[1]);
  else if (sidesOf) share(Number(sidesOf[1]), Number(sidesOf[2]));
  const product = sidesOf || each ? null : PRODUCT.exec(rest);
  if (
    product &&
    !/mm|cm|gauge|needle/.test(
      rest.slice(product.index - 6 < 0 ? 0 : product.index - 6, product.index),
    )
  ) {
    const all = Number(product[1]) * Number(product[2]);
    if (all === count) sides ??= Math.min(Number(product[1]), Number(product[2]));
    else if (product[3]) stated.push(all);
  }
  for (const b of rest.matchAll(/[([]([^()[\]]*)[)\]]/g)) {
    const said = readStatedCount(b[1]);
    if (
      !said ||
      !/st|side|needle|all|total/.test(b[1]) ||
      ON_EACH.test(b[1]) ||
      SIDES_OF.test(b[1])
    )
      continue;
    if (said.perSide !== null && said.perSide > 0 && count % said.perSide === 0)
      sides ??= count / said.perSide;
    else if (said.perSide !== null && said.perSide > 0) stated.push(said.perSide);
    if (said.total !== null && /total|in\s+all|altogether/.test(b[1])) stated.push(said.total);
  }
  const loose = PER_SIDE.exec(rest.replace(/[([][^()[\]]*[)\]]/g, ' '));
  if (loose && !each && !sidesOf && sides === null) {
    const per = Number(loose[1]);
    if (per > 0 && count % per === 0) sides ??= count / per;
  }
  const over = OVER_NEEDLES.exec(rest);
  if (over && sides === null && /even|equal|divid|distribut|spread|arrang|share|split/.test(rest)) {
    const n = Number(over[1]);
    if (n > 1 && count % n === 0) sides = n;
  }
  const said =
    /(?:total(?:ling)?\s+(?:of\s+)?|=\s*|making\s+|giving\s+)(\d+)\s*(?:sts?|stitch(?:es)?)/.exec(
      rest,
    );
  if (said && Number(said[1]) !== count) stated.push(Number(said[1]));

  let places: readonly number[] = markers;
  let corners = false;
  if (markers.length === 0) {
    const set = markersOf(rest);
    if (set === 'corners') corners = true;
    else if (set) {
      places = placesOf(set, count) ?? [];
      if (places.length > 0) marks = true;
    } else if (ROUND_MARKER.test(rest)) marks = true;
  }
  let join = /\bjoin|twist|möbius|mobius|moebius/.test(rest) ? readJoin(rest) : null;
  if (/(?:plus|\+|and)\s+1\s+extra/.test(rest)) join ??= { method: 'extra', halfTurns: 0 };
  else if (/\b1\s+extra|\bextra\s+(?:1|st)/.test(rest) && join?.method !== 'crossed') {
    count -= 1;
    join ??= { method: 'extra', halfTurns: 0 };
  }
  return {
    count,
    sides,
    markers: places,
    cornerMarkers: corners,
    roundMarker: marks,
    join,
    stated,
  };
}

/** Places of markers, in loops cast on before each; null where they are absurd. */
export function placesOf(
  set: { readonly every: number } | { readonly at: readonly number[] },
  count: number,
): number[] | null {
  if ('at' in set) {
    const at = set.at.filter((n) => n > 0 && n < count);
    return at.length > 0 ? at : null;
  }
  const { every: by } = set;
  if (!(by > 0) || count / by > 1000) return null;
  const out: number[] = [];
  for (let at = by; at < count; at += by) out.push(at);
  return out;
}

interface Placed {
  readonly markers: number[];
  readonly roundMarker: boolean;
  readonly total: number | null;
  /** How often the same part is cast on. */
  readonly repeated: number | null;
}

/** `CO 30, pm, CO 30, pm`, `(CO 40, pm) 4 times`, `*CO 40, pm; rep from * 3 more times` */
function placedWhileCasting(text: string, m: RegExpExecArray): Placed {
  const none: Placed = { markers: [], roundMarker: false, total: null, repeated: null };
  if (!/\bpm\b|\bmarker/.test(text)) return none;
  // "16 sts as follows: 3 sts, pm, 2 sts, pm, 11 sts"
  const spread = [
    ...text
      .slice(m.index + m[0].length)
      .matchAll(/(\d+)\s*(?:sts?|stitch(?:es)?)?\s*,?\s*(pm\b|place\s+(?:a\s+)?marker)?/g),
  ];
  const shares = spread.map((p) => Number(p[1]));
  const given = Number(m[1]);
  if (
    shares.length > 1 &&
    spread.slice(0, -1).every((p) => p[2]) &&
    shares.reduce((a, b) => a + b, 0) === given
  ) {
    let sum = 0;
    const markers = shares.slice(0, -1).map((n) => {
      sum += n;
      return sum;
    });
    return { markers, roundMarker: false, total: given, repeated: null };
  }
  const parts = [...text.matchAll(/(?:cast\s*-?on|co)\s+(\d+)/g)].map((p) => Number(p[1]));
  if (parts.length > 1) {
    let sum = 0;
    const markers: number[] = [];
    // "CO 40 sts: CO 20, pm, CO 20" gives the total first.
    const later = parts.slice(1).reduce((all, part) => all + part, 0);
    if (parts.length > 2 && parts[0] === later) parts.shift();
    for (const part of parts) {
      if (sum > 0) markers.push(sum);
      sum += part;
    }
    return {
      markers,
      roundMarker: /(?:pm|marker)\b[^\d]*$/.test(text),
      total: sum,
      repeated: null,
    };
  }
  const rest = text.slice(m.index + m[0].length);
  const again = /[([]\s*$/.test(text.slice(0, m.index))
    ? /[)\]]\s*(?:x\s*)?(\d+|once|twice)/.exec(rest)
    : null;
  const star = /rep(?:eat)?\.?\s+(?:from\s+)?\*\s*(?:another\s+)?(\d+|once|twice)/.exec(rest);
  const found = again ?? star;
  if (!found) return none;
  const times = found[1] === 'once' ? 1 : found[1] === 'twice' ? 2 : Number(found[1]);
  const n = times + (again ? 0 : 1);
  if (n <= 1 || n > 1000) return none;
  const part = Number(m[1]);
  return {
    markers: Array.from({ length: n - 1 }, (_, i) => (i + 1) * part),
    roundMarker: true,
    total: n * part,
    repeated: n,
  };
}
