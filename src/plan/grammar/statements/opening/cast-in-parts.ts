/**
 * A cast-on told part by part: "25 sts, pm, cast on 25 more, pm …", "20 onto the first needle and 20 onto each of the other
 * three", "19 sts and a marker; do this four times". Each part is a number of stitches with its place before or behind it, markers
 * stand between them, and what stands so far may be said to come again. In: a cursor at the beginning of such a sentence. Out: the
 * parts and markers kept in the opening, the cursor behind them; null and nothing kept where there are not several.
 */
import { says, saysAny } from '../../rules.ts';
import type { TokenCursor } from '../../token-cursor.ts';
import type { Opening } from './opening.ts';

/** Most parts of a cast-on. Chosen: bounds the time. */
const MOST_PARTS = 100;

interface Parts {
  /** The first is told with its place. */
  placed: boolean;
  readonly segments: number[];
  /** Stitches before each marker. */
  readonly marked: number[];
}

const OTHERS = 'other|others|remaining|rest';
const OF_THE = 'of? the|your|these?';
/** Which one of them: "(first side)", "for the second needle", "on needle 2". */
const ONE_PLACE = [
  '( %|last|first|second|other @shared )',
  '@on|for the|your|a %|last|first|second|other|next|new|same? @shared',
  '@on|for @shared #|a|b|c|d',
  '@shared # :|-|=',
];
/** Every one of so many. */
const EACH_PLACE = [
  `@on|for each|every|all ${OF_THE} #parts double|pointed|equal|dp* @shared`,
  `per|a|each @shared @on|for? the? #parts @shared`,
];
const EACH_OTHER = [
  `@on|for each|every|all? ${OF_THE} ${OTHERS} #parts @shared?`,
  `@on|for each|every|all? ${OF_THE} #parts ${OTHERS} @shared?`,
];
const MARKER = [
  '@place|and? a|an|the|another|1? @markerkind* @marker ,|;|. again?',
  '@place|and? a|an|the|another|1? @markerkind* @marker between? them?',
];
const CAST = 'then|and|,* cast|casting|co|make on?';

/** A marker that stands here; one of which more is told ("pm of another colour") is that of the round. */
function marker(c: TokenCursor): boolean {
  return c.takes(() => saysAny(c, MARKER) !== null && !/^(?:of|which|for|at|to)$/.test(c.word()));
}

/** "and 25 more", "cast on 20 sts": a number of stitches; `adds`: it is said that they are cast on besides. */
function stitchesHere(c: TokenCursor): { n: number; adds: boolean } | null {
  return c.attempt(() => {
    const { i } = c;
    says(c, CAST);
    says(c, 'another|a|further|also|again|the|last|final*');
    const led = c.i > i;
    const n = c.number();
    if (n === null || !Number.isInteger(n) || n < 1) return null;
    const { i: behind } = c;
    says(c, 'more|further|additional? @sts more|again?') ?? says(c, 'more|further');
    return { n, adds: led || /\b(?:more|further)\b/.test(c.slice(behind, c.i)) };
  });
}

/** The parts so far come again: how often more. */
function againHere(c: TokenCursor, one: boolean): number | null {
  return c.attempt(() => {
    says(c, 'and|then|,* rep|repeat|repeating|do|doing from? *? this|that|these|it|the|same|both*');
    const again = c.i;
    const same = /^(?:same|this|that|it|these|rep|repeat|repeating|do)$/.test(c.here(-1));
    const others = saysAny(c, EACH_OTHER);
    if (others && same) return others.find((n) => n !== null) ?? null;
    c.i = again;
    const more = says(c, 'another? #more more|further|other times|time?');
    if (more && same) return more[0];
    if (says(c, 'once|one more|again time?') && same) return 1;
    if (says(c, 'twice|thrice more the? same?') && (same || c.here(-1) === 'same'))
      return c.slice(again, c.i).startsWith('twice') ? 2 : 3;
    // "do this four times": in all
    const all = says(c, '#all times in? all|total|altogether?');
    return all && same && one ? (all[0] ?? 0) - 1 : null;
  });
}

function repeatParts(p: Parts, more: number): boolean {
  const { segments, marked } = p;
  const size = sum(segments);
  if (more < 1 || (more + 1) * segments.length > MOST_PARTS) return false;
  const once = { segments: [...segments], marked: [...marked] };
  for (let k = 1; k <= more; k++) {
    segments.push(...once.segments);
    marked.push(...once.marked.map((n) => n + k * size));
  }
  return true;
}

const sum = (list: readonly number[]): number => list.reduce((a, b) => a + b, 0);

/** A part, with its place on either side; false where none stands here. */
function partHere(c: TokenCursor, p: Parts): boolean {
  return c.takes(() => {
    const sofar = sum(p.segments);
    says(c, 'and|then|,*');
    const lead = saysAny(c, EACH_OTHER) ?? saysAny(c, EACH_PLACE);
    const before = lead ?? saysAny(c, ONE_PLACE);
    c.eatMark(',');
    const found = stitchesHere(c);
    if (!found) return null;
    const { n, adds } = found;
    const behind = lead ?? saysAny(c, EACH_OTHER) ?? saysAny(c, EACH_PLACE);
    const placed = behind ?? before ?? saysAny(c, ONE_PLACE);
    // "16 sts per side" is a share, "64 sts: 16 sts, 16 sts …" a list of them, "100 sts in all" their sum.
    if (
      !placed &&
      /^(?:per|each|every|on|onto|in|for|apart|mm|cm|x|times|altogether|total|to)$/.test(c.word())
    )
      return null;
    if (p.segments.length === 0) p.placed = placed !== null;
    else if (!adds && !p.placed && p.marked.at(-1) !== sofar) return null;
    const parts = behind?.find((k) => k !== null) ?? 1;
    if (parts > MOST_PARTS || p.segments.length + parts > MOST_PARTS) return null;
    for (let k = 0; k < parts; k++) p.segments.push(n);
    return true;
  });
}

/** Parts up to the end of the list, and the bracket around them where they are worked again. */
function partsHere(c: TokenCursor): Parts | null {
  const p: Parts = { placed: false, segments: [], marked: [] };
  let behind = c.i;
  let repeated = false;
  while (!c.done && p.segments.length < MOST_PARTS) {
    says(c, ',|;|&|and|then*');
    if (c.eatMark('.') && !/^(?:pm|place|cast|co|repeat|rep|do)$/.test(c.word())) break;
    const open = c.attempt(() => {
      says(c, CAST);
      return c.mark('([') ? bracketed(c) : null;
    });
    if (open) {
      const before = sum(p.segments);
      p.segments.push(...open.segments);
      p.marked.push(...open.marked.map((n) => n + before));
      repeated = true;
    } else if (p.segments.length > 0 && marker(c)) {
      p.marked.push(sum(p.segments));
    } else {
      const more = p.segments.length > 0 ? againHere(c, !repeated) : null;
      if (more !== null) {
        if (!repeatParts(p, more)) return null;
        repeated = true;
      } else if (!partHere(c, p)) break;
    }
    behind = c.i;
    if (isTotal(c, sum(p.segments))) break;
  }
  c.i = behind;
  if (p.segments.length > 1) eatTotal(c, sum(p.segments));
  return p.segments.length > 1 ? p : null;
}

/** The sum of the parts behind them: "…: 100 sts", "until there are 100 sts", "100 sts cast on". */
function eatTotal(c: TokenCursor, all: number): boolean {
  return c.takes(() => {
    says(
      c,
      '.|,|;|:|-|=|(|and|that|is|in|all|making|giving|for|a|total|of|until|there|are|you|have|so*',
    );
    if (c.number() !== all) return null;
    says(c, '@sts? in? all|total|altogether? cast? on?');
    c.eatMark(')');
    return true;
  });
}

function isTotal(c: TokenCursor, all: number): boolean {
  return c.ahead(() => eatTotal(c, all));
}

/** "[20 sts, pm] three times", "(20, pm) x 3" */
function bracketed(c: TokenCursor): Parts | null {
  return c.attempt(() => {
    const close = c.closing();
    if (close < 0) return null;
    const { end } = c;
    c.i++;
    c.end = close;
    const p: Parts = { placed: false, segments: [], marked: [] };
    const found = partHere(c, p);
    says(c, ',|;|and*');
    if (found && marker(c)) p.marked.push(sum(p.segments));
    const whole = found && c.i === close;
    c.end = end;
    if (!whole) return null;
    c.i = close + 1;
    const times = says(c, 'x #') ?? says(c, '# times|x');
    return times && repeatParts(p, (times[0] ?? 0) - 1) ? p : null;
  });
}

/** Keeps a cast-on that is told in several parts; the cursor stands behind them. */
export function castInParts(c: TokenCursor, o: Opening): boolean {
  return c.takes(() => {
    const p = partsHere(c);
    if (!p) return null;
    const { segments, marked } = p;
    const all = sum(segments);
    o.cast.push(all);
    if (segments.every((n) => n === segments[0])) o.parts ??= segments.length;
    o.marked.push(...marked);
    if (marked.at(-1) === all) o.roundMarker = true;
    return true;
  });
}
