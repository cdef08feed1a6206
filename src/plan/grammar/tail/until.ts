/**
 * Where a sentence stops: "until 8 sts remain", "down to 12 sts", "until piece measures 10 cm", "until 36 rounds
 * have been worked". In: a cursor and the tail read so far. Out: true where something was read and kept.
 */
import { LENGTH_UNITS, SIDE_WORDS, STITCH_WORDS } from '../../lexicon/words.ts';
import { eatStitches, isUnit, length, unit } from '../phrases.ts';
import { type Numbers, says, saysAny } from '../rules.ts';
import type { TokenCursor } from '../token-cursor.ts';
import { atRound, eachSideToo, inAllToo } from './counts-beside.ts';
import { readEndBefore } from './end-round.ts';
import { readWhatItIs } from './last-round.ts';
import { type OpenTail, readOnce } from './open-tail.ts';
import { readUntilStitches } from './until-stitches.ts';

const UNTIL_WORDS =
  /^(?:there|are|is|were|you|we|have|has|had|only|just|merely|a|an|total|of|the|last|it|left|with|reach|reached|remaining|your|been|get|got|number|exactly|precisely|about|approx|approximately|measures?|measuring|meas|height|depth|becomes?|counts?|piece|work|knitting|fabric|square|tube|band|border|rib|ribbing|section|length|reaches|from|be|that|which|final|decreased|increased|worked|shaped|times|repeated|in|all|rem|remain|down|to|garter|side|edge|stitch|stitches|st|sts|count|until|body|crown|on|needles?|stocking|stockinette|as|long|decrease|decreasing|increase|increasing|round|rnd|row|last|left|made|gives|given|leaves|brings|brought|reduced|no|more|than|fewer|down|back|at|come|again|so|many|one|obtains?|gets|n|i|was|still|over|holds?|done|them|these|those|pattern|repeat|repeats|sequence|in|both|nothing|but|going|goes|cut|shrunk|fallen|grown|risen|now)$/;

/** ". Stop when 16 sts are left" */
const STOP_WHEN = ['and? stop|end|finish? when|once', 'and? stop|end|finish? as soon as'];

const UP_TO =
  'with|to|through|and|including|after|the|end|of|you|have|reach|reached|worked|completed|finish|finished|done*';

/** "till round 22", "up to and including row 30", "as far as rnd 13" */
function readUntilRound(c: TokenCursor, tail: OpenTail): boolean {
  if (tail.untilStitches !== null && /^(?:end|finish)/.test(c.word())) return false;
  return c.takes(() => {
    const to =
      says(
        c,
        `until|till|til|to|through|thru|up|ending|finishing|end ${UP_TO} round|rnd|row|r|rounds|rows #`,
      ) ??
      says(c, `until|till|til|to|up ${UP_TO} % @unit`) ??
      says(c, 'as far as and|including|the* round|rnd|row|r #') ??
      says(c, 'as far as and|including|the* % @unit') ??
      barely(c);
    const [n] = to ?? [];
    if (n == null || !Number.isInteger(n) || c.isWord(STITCH_WORDS)) return null;
    says(c, '(|,? included|inclusive|incl )?');
    says(c, 'is|has|have|been|are* finished|completed|worked|done|reached|knit|knitted|complete');
    tail.untilRound = n;
    readWhatItIs(c, tail);
    return true;
  });
}

/** "as far as the 14th", "up to and including the 22nd": a round by its number alone. */
function barely(c: TokenCursor): Numbers | null {
  return c.attempt(() => {
    const n =
      says(c, 'as far as and|including|with|the* %') ??
      says(c, `until|till|til|to|through|up ${UP_TO} %`);
    return n && (c.done || c.mark('.,;)(') || c.word() === 'inclusive') ? n : null;
  });
}

export function readUntil(c: TokenCursor, tail: OpenTail): boolean {
  return readOnce(c, tail, () => readEnd(c, tail));
}

function readEnd(c: TokenCursor, tail: OpenTail): boolean {
  if (tail.untilRound === null && readUntilRound(c, tail)) return true;
  if (readUntilStitches(c, tail)) return true;
  const start = c.i;
  const when = c.takes(
    () => c.eatMark('.;,') !== null && saysAny(c, STOP_WHEN) !== null && !c.phrase('necessary'),
  );
  // "19 more rounds, or until the piece measures 5 cm"
  const either = c.takes(() => says(c, ',|(? or until|till|til') !== null && upToLength(c));
  const until = either || when || c.phrase('until|till|til');
  const downTo =
    !until &&
    (c.phrase('down|up to') ||
      (!/^(?:last|first)$/.test(c.word(c.word(1) === 'the' ? 2 : 1)) &&
        tail.untilStitches === null &&
        c.phrase('leaving')) ||
      c.phrase('to leave') ||
      (c.word() === 'to' && c.isNumber(1) && c.phrase('to')));
  if (!until && !downTo) return false;
  const told = when && !/\b(?:stop|end|finish)/.test(c.text.slice(c.tokens[start].from, c.from()));
  const read = condition(c, tail, until, start);
  // ". When 16 rounds are complete there are 48 sts": of all.
  tail.fromStart ||= told && tail.untilRounds !== null;
  // "When you have worked a decrease round that leaves 48 stitches, stop."
  if (read && when)
    c.takes(
      () =>
        says(c, ',? stop|finish|end') !== null && !/^(?:after|with|on|having|by)$/.test(c.word()),
    );
  return read;
}

/** "there are 16 sts left", "you have worked a RS row and 10 sts remain": what has to be so. */
export function readCondition(c: TokenCursor, tail: OpenTail): boolean {
  return condition(c, tail, true, c.i);
}

/** `until`: said of the piece as it is then, not of the number it goes down to; `start`: where the phrase begins. */
function condition(c: TokenCursor, tail: OpenTail, until: boolean, start: number): boolean {
  let each = false;
  let piece =
    says(
      c,
      'the? height|depth|length|work|piece|it from|above the? cast on? edge? is|measures|reaches',
    ) !== null;
  for (let n = 0; n < 12; n++) {
    if (c.mark('=') && c.isNumber(1)) c.i++;
    if (until && says(c, 'from|above the? cast on edge')) piece = true;
    if (until && tail.endWith === null && readEndBefore(c, tail)) continue;
    const from = c.i;
    // "until each side has 18 stitches"
    if (
      until &&
      (says(
        c,
        'each|every of? the|your? #? @shared has|have|is|are|holds|contains|counts|carries',
      ) ??
        says(c, 'on|in|at|for|per each|every of? the|your? #? @shared') ??
        says(c, 'per @shared'))
    ) {
      tail.parts = partsIn(c.slice(from, c.i));
      each = true;
      continue;
    }
    if (until && andSo(c)) continue;
    // "until these 2 rounds have been worked 8 times"
    if (until && workedSoOften(c)) continue;
    if (c.isNumber() && until && readUntilRounds(c, tail)) return true;
    if (c.isNumber()) {
      const mm = length(c);
      if (mm !== null) {
        tail.untilMm = mm;
        tail.fromStart = piece;
        fromWhere(c, tail);
        return true;
      }
      break;
    }
    if (c.peek()?.kind !== 'word' || !UNTIL_WORDS.test(c.word())) break;
    if (/^(?:piece|work|it|square|knitting|fabric|tube)$/.test(c.word())) piece = true;
    if (!until && n > 2) break;
    c.i++;
  }
  const count = c.number() ?? (until ? single(c) : null);
  if (count === null || !Number.isInteger(count)) {
    c.i = start;
    if (!until) return false;
    // Something decides how long that can't be read.
    tail.open = true;
    return false;
  }
  const counted = eatStitches(c);
  if (!until) {
    if (!counted && !c.done && !c.mark('.;,')) return c.back(start, false);
    // "leaving 4 sts unworked" leaves no such count.
    if (c.phrase('before|from|of|past|unworked|unknitted')) return c.back(start, false);
  }
  // "until 64 sts have been decreased" tells no count that is left.
  const butThose = /\ball but\b/.test(c.text.slice(c.tokens[start].from, c.from()));
  if (!butThose && says(c, 'have|has|are|were* been? decreased|increased|lost|gained|added')) {
    c.i = start;
    tail.open = true;
    return false;
  }
  // "21 sts between corner sts": a side is those and its corner.
  const cornered = until && says(c, BETWEEN_CORNERS) !== null;
  tail.untilStitches = count + (cornered ? 1 : 0);
  const behind = c.i;
  const perSide = restOfCount(c);
  if (perSide) tail.parts = partsIn(c.slice(behind, c.i));
  tail.perSide = cornered || perSide || each;
  if (tail.perSide) inAllToo(c, tail);
  else eachSideToo(c, tail, count);
  atRound(c, tail);
  return true;
}

const BETWEEN_CORNERS =
  'lie|lies|are|is|stand|remain|left? between the|each|every|all|any|pair|of|two|one|your|#* corner|marked @sts and|the|next|one|other|another|following*';

/** "in each of the 6 divisions", "in each section" */
function partsIn(words: string): OpenTail['parts'] {
  const n = Number(/\b(?:each|every|all) (?:of )?(?:the |your )?(\d+) /.exec(words)?.[1]);
  if (n > 1) return n;
  return /\b(?:division|section|wedge|segment|panel|field|repeat)s?\b/.test(words)
    ? 'repeat'
    : null;
}

/** "a single stitch" */
function single(c: TokenCursor): number | null {
  return c.takes(() => says(c, 'a|one|only|just* single|lone|solitary') && c.isWord(STITCH_WORDS))
    ? 1
    : null;
}

/** "you are knitting 2 together all the way round and" before the count that is left. */
function andSo(c: TokenCursor): boolean {
  return c.takes(() => {
    if (
      !says(
        c,
        'you|we|i have|are|had|just* done|worked|knit|knitted|working|knitting|doing|decreasing',
      )
    )
      return null;
    for (let n = 0; n < 14 && !c.done && !c.mark('.;,'); n++) {
      const at = c.i;
      if (says(c, 'and there|you|only|are|have|just* # @sts')) {
        c.i = at + 1;
        return true;
      }
      // "you have worked 20 rounds in all and have 66 sts"
      if (c.isNumber() && isUnit(c, 1)) return null;
      c.i++;
    }
    return null;
  });
}

/** "the 2 rounds have been worked", with how often behind it. */
function workedSoOften(c: TokenCursor): boolean {
  return c.takes(
    () =>
      says(
        c,
        'the? #? @unit|decreases|decrease|increases|increase|shaping have|has|are|is|been* worked|done|repeated|knitted|made',
      ) !== null &&
      c.isNumber() &&
      /^times?$/.test(c.word(1)),
  );
}

/** "until 36 rows have been worked in all", "until you have decreased a total of 9 times" */
function readUntilRounds(c: TokenCursor, tail: OpenTail): boolean {
  return c.takes(() => {
    const n = c.number();
    if (n === null || !Number.isInteger(n)) return null;
    c.phrase('more|further|additional');
    if (c.phrase('times')) {
      tail.times = n;
      tail.total = true;
      tail.more = false;
      says(c, 'in? all told|total?') ?? says(c, 'altogether');
      return true;
    }
    // "until you have worked 8 decrease rounds in all"
    if (says(c, 'dec|decrease|decreasing|inc|increase|increasing|shaping @unit')) {
      tail.times = n;
      tail.total = true;
      c.phrase('in all|total') || c.phrase('altogether');
      return true;
    }
    const ridges = c.phrase('garter? ridge|ridges');
    // "50 moss rows", "50 of them"
    if (!ridges)
      c.takes(() => says(c, 'moss|seed|pattern|patt|rib|lace|cable|such') !== null && isUnit(c));
    if (!ridges && !unit(c) && !says(c, 'of them|these|those|it')) return null;
    c.phrase('more|further');
    const before = c.phrase('in all|total') || c.phrase('altogether|total');
    if (!c.phrase('have|has|are been? worked|done|completed|complete|finished|knitted|made'))
      c.phrase('worked|in');
    tail.untilRounds = ridges ? 2 * n : n;
    if (ridges) says(c, 'on the? right|rs side?');
    bracketedRounds(c);
    tail.fromStart = before || c.phrase('in all|total') || c.phrase('altogether|total');
    if (c.phrase('from the?') || c.phrase('since|after|above the?')) {
      tail.fromStart = c.phrase('cast on edge?') || c.phrase('co|beginning|start|beg edge?');
      if (!tail.fromStart) c.phrase('rib|ribbing|border|edge|edging|marker|last|garter|cable');
    }
    // "… and have 66 sts"
    const left = says(c, ',|and|with|you|there|so* have|has|are|with # @sts left|remaining?')?.[0];
    if (left != null) eachSideToo(c, tail, left);
    if (left != null) tail.stated ??= { total: left, perSide: null, change: null };
    return true;
  });
}

/** "(40 rows)" behind ridges. */
function bracketedRounds(c: TokenCursor): void {
  says(c, '( # @unit )');
}

/** "remain on each needle": passes the words behind a count; true where it is that of one side. */
function restOfCount(c: TokenCursor): boolean {
  let perSide = false;
  for (let n = 0; n < 14; n++) {
    const w = c.word();
    if (
      /^(?:remain|remains|remaining|rem|are|is|was|were|left|on|in|total|all|sizes|the|needles?|dpns?|wires|pins|sticks|altogether|have|been|be|worked|off|over|hook|cable|round|rnd|row|unworked|only|still|at|top|centre|center|there|live|your|that|rest|alone)$/.test(
        w,
      ) &&
      !(perSide && n === 0)
    ) {
      if (isUnit(c) && (!/^(?:the|in|on)$/.test(c.word(-1)) || c.isNumber(1))) break;
      c.i++;
      continue;
    }
    if (/^(?:between|each|per|every|a)$/.test(w)) {
      const start = c.i;
      c.i++;
      while (/^(?:each|every|of|the|two|pair|a|both)$/.test(c.word()) || c.isNumber()) c.i++;
      if (
        c.isWord(SIDE_WORDS) ||
        /^(?:markers?|m|decs?|decreases?|sections?|corners?)$/.test(c.word())
      ) {
        c.i++;
        perSide = true;
        continue;
      }
      c.i = start;
      // "is left on each, 4 in all"
      if (w === 'each' && (c.i + 1 >= c.end || c.mark('.,;(', 1))) {
        c.i++;
        perSide = true;
      }
    }
    break;
  }
  // "8 sts remain in round 18", "at the 18th round": which round it is.
  const named = isUnit(c) || c.peek()?.kind === 'ordinal';
  while (named && /^(?:on|in|at|the|your|over|that)$/.test(c.word(-1))) c.i--;
  return perSide;
}

/** Passes the words behind a length, and notes whether it is measured from the cast-on. */
export function fromWhere(c: TokenCursor, tail: OpenTail): void {
  c.phrase('in length|depth|height|all|total') || c.phrase('long|deep|high|wide|tall|altogether');
  c.takes(() => says(c, ',|(? measured|measuring|counted') !== null && c.word() === 'from');
  const start = c.i;
  if (!c.phrase('from|above|measured|over')) return;
  for (let n = 0; n < 8 && c.peek()?.kind === 'word'; n++) {
    const w = c.word();
    if (/^(?:cast|co|beg|beginning|start|edge|bottom|lower)$/.test(w)) tail.fromStart = true;
    else if (/^(?:here|markers?|last|this|point|rib|border|garter|first|end)$/.test(w))
      tail.fromStart = false;
    else if (!/^(?:the|from|on|of|very|to|decrease|dec|round|row|rnd|and)$/.test(w)) break;
    c.i++;
    c.eatMark('-');
  }
  if (c.i === start + 1) c.i = start;
  else says(c, 'has|have|is been? reached|obtained|attained|made');
}

/** A length stands before the sentence ends. */
function upToLength(c: TokenCursor): boolean {
  for (let n = 0; n < 12 && !c.done && !c.mark('.;'); n++)
    if (c.isNumber(n) && LENGTH_UNITS[c.word(n + 1)] !== undefined) return true;
  return false;
}
