/**
 * What the cast-on stitches are made up of: "1 edge st + 4 sectors of 16 sts + 1 edge st", "(1 selvedge, 4 x 16, 1
 * selvedge)". In: a cursor behind the first number of such a list. Out: the parts kept where they come to the
 * stitches cast on; false and nothing kept where they do not.
 */
import { CLASSES } from '../../../lexicon/classes.ts';
import { STITCH_WORDS } from '../../../lexicon/words.ts';
import type { TokenCursor } from '../../token-cursor.ts';
import type { Opening, OpeningRule } from './opening.ts';

/** Most parts of such a list. Chosen. */
const MOST = 16;
const EDGE = /^(?:edge|edges|border|seam|selvedge|selvage|selvedges|selv|hem|spare|extra|odd)$/;
const OF = /^(?:of|for|as|the|a|at|each|right|left|first|last|beginning|end|start|row|and)$/;

interface Part {
  readonly parts: number;
  readonly each: number;
  readonly edge: boolean;
}

function partHere(c: TokenCursor): Part | null {
  c.phrase('a|an');
  // "edge st, 4 sides with 12 sts each, edge st"
  const n = EDGE.test(c.word()) ? 1 : c.number();
  if (n === null || n < 1) return null;
  const timed = c.eatMark('x*') !== null || c.phrase('x|times');
  const shared = !timed && !EDGE.test(c.word()) && CLASSES.shared.has(c.word());
  if (shared) {
    c.i++;
    if (!c.phrase('of|x|with|each|having') && c.eatMark('x*') === null) return null;
  }
  const each = timed || shared ? c.number() : n;
  if (each === null || each < 1) return null;
  let edge = false;
  for (let k = 0; k < 6; k++) {
    const word = c.word();
    if (EDGE.test(word)) edge = true;
    // "1 edge st and 4 x 16 sts": the next part
    else if (word === 'and' || !(STITCH_WORDS.has(word) || OF.test(word))) break;
    c.i++;
    if (STITCH_WORDS.has(word)) c.eatMark('.');
  }
  return { parts: timed || shared ? n : 1, each, edge };
}

function listHere(c: TokenCursor): Part[] {
  const found: Part[] = [];
  let behind = c.i;
  while (found.length < MOST) {
    const part = c.attempt(() => partHere(c));
    if (!part) break;
    found.push(part);
    behind = c.i;
    const parted = c.eatMark('+,;') !== null;
    if (!c.phrase('and|plus') && !c.eatMark('&') && !parted) break;
    c.phrase('then');
  }
  c.i = behind;
  return found;
}

/** Alike parts as one: "1 + 16 + 16 + 16 + 16 + 1". */
function sharesOf(parts: readonly Part[]): { share: Part | null; extra: number } | null {
  const sides = parts.filter((p) => p.parts > 1);
  const rest = parts.filter((p) => p.parts === 1);
  if (sides.length > 1) return null;
  if (sides.length === 1)
    return { share: sides[0], extra: rest.reduce((all, p) => all + p.each, 0) };
  const most = Math.max(...rest.map((p) => p.each));
  const alike = rest.filter((p) => p.each === most && !p.edge);
  const others = rest.filter((p) => !alike.includes(p));
  const extra = others.reduce((all, p) => all + p.each, 0);
  // "(64 + 2 edge sts)"
  if (alike.length < 2) return others.every((p) => p.edge) ? { share: null, extra } : null;
  return { share: { parts: alike.length, each: most, edge: false }, extra };
}

export const BREAKDOWN: OpeningRule = {
  says: ['#', ':|=|(|[|,|;|- #', ':|=|(|[ a|an? edge|selvedge|selvage|seam|border'],
  means: (o: Opening, _n, c: TokenCursor) => {
    const [count] = o.cast;
    if (count === undefined || o.cast.length > 1) return false;
    c.i--;
    if (/^(?:a|an)$/.test(c.word(-1))) c.i--;
    const parts = listHere(c);
    c.eatMark(')]');
    // "(100 + 1 extra to join)": for the join, and no part of the sides
    if (/^(?:to|for)$/.test(c.word()) && /^(?:join|joining|the|closing)$/.test(c.word(1)))
      return false;
    const sum = parts.reduce((all, p) => all + p.parts * p.each, 0);
    const shares = parts.length > 1 && sum === count ? sharesOf(parts) : null;
    if (!shares) return false;
    if (shares.share) o.shares.push({ parts: shares.share.parts, each: shares.share.each });
    o.extra += shares.extra;
    return true;
  },
};
