/**
 * What stands between what a label names and its mark: the side a row faces, a count, a remark. In: a cursor. Out:
 * the extras filled, the cursor behind them.
 */
import type { Parity } from '../../ast.ts';
import { colourName, readColour } from '../../colours.ts';
import { roundName } from '../../phrases.ts';
import { ownRound } from '../../round-names.ts';
import { says } from '../../rules.ts';
import { type Fabric, readFabric } from '../../steps/patterns.ts';
import { readStatedCount, type StatedCount } from '../../steps/stated-counts.ts';
import { readStitch } from '../../steps/stitch-words.ts';
import type { TokenCursor } from '../../token-cursor.ts';
import { isStitchWord } from '../../word-law.ts';
import { parityOf } from './head.ts';

export interface Extras {
  side: 'RS' | 'WS' | null;
  stated: StatedCount | null;
  again: boolean;
  colour: string | null;
  rule: Parity | null;
  /** What the round is called besides its number. */
  called?: string;
  /** The fabric that it is said to be. */
  fabric?: Fabric;
}

/** Sides, counts and remarks behind what a label names. */
export function readExtras(c: TokenCursor, x: Extras): void {
  for (;;) {
    const start = c.i;
    if (c.phrase('inclusive|incl') || c.phrase('as follows') || says(c, '( of|out # )')) continue;
    if (readSide(c, x)) continue;
    c.i = start;
    if (c.takes(() => says(c, ORDERS_THUS) !== null && c.mark(':'))) continue;
    // "2nd row (right side), colour B:", "Row 4 with A:"
    const led = c.attempt(() => {
      c.eatMark(',-');
      const name = readColour(c) ?? colourName(c);
      return name && c.mark(':') ? name : null;
    });
    if (led) {
      x.colour = led;
      continue;
    }
    const fabric = c.attempt(() => fabricNamed(c));
    if (fabric) {
      x.fabric = fabric;
      continue;
    }
    if (!c.mark('([')) return;
    const close = c.closing(30);
    if (close < 0) return;
    const inside = c.slice(c.i + 1, close);
    const called = calledInside(c, close);
    if (called) {
      x.called = called;
      c.i = close + 1;
      continue;
    }
    // "Next rd. (K. 2 tog.) 8 times."
    if (/\d|^ss|^yo/.test(inside.trim()) && readStitch(inside.trim(), 0)) return;
    const count = readStatedCount(inside);
    const ruled = c.attempt(() => {
      const end = c.end;
      c.i++;
      c.end = close;
      c.phrase('and') || c.eatMark('&');
      const got = c.phrase('all|every|each') ? parityOf(c.slice(c.i, close)) : null;
      c.end = end;
      return got;
    });
    const words = /^[a-z ,.'/&-]+$/.test(inside) && !/^\s*[kp]\s*$/.test(inside);
    const colour = c.attempt(() => {
      c.i++;
      const led = readColour(c) ?? colourName(c);
      return led && c.i === close ? led : null;
    });
    if (colour) x.colour = colour;
    else if (ruled) x.rule ??= ruled;
    else if (count) x.stated ??= count;
    else if (/^\s*(?:repeat|again)/.test(inside)) x.again = true;
    else if (words && !/\b(?:ssk|yo|pm|sm|kfb|k|p)\b/.test(inside)) {
      if (/\bws\b|wrong/.test(inside)) x.side = 'WS';
      else if (/\brs\b|right side/.test(inside)) x.side = 'RS';
    } else if (
      !/^[a-z\s]*(?:rounds?|rnds?|rows?)?\s*\d+(?:\s*(?:,|-|and)\s*\d+)*[a-z\s]*$/.test(inside) &&
      !(
        /\b(?:dec|inc|shaping|sts?|corner)/.test(inside) &&
        readStatedCount(inside.replace(/^.*[;,]/, ''))
      )
    ) {
      return;
    } else {
      const late = readStatedCount(inside.replace(/^.*[;,]/, ''));
      if (late && /;|,/.test(inside)) x.stated ??= late;
    }
    c.i = close + 1;
  }
}

/** "Round 5 moss stitch:", "Row 3 (garter ridge):": what its stitches show. */
export function fabricNamed(c: TokenCursor): Fabric | null {
  const open = c.eatMark(',-([');
  c.phrase('in');
  const fabric = says(c, 'ridge|ridges') ? ({ rule: 'garter' } as const) : readFabric(c);
  if (open && '(['.includes(open) && !c.eatMark(')]')) return null;
  return fabric && fabric.rule !== 'set' && fabric.rule !== 'knits' && c.mark(':') ? fabric : null;
}

/** "(corner round)" behind the mark of a label. */
export function readCalled(c: TokenCursor, x: Extras): void {
  const close = c.mark('([') ? c.closing(12) : -1;
  const called = close < 0 ? null : calledInside(c, close);
  if (!called) return;
  x.called = called;
  c.i = close + 1;
}

/** "(inc rnd)", "[the corner round]", "(= dec)": a name that the text gives the round; null where it is none. */
function calledInside(c: TokenCursor, close: number): string | null {
  const { i, end } = c;
  c.i++;
  c.end = close;
  says(c, '=? the|a|my|your');
  c.eatMark('=');
  const words = c.slice(c.i, close);
  const name = ownRound(c) ?? (c.own?.roundNames.has(roundName(words)) ? roundName(words) : null);
  const whole = name !== null && (c.done || roundName(words) === name);
  [c.i, c.end] = [i, end];
  return whole ? name : null;
}

/** ", straight after the decrease round that left 12" between a label and its colon. */
export function readAside(c: TokenCursor): true | null {
  if (!c.eatMark(',')) return null;
  if (
    !/^(?:which|the|this|straight|that|after|before|again|just|to|as|for|and|so|now)$/.test(
      c.word(),
    )
  )
    return null;
  for (let n = 0; n < 16; n++) {
    if (c.mark(':')) return n > 1 || null;
    const t = c.peek();
    if (!t || (t.kind === 'mark' && t.text !== '-') || isStitchWord(t)) return null;
    if (/^(?:knit|purl|k|p|knitting|purling|work|repeat|rep|needle|side|each|every)$/.test(t.text))
      return null;
    c.i++;
  }
  return null;
}

/** "is the first increase round", "is a decrease round": says again what the stitches show. */
export function readPredicate(c: TokenCursor): boolean {
  return (
    says(
      c,
      'is|will be? the|a|an|another|our|your|first|next|last|only|%* dec|decrease|decreasing|inc|increase|increasing|shaping|cable|crossing|corner|lace|eyelet|patterned @unit',
    ) !== null && c.mark('.:;')
  );
}

const SIDE_IS =
  'which|that|this|it|one|is|are|will|be|being|counts|worked|as|on|at|from|with|a|an|the|your|first|#*';
const IS = /\b(?:is|are|counts|will)\b/;
const OF_WORK = 'of the|your? work|knitting|piece|fabric|side|square';
const FACES = 'facing|faces? you|row|side|rows|round|#?';

/** `(RS)`, `/WS`, `- RS facing`, `, right side`, "is a wrong side row", ", on the back of the work" */
export function readSide(c: TokenCursor, x: Extras): boolean {
  return c.takes(() => {
    const open = c.mark('([') ? c.eatMark('([') : null;
    if (!open) c.eatMark(',-/');
    else c.eatMark('=');
    const { i } = c;
    says(c, SIDE_IS);
    const told = IS.test(c.slice(i, c.i));
    const w = c.word();
    if (!/^(?:rs|ws|right|wrong|reverse|back|front)$/.test(w)) return null;
    c.i++;
    c.eatMark('-');
    const side = w.length === 2 || c.phrase('side');
    // "Row 2, right …" may be how a stitch is worked.
    if (!says(c, OF_WORK) && !side && !(open && c.mark(')]'))) {
      const back = /^(?:reverse|back)$/.test(w) && /^(?:the|of)$/.test(c.word(-2)) && c.mark(':');
      if (!back) return null;
    }
    says(c, FACES);
    if (open && !c.eatMark(')]')) return null;
    // "The first row is a RS row." only tells; "Row 1 is a WS row. Knit it." asks.
    const asks = c.ahead(() => says(c, '.|! knit|purl|k|p|work it|this|across|all|every') !== null);
    if (told && !asks && (c.done || c.mark('.!'))) return null;
    x.side = /^(?:rs|right|front)$/.test(w) ? 'RS' : 'WS';
    return true;
  });
}

const THUS = 'as|like|in|follows|thus|this|so|the|following|way|manner';
/** ", decrease thus:", "you decrease for the first time:", "the decreases begin:" */
const ORDERS_THUS = `,|-|you|we|now|then|do|it|the|to|will|must* decrease|decreases|dec|decreasing|increase|increases|inc|work|proceed|knit|shaping|shape for|the|first|time|begin|begins|start|starts|go|goes|on|${THUS}*`;
