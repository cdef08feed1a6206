/**
 * Markers told among the stitches of the needle: "Place the markers as follows: 1 edge st, marker, 20 sts, marker, 20 sts …",
 * "1 st, m, (18 sts, m) 4 times, 1 st". In: a cursor at the first stitches of such a list. Out: the places of its markers
 * in stitches from the beginning, and all its stitches; null and the cursor unmoved where it is none.
 */
import { MARKER_WORDS, STITCH_WORDS } from '../../../lexicon/words.ts';
import type { TokenCursor } from '../../token-cursor.ts';

export interface MarkersListed {
  readonly at: readonly number[];
  readonly total: number;
}

/** Most parts of such a list, repeats worked out. Chosen. */
const MOST = 60;
const OF_STITCHES =
  /^(?:edge|edges|border|seam|selvedge|selvage|corner|side|more|centre|center|middle|plain|knit|purl)$/;
const MARKERS = new Set([...MARKER_WORDS, 'ring', 'pin', 'tag', 'clip', 'loop', 'thread']);
const MARKER_SAID = 'a|the|another|next|1|place|pm|hang|insert|stitch';

function listed(c: TokenCursor, inner: boolean): (number | 'marker')[] {
  const out: (number | 'marker')[] = [];
  while (out.length < MOST && !c.done) {
    const { i } = c;
    c.eatMark(',;-+&/');
    c.phrase('and|then|next');
    const item = part(c) ?? (inner ? null : repeated(c));
    if (item === null) {
      c.i = i;
      return out;
    }
    out.push(...item);
  }
  return out;
}

function part(c: TokenCursor): (number | 'marker')[] | null {
  return c.attempt(() => {
    const pm = c.phrase('pm');
    if (!pm) for (let n = 0; n < 3 && c.phrase(MARKER_SAID); n++);
    if (c.eatWord(MARKERS) || pm) return ['marker'];
    const plain = /^[kp](\d)$/.exec(c.word());
    if (plain) c.i++;
    const n = plain ? Number(plain[1]) : c.number();
    if (n === null || n < 1) return null;
    while (OF_STITCHES.test(c.word())) c.i++;
    if (c.eatWord(STITCH_WORDS)) c.phrase('of side|edge|seam');
    return [n];
  });
}

function repeated(c: TokenCursor): (number | 'marker')[] | null {
  return c.attempt(() => {
    if (!c.eatMark('([')) return null;
    const once = listed(c, true);
    if (!c.eatMark(')]') || once.length === 0) return null;
    const before = c.phrase('x|times');
    const times = c.phrase('twice') ? 2 : c.number();
    if (times === null || times * once.length > MOST) return null;
    if (!before) c.phrase('times|x');
    return Array.from({ length: times }, () => once).flat();
  });
}

export function markersListed(c: TokenCursor): MarkersListed | null {
  return c.attempt(() => {
    const at: number[] = [];
    let total = 0;
    for (const item of listed(c, false)) {
      if (item === 'marker') at.push(total);
      else total += item;
    }
    return at.length > 1 && total > 1 ? { at, total } : null;
  });
}
