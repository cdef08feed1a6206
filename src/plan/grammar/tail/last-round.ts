/**
 * What the round is that work goes on to: "up to round 13: *k3, k2tog*", "until Row 38, which is k1, cdd, k1". In: a cursor
 * behind the round's number. Out: its stitches or its count kept, the cursor behind them.
 */
import { says } from '../rules.ts';
import { readStatedCount } from '../steps/stated-counts.ts';
import { readSteps } from '../steps/step-reader.ts';
import type { TokenCursor } from '../token-cursor.ts';
import type { OpenTail } from './open-tail.ts';

/** ": *k1, cdd, k1* x 4 (12)", ", which is k1, cdd, k1", ": 13 sts per needle": what the last round is, or leaves. */
export function readWhatItIs(c: TokenCursor, tail: OpenTail): void {
  c.takes(() => {
    if (!says(c, ',|: which|that|this is|are|reads|goes|says :?') && !c.mark('*([:-')) return null;
    while (c.eatMark(':-') !== null);
    const { i, end } = c;
    let stop = i;
    const goesOn = (at: number): boolean =>
      (c.tokens[at].text === ';' && /^rep/.test(c.tokens[at + 1]?.text ?? '')) ||
      (c.tokens[at].text === '.' && c.tokens[at - 1].text === 'rep' && at + 1 < end);
    while (stop < end && (!/^[.;!?]$/.test(c.tokens[stop].text) || goesOn(stop))) stop++;
    if (stop === i) return null;
    const text = c.slice(i, stop);
    const count = readStatedCount(text.replace(/^[\s([]+|[\s)\].]+$/g, ''));
    if (count) {
      tail.stated ??= count;
      c.i = stop;
      return true;
    }
    const read = c.own && readSteps(text, c.from(i), c.own);
    if (!read || read.unread > 0 || read.failed || !read.hasStitches) return null;
    const { from, to } = c.span(i);
    tail.lastRound = { from, to: Math.max(to, c.tokens[stop - 1].to), steps: read.steps };
    if (read.stated) tail.stated ??= read.stated;
    c.i = stop;
    return true;
  });
}
