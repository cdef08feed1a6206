/**
 * Worked stitches of one round → notation with counts and repeats: `[k2tog, k4] 8 times, k3`. Needs no
 * step tree, so it writes any round; markers are named only where they would not stay by themselves.
 */
import type { StitchKind } from '../stitches/stitch-kind.ts';
import { foldSequence } from './fold-stitches.ts';
import { countWords } from './sentences.ts';

/** One kind of stitch worked `times` times: `k5`, `k3 tbl`, `sl2 wyif`, `ssk 3 times`, `2/2 LC`. */
export function stitchWords(name: string, times: number): string {
  if (name === 'k' || name === 'p') return `${name}${times}`;
  if (name === 'ktbl' || name === 'ptbl') return `${name[0]}${times} tbl`;
  if (name.startsWith('sl1')) {
    const knitwise = name.startsWith('sl1k') ? ' knitwise' : '';
    const yarn = /wy(?:ib|if)/.exec(name)?.[0];
    return `sl${times}${knitwise}${yarn ? ` ${yarn}` : ''}`;
  }
  if (name === 'bo1') return `bind off ${countWords(times)}`;
  if (name === 'co1') return `cast on ${countWords(times)}`;
  if (name === 'drop1') return times === 1 ? 'drop 1 st' : `[drop 1 st] ${times} times`;
  if (name.endsWith('in 1 st')) return times === 1 ? name : `[${name}] ${times} times`;
  return times === 1 ? name : `${name} ${times} times`;
}

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

/** Instruction text for the worked stitches. `before` and `after` are markers in working order. */
export function worksWords(
  works: Int16Array,
  kinds: readonly StitchKind[],
  before: readonly number[],
  after: readonly number[],
): string {
  const events = markerEvents(works, kinds, before, after);
  const names = Array.from(works, (id) => kinds[id].name);
  const [first] = names;
  if (events.length === 0 && (first === 'k' || first === 'p') && names.every((n) => n === first))
    return first === 'k' ? 'knit' : 'purl';
  const parts: string[] = [];
  let from = 0;
  for (const { at, words } of events) {
    parts.push(foldSequence(names.slice(from, at), stitchWords), words);
    from = at;
  }
  parts.push(foldSequence(names.slice(from), stitchWords));
  return parts.filter((part) => part !== '').join(', ');
}
