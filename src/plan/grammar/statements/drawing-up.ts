/**
 * A sentence that draws the piece up, known by its things whatever its verbs are: yarn goes through all the stitches
 * that are left ("yarn through the lot, tug, knot"), or they are gathered on it ("lasso the last 8 with the tail"). In: a
 * cursor where a sentence begins. Out: how many stitches it takes, where that is told; null where it is another.
 */
import {
  DECREASE_WORDS,
  INCREASE_WORDS,
  MARKER_WORDS,
  ROUND_WORDS,
  ROW_WORDS,
  STITCH_WORDS,
} from '../../lexicon/words.ts';
import type { TokenCursor } from '../token-cursor.ts';
import { isStitchWord } from '../word-law.ts';

/** Most tokens of such a sentence. Chosen: bounds the time. */
const LONGEST = 40;

const YARN = /^(?:yarn|wool|tail|thread|strand|end|cotton|string|twine)$/;
const THROUGH = /^(?:through|thru|round|around)$/;
const DRAWS = /^(?:pull|draw|cinch|tighten|gather|close)$/;
const WHICH =
  /^(?:all|the|of|these|those|your|remaining|rem|last|final|live|open|left|every|single)$/;
const GATHERS =
  /^(?:gather|lasso|collect|catch|scoop|draw|pull|cinch|close|bunch|squeeze|pick|take|drop|slip|slide|tip|string|contract|shut)$/;
const ONTO = /^(?:on|onto|with|by|to)$/;
/** What works stitches, takes some of them or holds them for later. */
const OTHERWISE =
  /^(?:knit|knits|knitting|purl|purls|purling|k|p|work|works|working|repeat|rep|until|till|other|alternate|half|except|but|cast|bind|bo|yo|join|new|another|cable|cn|holder|spare|waste|scrap|contrast|contrasting|safety|turn|graft|without|leaving|skip|again|if|or|not|never)$/;

function worksOtherwise(c: TokenCursor, n: number): boolean {
  const t = c.peek(n);
  if (t?.kind !== 'word') return t?.kind === 'ordinal';
  // "run it round the stitches"
  if (t.text === 'round' && /^(?:it|yarn|tail|thread|end|wool|cotton)$/.test(c.word(n - 1)))
    return false;
  // "leaving a long tail" takes no stitch
  if (t.text === 'leaving') return !tailBehind(c, n);
  return (
    OTHERWISE.test(t.text) ||
    [ROUND_WORDS, ROW_WORDS, DECREASE_WORDS, INCREASE_WORDS, MARKER_WORDS].some((set) =>
      set.has(t.text),
    ) ||
    isStitchWord(t)
  );
}

function tailBehind(c: TokenCursor, n: number): boolean {
  for (let k = n + 1; k < n + 8; k++) {
    if (YARN.test(c.word(k)) || /^(?:cm|mm|inch|inches|in)$/.test(c.word(k))) return true;
    if (STITCH_WORDS.has(c.word(k))) return false;
  }
  return false;
}

/** All the stitches, named at place `n`: how many, 0 where that is not told; null for others. */
function allStitches(c: TokenCursor, n: number): number | null {
  let count = 0;
  let named = false;
  for (let k = n; k < n + 7; k++) {
    const t = c.peek(k);
    if (t?.kind === 'number' && count === 0 && t.value > 0) {
      // "6 of the sts"
      if (c.word(k + 1) === 'of') return null;
      count = t.value;
      continue;
    }
    if (
      t?.kind === 'word' &&
      (STITCH_WORDS.has(t.text) || /^(?:lot|everything|them)$/.test(t.text))
    )
      return count;
    if (t?.kind === 'word' && WHICH.test(t.text)) {
      named = true;
      continue;
    }
    // "through all 8", "drop the 8 onto …"
    return named && count > 0 ? count : null;
  }
  return null;
}

/** Reads nothing away: the cursor stays. */
export function drawsByThings(c: TokenCursor): { readonly count: number | null } | null {
  let yarn = false;
  let gathers = false;
  let found: number | null = null;
  let gathered: number | null = null;
  for (let n = 0; n < LONGEST && !c.mark('.;!?', n) && c.peek(n); n++) {
    if (worksOtherwise(c, n)) return null;
    const word = c.word(n);
    if (YARN.test(word)) {
      yarn = true;
      // "gather the 8 sts onto the tail"
      if (gathered !== null && ontoBefore(c, n)) found ??= gathered;
    }
    if (GATHERS.test(word)) gathers = true;
    if (yarn && THROUGH.test(word)) found ??= allStitches(c, n + 1) ?? gathered;
    else if (gathers) gathered ??= allStitches(c, n + 1);
    // "… tail onto a needle, pick the stitches off one at a time, pull up"
    if (yarn && gathered !== null && DRAWS.test(word) && c.mark(',', n - 1)) found ??= gathered;
  }
  return found === null ? null : { count: found || null };
}

function ontoBefore(c: TokenCursor, n: number): boolean {
  for (let k = n - 1; k >= Math.max(0, n - 8); k--) if (ONTO.test(c.word(k))) return true;
  return false;
}

/** The rest of the sentence draws the thread up. */
export function drawsUp(c: TokenCursor): boolean {
  for (let n = 0; c.i + n < c.end && n < 40; n++)
    if (
      /^(?:draw|drawing|pull|pulling|gather|gathering|tight|tightly|tighten|fasten|cinch)$/.test(
        c.word(n),
      )
    )
      return true;
  return false;
}
