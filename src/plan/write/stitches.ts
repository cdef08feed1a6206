/**
 * Worked stitches of one round → notation with counts and repeats: `[k2tog, k4] 8 times, k3`. Needs no
 * step tree, so it writes any round; markers are named only where they would not stay by themselves.
 */
import type { StitchKind } from '../stitches/stitch-kind.ts';
import { stitchWords } from './steps.ts';

type Token = { readonly kind: number; readonly times: number } | { readonly words: string };

/** Longest repeat that is looked for, in runs of stitches. Chosen. */
const LONGEST_REPEAT = 16;

interface MarkerEvent {
  /** Index into works before which the event stands. */
  readonly at: number;
  readonly words: 'pm' | 'sm' | 'remove marker';
}

/**
 * Marker instructions that turn the markers `before` (in working order) into `after`; empty where
 * they stay by themselves.
 */
function markerEvents(
  works: Int16Array,
  kinds: readonly StitchKind[],
  before: readonly number[],
  after: readonly number[],
): MarkerEvent[] {
  if (before.length === 0 && after.length === 0) return [];
  const used = new Int32Array(works.length + 1);
  const made = new Int32Array(works.length + 1);
  for (let i = 0; i < works.length; i++) {
    used[i + 1] = used[i] + kinds[works[i]].consumes;
    made[i + 1] = made[i] + kinds[works[i]].loops.length;
  }
  const wanted = new Set(after);
  const events: MarkerEvent[] = [];
  let quiet = true;
  let b = 0;
  for (const old of before) {
    if (old === 0) continue;
    while (b <= works.length && used[b] < old) b++;
    if (used[b] !== old) {
      // Inside a stitch: it comes to lie behind it without a word.
      if (wanted.has(made[b])) wanted.delete(made[b]);
      else quiet = false;
      continue;
    }
    let last = b;
    while (last < works.length && used[last + 1] === old) last++;
    let place = -1;
    for (let i = b; i <= last; i++) if (wanted.has(made[i])) place = i;
    if (place < 0) events.push({ at: last, words: 'remove marker' });
    else {
      wanted.delete(made[place]);
      events.push({ at: place, words: 'sm' });
      if (place !== last) quiet = false;
    }
    if (place < 0) quiet = false;
  }
  if (before.includes(0)) {
    if (wanted.has(0)) wanted.delete(0);
    else {
      events.push({ at: 0, words: 'remove marker' });
      quiet = false;
    }
  }
  for (const place of wanted) {
    let i = 0;
    while (i < works.length && made[i] < place) i++;
    events.push({ at: i, words: 'pm' });
    quiet = false;
  }
  if (quiet) return [];
  return events.sort((x, y) => x.at - y.at);
}

function same(a: Token, b: Token): boolean {
  if ('words' in a || 'words' in b) return false;
  return a.kind === b.kind && a.times === b.times;
}

/** Runs of equal stitches, cut at marker instructions. */
function tokens(works: Int16Array, events: readonly MarkerEvent[]): Token[] {
  const out: Token[] = [];
  let e = 0;
  let i = 0;
  while (i < works.length || e < events.length) {
    while (e < events.length && events[e].at <= i) out.push({ words: events[e++].words });
    if (i >= works.length) break;
    const stop = e < events.length ? events[e].at : works.length;
    let j = i + 1;
    while (j < stop && works[j] === works[i]) j++;
    out.push({ kind: works[i], times: j - i });
    i = j;
  }
  return out;
}

/** Instruction text for the worked stitches. `before` and `after` are markers in working order. */
export function worksWords(
  works: Int16Array,
  kinds: readonly StitchKind[],
  before: readonly number[],
  after: readonly number[],
): string {
  const events = markerEvents(works, kinds, before, after);
  const list = tokens(works, events);
  if (list.length === 1 && !('words' in list[0])) {
    const { name } = kinds[list[0].kind];
    if (name === 'k') return 'knit';
    if (name === 'p') return 'purl';
  }
  const words = (token: Token): string =>
    'words' in token ? token.words : stitchWords(kinds[token.kind].name, token.times);

  const out: string[] = [];
  for (let i = 0; i < list.length; ) {
    let bestPeriod = 0;
    let bestTimes = 1;
    for (let period = 1; period <= LONGEST_REPEAT && i + 2 * period <= list.length; period++) {
      let n = 0;
      while (i + period + n < list.length && same(list[i + n], list[i + n + period])) n++;
      const times = 1 + Math.floor(n / period);
      // A single run never repeats itself, so a period of one is impossible.
      if (times > 1 && (times - 1) * period > (bestTimes - 1) * bestPeriod) {
        bestPeriod = period;
        bestTimes = times;
      }
    }
    if (bestTimes > 1) {
      const block = list
        .slice(i, i + bestPeriod)
        .map(words)
        .join(', ');
      out.push(`[${block}] ${bestTimes} times`);
      i += bestPeriod * bestTimes;
    } else {
      out.push(words(list[i]));
      i++;
    }
  }
  return out.join(', ');
}
