/**
 * What the round is that work goes on to: "up to round 13: *k3, k2tog*", "until Row 38, which is k1, cdd, k1". In: a cursor
 * behind the round's number. Out: its stitches and its count kept, the cursor behind them.
 */
import { eatStitch } from '../phrases.ts';
import { says } from '../rules.ts';
import { readStatedCount } from '../steps/stated-counts.ts';
import { readSteps } from '../steps/step-reader.ts';
import type { TokenCursor } from '../token-cursor.ts';
import type { OpenTail } from './open-tail.ts';

const LEAVES =
  ',|;|and|which|it|this* leaves|leaving|gives|giving|with|to|so|that|there|you|have|has|are|will|be* # @sts? left|remain|remaining?';

/** ": *k1, cdd, k1* x 4 (12)", " (k1, cdd, k1) is done: 3 sts", ": 13 sts per needle": what the last round is, or leaves. */
export function readWhatItIs(c: TokenCursor, tail: OpenTail): void {
  const inside = c.mark('([') ? c.closing() : -1;
  if (inside > 0) {
    const within = c.takes(() => {
      c.i++;
      if (!keeps(c, inside, tail)) return null;
      c.i = inside + 1;
      return true;
    });
    if (within) says(c, 'is|has|have|been|are* finished|completed|worked|done|reached|complete');
  }
  c.takes(() => {
    c.takes(() => c.eatMark(',') !== null && c.mark('*(['));
    if (
      !says(c, ',|:* which|that|this* is|are|reads|goes|says :?') &&
      !c.mark('*([:-') &&
      !stitchBehind(c)
    )
      return null;
    while (c.eatMark(':-') !== null);
    const stop = sentenceEnd(c);
    if (keeps(c, stop, tail)) {
      c.i = stop;
      return true;
    }
    // "…, and leaves 16 sts"
    for (let at = c.i + 1; at < stop; at++) {
      const behind = c.i;
      c.i = at;
      const left = says(c, LEAVES)?.[0];
      const to = c.i;
      c.i = behind;
      if (left == null || to < stop || !keeps(c, at, tail)) continue;
      tail.stated ??= { total: left, perSide: null, change: null };
      c.i = to;
      return true;
    }
    return null;
  });
}

/** "…, k1, cdd, k1" */
function stitchBehind(c: TokenCursor): boolean {
  const { i } = c;
  const found = c.eatMark(',') !== null && eatStitch(c) !== null;
  c.i = found ? i + 1 : i;
  return found;
}

/** Where the sentence ends, a repeat behind a semicolon included. */
function sentenceEnd(c: TokenCursor): number {
  const { tokens, end } = c;
  let stop = c.i;
  const goesOn = (at: number): boolean =>
    (tokens[at].text === ';' && /^rep/.test(tokens[at + 1]?.text ?? '')) ||
    (tokens[at].text === '.' && tokens[at - 1].text === 'rep' && at + 1 < end);
  while (stop < end && (!/^[.;!?]$/.test(tokens[stop].text) || goesOn(stop))) stop++;
  return stop;
}

/** Keeps what stands from the cursor up to token `stop`, where all of it is a count, or stitches. */
function keeps(c: TokenCursor, stop: number, tail: OpenTail): boolean {
  const { i } = c;
  if (stop <= i) return false;
  const text = c.slice(i, stop);
  const count = readStatedCount(text.replace(/^[\s([]+|[\s)\].]+$/g, ''));
  if (count) {
    tail.stated ??= count;
    return true;
  }
  const read = c.own && readSteps(text, c.from(i), c.own);
  if (!read || read.unread > 0 || read.failed || !read.hasStitches) return false;
  tail.lastRound = { from: c.from(i), to: c.tokens[stop - 1].to, steps: read.steps };
  if (read.stated) tail.stated ??= read.stated;
  return true;
}
