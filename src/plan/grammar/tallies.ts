/**
 * Lines of a list to check by: "After 3 decrease rounds: 72 sts, 18 on each side", "2nd RS row - 66 sts", "Wave 2 - 58 sts (14
 * between markers)". In: a cursor at the line. Out: the counts, and of which round; null where any other word stands in it.
 */
import type { Token } from '../lex/tokens.ts';
import { isUnit } from './phrases.ts';
import { says } from './rules.ts';
import { readStatedCount, type StatedCount } from './steps/stated-counts.ts';
import type { TokenCursor } from './token-cursor.ts';

/** What should be there now: "Check: 24 sts between markers, and 1 garter ridge on the right side". */
export interface CheckNow {
  /** Null where what is told cannot be counted here. */
  readonly stated: StatedCount | null;
}

const CHECKS =
  /^(?:\W*(?:pause|stop)(?: the video| here| now)? and )?\W*(?:check|checkpoint|count)(?: (?:yourself|point|now|here))? ?[:-] ?$/;
/** Words that tell what is there, and ask for nothing. */
const TELLS =
  /^(?:\d+|sts?|stitch(?:es)?|each|every|either|both|on|to|for|per|between|in|of|at|a|an|the|and|then|plus|with|side|sides|edge|edges|end|ends|marker|markers|needle|needles|section|sections|corner|corners|decreases?|ridges?|garter|right|wrong|rs|ws|twists?|ropes?|cables?|panels?|eyelets?|holes?|ribs?|made|up|still|no|yet|now|left|over|remain|remaining|there|are|is|you|have|should|selvage|selvedge|seam|total|altogether|all|exactly|knit|purl|[,;()+=&-])$/;

const SHARES = /^(?:\d+|sts?|stitch(?:es)?|then|and|[ ,+])+$/;

/** "37 sts on each side plus 4 corner sts": counts, and not a word that asks for anything. */
export function tellsCounts(list: readonly Token[]): boolean {
  const words = list.filter((t) => t.kind !== 'line' && !/^[.:!]$/.test(t.text));
  const [first] = words[0]?.text === '(' ? words.slice(1) : words;
  if (first?.kind !== 'number' || words.length < 4) return false;
  return words.every((t, i) => tells(t.text, words[i + 1]?.text ?? ''));
}

/** A word that tells what is there; "9 knit stitches", and not "knit 9". */
function tells(word: string, next: string): boolean {
  return TELLS.test(word) && (/^st/.test(next) || !/^(?:knit|purl)$/.test(word));
}

export function readCheckNow(c: TokenCursor): CheckNow | null {
  return c.attempt(() => {
    const start = c.i;
    for (let n = 0; n < 8 && !c.done && !c.mark(':-'); n++) c.i++;
    if (!c.eatMark(':-') || !CHECKS.test(c.slice(start, c.i))) return null;
    const from = c.i;
    let first = -1;
    for (; !c.done && !c.mark('.!'); c.i++) {
      const t = c.peek();
      if (!t || !tells(t.text, c.word(1))) return null;
      if (first < 0 && /^[,;]$|^(?:and|plus|made)$/.test(t.text)) first = c.i;
    }
    if (c.i === from) return null;
    const numbers = c.tokens
      .slice(from, c.i)
      .flatMap((t) => (t.kind === 'number' ? [t.value] : []));
    // "1 stitch, then 18, 18, 18, 18, then 1 stitch"
    if (numbers.length > 2 && SHARES.test(c.slice(from, c.i))) {
      const total = numbers.reduce((sum, n) => sum + n, 0);
      return { stated: { total, perSide: null, change: null } };
    }
    return { stated: readStatedCount(c.slice(from, first < 0 ? c.i : first).trim()) };
  });
}

export interface Tally {
  readonly total: number;
  readonly perSide: number | null;
  /** After which of the rounds that shape; null where the line only names its place in the list. */
  readonly nth: number | null;
}

const LEAD = 'check|checkpoint|count|you|have|should|there|are|and|,|>|:*';
const SHAPING = 'dec|decrease|decreasing|inc|increase|increasing|shaping';
const EACH =
  'each|on|to|for|per|between|in|of|a|every|the|left|remain|remaining|total|altogether* @shared|marker|markers?';

export function readTally(c: TokenCursor): Tally | null {
  return c.attempt(() => {
    says(c, LEAD);
    const place = placeTold(c);
    if (!place || !(says(c, ':|-|=|,') || /^(?:there|you)$/.test(c.word()))) return null;
    const total = says(
      c,
      `there|are|you|have|should|be|now* # @sts left|remain|remaining|in|total|all*`,
    )?.[0];
    if (total == null || total < 1) return null;
    const perSide = says(c, `,|(* that|is|=* # @sts? ${EACH}`)?.[0] ?? null;
    says(c, ')|,*');
    return c.done || c.mark('.') ? { total, perSide, nth: place.nth } : null;
  });
}

/** "after 3 decrease rounds", "2nd RS row", "3rd", "Wave 2" */
function placeTold(c: TokenCursor): { readonly nth: number | null } | null {
  return c.attempt(() => {
    const after = says(c, `after|by the? #|% ${SHAPING} @unit`)?.[0];
    if (after != null) return { nth: after };
    if (says(c, `the? % rs|ws|right|wrong|side|${SHAPING}* @unit|repeat|rep|time|pass|go?`))
      return { nth: null };
    const named = /^[a-z]{3,}$/.test(c.word()) && !isUnit(c) && c.isNumber(1);
    if (!named) return null;
    c.i += 2;
    return { nth: null };
  });
}
