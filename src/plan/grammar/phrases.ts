/**
 * Phrases that many sentences share: units, stitches by their names, numbers, lengths, names of rounds. In: a cursor at the
 * phrase. Out: its meaning, the cursor behind it; null and the cursor unmoved otherwise.
 */
import { LENGTH_UNITS, ROUND_WORDS, ROW_WORDS, STITCH_WORDS } from '../lexicon/words.ts';
import { readStatedCount, type StatedCount } from './steps/stated-counts.ts';
import { type ReadStitch, readStitch } from './steps/stitch-words.ts';
import type { TokenCursor } from './token-cursor.ts';

/** `round`, `rnds.`, `row`; `r` counts only before a number. */
export function unit(c: TokenCursor): 'round' | 'row' | null {
  if (c.eatWord(ROUND_WORDS)) return 'round';
  return c.eatWord(ROW_WORDS) ? 'row' : null;
}

export function isUnit(c: TokenCursor, ahead = 0): boolean {
  return c.isWord(ROUND_WORDS, ahead) || c.isWord(ROW_WORDS, ahead);
}

/** `sts`, `stitches`, `loops` */
export function eatStitches(c: TokenCursor): boolean {
  return c.eatWord(STITCH_WORDS) !== null;
}

/** A stitch by its name, or by one that the text gives it; nothing behind the cursor's end belongs to it. */
export function eatStitch(c: TokenCursor): ReadStitch | null {
  const at = c.from();
  const text = c.done ? '' : c.slice(c.i, c.end);
  const own = text === '' ? null : c.own?.matchAt(text, 0);
  const end = own?.name.length ?? 0;
  const named = own?.kind ? { name: own.kind, amount: null, end, doubt: '', spelled: false } : null;
  const read = named ?? (text === '' ? null : readStitch(text, 0));
  while (read && !c.done && c.from() - at < read.end) c.i++;
  return read;
}

/** `12`, `2.5`, `7 3/4`, `1/2`, `5,5` */
export function plainNumber(c: TokenCursor): number | null {
  const whole = c.number();
  if (whole === null) return null;
  const slash = (ahead: number): boolean =>
    c.isNumber(ahead) && c.here(ahead + 1) === '/' && c.isNumber(ahead + 2);
  if (c.mark('/') && c.isNumber(1) && whole < 10) {
    const under = c.peek(1)?.value ?? 1;
    if (under > 1 && under < 10) {
      c.i += 2;
      return whole / under;
    }
  }
  if (slash(0) || (c.mark('-') && slash(1))) {
    if (c.mark('-')) c.i++;
    const part = (c.peek(0)?.value ?? 0) / (c.peek(2)?.value || 1);
    c.i += 3;
    return whole + part;
  }
  if (c.mark(',') && c.isNumber(1) && !c.peek(1)?.spaced && !c.peek()?.spaced) {
    const digits = c.here(1);
    c.i += 2;
    return Number(`${whole}.${digits}`);
  }
  return whole;
}

/** What is told in mm below it is a needle, not a length. Chosen: the thickest that are sold are 25 mm. */
export const THICKEST_NEEDLE_MM = 26;

/** A length with its unit, mm. */
export function length(c: TokenCursor): number | null {
  return c.attempt(() => {
    const n = plainNumber(c);
    if (n === null) return null;
    c.eatMark('-');
    const unitMm = LENGTH_UNITS[c.mark('"') ? '"' : c.word()];
    if (unitMm === undefined || (unitMm === 1 && n < THICKEST_NEEDLE_MM)) return null;
    // "in" is an inch only where no word follows that it belongs to.
    const after = c.peek(1);
    const inch =
      /^(?:from|long|wide|of|high|deep|square|has|have|and|then|ending|measured|tall|above|or|before|beyond|in)$/;
    if (c.word() === 'in' && after?.kind === 'number') return null;
    if (c.word() === 'in' && after?.kind === 'word' && !inch.test(after.text)) return null;
    c.i++;
    // "5 cm / 2 in", "5 cm (2 in)": the first holds.
    const start = c.i;
    const open = c.eatMark('([');
    if (open || c.eatMark('/')) {
      const other = plainNumber(c);
      c.eatMark('-');
      const again = LENGTH_UNITS[c.mark('"') ? '"' : c.word()];
      if (other !== null && again !== undefined) {
        c.i++;
        if (open) c.eatMark(')]');
      } else c.i = start;
    }
    return n * unitMm;
  });
}

/** `(120 sts)`, `[30 sts each side]`: the text of a bracket that only states a count. */
export function bracketedCount(c: TokenCursor): StatedCount | null {
  if (!c.mark('([')) return null;
  const close = c.closing(40);
  if (close < 0) return null;
  const count = readStatedCount(c.slice(c.i + 1, close));
  if (!count) return null;
  c.i = close + 1;
  return count;
}

/** A name in one spelling: `dec rnd` and `decrease round` are the same round. */
export function roundName(words: string): string {
  return words
    .trim()
    .replace(/\bdec(?:r?easing|r?|s)?\b\.?/g, 'decrease')
    .replace(/\binc(?:reasing|r?|s)?\b\.?/g, 'increase')
    .replace(/\bset[\s-]*up\b/g, 'set-up')
    .replace(/\b(?:the|a|this|that)\s+/g, '')
    .replace(/\s+/g, ' ');
}

/** Words that begin no name of a round. */
const NO_NAME =
  /^(?:rep|repeat|follow|use|apply|insert|work|do|doing|alternate|alternating|like|knit|knitting|purl|purling|k|p|these|those|every|each|all|until|for|cont|continue|bind|cast|join|turn|in|at|of|to|from|with|and|between|same|as|note|a|an|the|when|after|before|by|you|if|count|worked|on|start|starting|beg|begin|beginning|using|next|last|previous|first|this|other|alternate|alt|following|foll|even|odd|or|more|times|pattern|complete|further|additional|then|plain|end|around|across|till|through|thru|single)$/;

/** Words that join others, within no name: "going like rounds 4 and 5". */
const JOINS = /^(?:like|as|of|with|in|on|only|these|those|all|every)$/;

/** One to three words before a unit: "decrease", "set-up", "1st dec". */
export function nameBeforeUnit(c: TokenCursor, most = 3): string | null {
  return c.attempt(() => {
    const start = c.i;
    for (let n = 0; n <= most; n++) {
      if (n > 0 && isUnit(c)) return roundName(c.slice(start, c.i));
      const t = c.peek();
      if (!t) return null;
      if (t.kind === 'ordinal' && n === 0) {
        c.i++;
        continue;
      }
      if (t.kind !== 'word') return null;
      const pattern = t.text === 'pattern' && isUnit(c, 1);
      if ((n === 0 ? NO_NAME : JOINS).test(t.text) && !pattern) return null;
      c.i++;
      for (let k = 0; k < 4 && c.mark('-/') && c.peek(1)?.kind === 'word'; k++) c.i += 2;
    }
    return null;
  });
}
