/**
 * Lists of numbers that name rounds: "1-4", "2, 4 and 6", "3, 5, 7 … 21", "1st-3rd". In: a cursor at the list. Out: its numbers in
 * order, the cursor behind it; null and the cursor unmoved where the numbers count something else.
 */
import { STITCH_WORDS, words } from '../lexicon/words.ts';
import type { RoundsRef } from './ast.ts';
import { isUnit } from './phrases.ts';
import { says } from './rules.ts';
import type { TokenCursor } from './token-cursor.ts';

/** What the numbered instructions of a list are called. */
export const ITEM_WORDS = words(`
  step steps instruction instructions stage stages section sections part parts point points item items paragraph paragraphs para paras
  line lines no nos number numbers task tasks entry entries direction directions
`);

/** Longest range that is spelled out; a longer one is a slip of the pen. Chosen. */
const LONGEST_LIST = 20_000;
/** Most numbers or ranges of a list. Chosen: more make no sentence, and reading stays linear. */
const MOST_PARTS = 100;

/** A number of the list: not the count of stitches, times, rounds or a length behind it. */
function listNumber(c: TokenCursor): number | null {
  const t = c.peek();
  if (t?.kind !== 'number' || !Number.isInteger(t.value)) return null;
  const next = c.word(1);
  if (
    /^(?:times?|sts?|stitch(?:es)?|left|remain|remains|remaining|more|further|cms?|mm|in|ins|inch|inches)$/.test(
      next,
    )
  )
    if (
      next !== 'in' ||
      c.word(2) === '' ||
      /^(?:from|long|wide|deep|high|measured|above)$/.test(c.word(2))
    )
      // "rounds 7-14 in the same way"
      return null;
  // "2 x" is twice; in "rounds 1-2 x 10" the x belongs to the 10.
  if (next === 'x' && !c.isNumber(2)) return null;
  if (
    next === 'or' ||
    (c.here(1) === '/' && !c.isNumber(2) && c.word(2) !== 'ws' && c.word(2) !== 'rs')
  )
    return null;
  c.i++;
  return t.value;
}

/** Between the members of a list; `range` for "to". */
export function separator(c: TokenCursor): 'range' | 'and' | null {
  const start = c.i;
  if (c.eatMark('-')) {
    for (let n = 0; n < 4 && c.eatMark('-'); n++);
    return 'range';
  }
  if (says(c, 'up|on? to|through|thru|till and including') || says(c, 'up to')) return 'range';
  if (c.phrase('to|through|thru|till')) return 'range';
  let got = false;
  if (c.eatMark(',&+/')) got = true;
  if (c.phrase('and')) got = true;
  if (c.eatMark('&')) got = true;
  if (!got) c.i = start;
  return got ? 'and' : null;
}

/** The words end behind so many more tokens. */
function endsIn(c: TokenCursor, ahead: number): boolean {
  return c.i + ahead >= c.end || c.mark('.;', ahead);
}

/** "rounds 2 and 3, 2 and 3": what comes again is told once. */
export function once(list: readonly number[] | null): number[] | null {
  if (!list) return null;
  const period = list.indexOf(list[0], 1);
  const again =
    period > 0 && list.length % period === 0 && list.every((n, i) => n === list[i % period]);
  return list.slice(0, again ? period : undefined);
}

/** "4, 6, 8 … 22", "3, 5, 7 and so on to 21": the same step up to a last one. */
function goesOnTo(c: TokenCursor, out: number[], one: () => number | null): void {
  c.takes(() => {
    const { i } = c;
    if (!says(c, ',|.|and|so|on|forth|etc|up|to|until|till|through|as|far|including|the* @unit?'))
      return null;
    if (!/\.|\betc\b|\bso\b/.test(c.slice(i, c.i))) return null;
    const [before, last] = out.slice(-2);
    const to = one();
    const step = last - before;
    if (to === null || step < 1 || to <= last || (to - last) % step || to - last > LONGEST_LIST)
      return null;
    for (let n = last + step; n <= to; n += step) out.push(n);
    return true;
  });
}

/** Words behind a number of a list. */
const AFTER_LIST =
  /^(?:and|or|to|until|till|again|over|in|as|for|from|is|are|on|through|thru|were)$/;

export function listOf(c: TokenCursor, one: () => number | null): number[] | null {
  const first = one();
  if (first === null) return null;
  const out = [first];
  let ranged = false;
  for (let parts = 0; parts < MOST_PARTS; parts++) {
    const start = c.i;
    if (out.length > 1) goesOnTo(c, out, one);
    const how = separator(c);
    if (!how) return out;
    // "3-4 - 24 sts", "3 and 4 – 24": what stands behind a dash is none of it.
    const dashed = how === 'range' && c.mark('-', -1);
    const spaced = dashed && c.peek(-1)?.spaced && c.peek()?.spaced;
    if (spaced && (ranged || (out.length > 1 && endsIn(c, 1)))) {
      c.i = start;
      return out;
    }
    // "rounds 1-2 through round 12": up to that one
    if (how === 'range' && ranged && isUnit(c)) {
      c.i = start;
      return out;
    }
    ranged ||= how === 'range';
    c.phrase('the');
    if (isUnit(c) || (c.isWord(ITEM_WORDS) && c.isNumber(1))) c.i++;
    else if (c.word() === 'r' && c.isNumber(1)) c.i++;
    const n = one();
    // "rounds 4 and 5, one lacy round and one plain"
    const counts = n === 1 && c.peek()?.kind === 'word' && !isUnit(c) && !AFTER_LIST.test(c.word());
    // "rounds 3 and 4 till 12 sts remain"
    if (n === null || counts || (how === 'range' && c.isWord(STITCH_WORDS))) {
      c.i = start;
      return out;
    }
    if (how === 'range') {
      const last = out[out.length - 1];
      if (n < last || n - last > LONGEST_LIST) return null;
      for (let i = last + 1; i <= n; i++) out.push(i);
    } else out.push(n);
    if (out.length > LONGEST_LIST) return null;
  }
  return null;
}

/** What a step of a list is told by: `3`, or `C`, which counts as much. */
export function itemNumber(c: TokenCursor): number | null {
  const letter = /^[a-h]$/.test(c.word()) ? c.word() : null;
  if (letter === null) return c.number();
  c.i++;
  return letter.charCodeAt(0) - 96;
}

/** `1`, `1-4`, `2, 4 and 6`, `3 through 6` */
export function numberList(c: TokenCursor): number[] | null {
  return c.attempt(() => listOf(c, () => listNumber(c)));
}

/** `2nd`, `1st-3rd`, `2nd, 4th and 6th` */
export function ordinalList(c: TokenCursor): number[] | null {
  const one = (): number | null => {
    const n = c.ordinal();
    // "5th rnd, 6th rnd, 7th rnd"
    if (n !== null && isUnit(c) && c.mark(',&+/', 1) && c.peek(2)?.kind === 'ordinal') c.i++;
    return n;
  };
  return c.attempt(() => listOf(c, one));
}

/** "like the first", "as 1st and 2nd": rounds by their numbers alone. */
export function nthsAlone(c: TokenCursor): RoundsRef | null {
  return c.attempt(() => {
    c.phrase('the');
    const numbers = ordinalList(c);
    const ends = c.done || c.mark('.,;(-=') || (c.phrase('again') && c.done);
    return numbers && ends ? { kind: 'numbers' as const, numbers } : null;
  });
}
