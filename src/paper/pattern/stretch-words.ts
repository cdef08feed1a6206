/**
 * A round cut where a knitter can see where she is: at markers, at marked stitches, at its end. Each stretch is told by
 * where it goes to (`k to 3 sts before marker`) or by its figures, and stretches that come again as a repeat.
 * In: the stretches of all rounds. Out: one line a round. Wordings that several rounds share are taken first, so that
 * rounds that come again are told alike.
 */
import { foldSequence } from '../../plan/write/fold-stitches.ts';
import { times } from '../../report/words/counts.ts';
import { consumes } from './marked-sides.ts';

export type MarkerWord = 'pm' | 'sm' | 'remove marker';

export interface Stretch {
  readonly names: readonly string[];
  /** Its end: a marker, the stitch of a marked one, which `names` lack, or the end of the round. */
  readonly to: 'marker' | 'marked st' | 'end';
  /** What is done there: `sm`; the marked stitch and the shaping behind it. */
  readonly done: readonly string[];
  /** Of the marked stitch: stitches worked together with it before its own. */
  readonly reach?: number;
  /** Told by its figures: a panel, or what is counted to place a marker. */
  readonly counted?: boolean;
  /** Stitches at its end that the seam takes up. */
  readonly sewn?: number;
  /** It begins in the middle of a side, where no repeat does. */
  readonly within?: boolean;
}

/** Shortest run that is told by where it ends, unless other rounds tell it so. Chosen. */
const SHORTEST_RUN = 3;
/** Run from which on it is told so with a panel behind it as well: a shorter one is counted sooner than what is left. Chosen. */
const LONG_RUN = 8;
/** Runs of a stretch that are looked at, the longest first. Chosen. */
const MOST_RUNS = 4;

/** Runs from which on a stretch may be seed or rib, and stitches that one stands out by there. Chosen. */
const MANY_RUNS = 4;
const MUCH_LONGER = 2;

/** The same stretch told in every way, the usual one first. */
function waysToTell(stretch: Stretch): readonly string[] {
  const { names } = stretch;
  const figures = told([foldSequence(names), ...stretch.done]);
  if (stretch.counted) return [figures];
  const runs = plainRuns(names).toSorted((a, b) => b.length - a.length || b.from - a.from);
  if (isTextured(runs))
    return [stretch.sewn ? told([sewnBehind(stretch), ...stretch.done]) : figures];
  const ways = runs.slice(0, MOST_RUNS).map((run) => wayTo(stretch, run));
  return isToldByEnd(names, runs) ? [ways[0], figures, ...ways.slice(1)] : [figures, ...ways];
}

/** Seed and rib: many runs, none much longer than most, so that no knitter sees where to stop. `runs`: the longest first. */
function isTextured(runs: readonly Run[]): boolean {
  return runs.length >= MANY_RUNS && runs[0].length <= runs[runs.length >> 1].length + MUCH_LONGER;
}

/** In seed the seam's stitch is no part of the pattern: told behind its last repeat, as long as it is not the same as what stands there. */
function sewnBehind({ names, sewn = 0 }: Stretch): string {
  const inside = names.slice(0, names.length - sewn);
  const [pattern, edge] = [inside, names.slice(inside.length)].map((part) => foldSequence(part));
  return pattern.endsWith('times') ? told([pattern, edge]) : foldSequence(names);
}

/** Of two runs that are about equal none is told from the other by "to": the numbers stay. */
function isToldByEnd(names: readonly string[], [longest, second]: readonly Run[]): boolean {
  if (!longest || longest.length < SHORTEST_RUN || (second?.length ?? 0) >= longest.length - 1)
    return false;
  const behind = names.slice(longest.from + longest.length);
  const other = names[longest.from] === 'k' ? 'p' : 'k';
  if (longest.length < LONG_RUN && behind.includes(other)) return false;
  return plainRuns(behind).every(
    ({ from, length }) => 2 * length < longest.length || behind[from] !== names[longest.from],
  );
}

interface Run {
  readonly from: number;
  readonly length: number;
}

/** Runs of knit or of purl. */
function plainRuns(names: readonly string[]): Run[] {
  const runs: Run[] = [];
  for (let from = 0; from < names.length; ) {
    let end = from + 1;
    while (end < names.length && names[end] === names[from]) end++;
    if (names[from] === 'k' || names[from] === 'p') runs.push({ from, length: end - from });
    from = end;
  }
  return runs;
}

function wayTo({ names, to, done, reach = 0 }: Stretch, { from, length }: Run): string {
  const behind = names.slice(from + length);
  const rest = behind.reduce((sum, name) => sum + consumes(name), 0) + reach;
  return told([
    foldSequence(names.slice(0, from)),
    `${names[from]} ${to === 'end' ? toEnd(rest) : toBefore(to, rest)}`,
    foldSequence(behind),
    ...done,
  ]);
}

function toEnd(rest: number): string {
  return rest === 0 ? 'to end' : `to last ${stitches(rest)}`;
}

function toBefore(what: 'marker' | 'marked st', rest: number): string {
  return rest === 0 ? `to ${what}` : `to ${rest} ${rest === 1 ? 'st' : 'sts'} before ${what}`;
}

/** `st`, `3 sts` */
export function stitches(count: number): string {
  return count === 1 ? 'st' : `${count} sts`;
}

export function told(parts: readonly string[]): string {
  return parts.filter((part) => part !== '').join(', ');
}

/** One stretch up to an edge, worded for itself. */
export function stretchAlone(names: readonly string[]): string {
  return waysToTell({ names, to: 'end', done: [] })[0];
}

/** For every round its line; null for a round without stretches. A round cut in several ways is told in the shortest. */
export function wordStretches(
  rounds: readonly (readonly (readonly Stretch[])[] | null)[],
): (string | null)[] {
  const ways = rounds.map((cuts) => cuts?.map((round) => round.map(waysToTell)) ?? null);
  const shared = new Map<string, number>();
  for (const cuts of ways)
    for (const way of new Set(cuts?.flat(2))) shared.set(way, (shared.get(way) ?? 0) + 1);
  const best = (some: readonly string[]) => {
    const most = Math.max(...some.map((way) => shared.get(way) ?? 0));
    return most < 2 ? some[0] : (some.find((way) => shared.get(way) === most) as string);
  };
  return ways.map((cuts, i) => {
    const lines =
      cuts?.map((round, k) =>
        inRepeats(round.map(best), rounds[i]?.[k].map(({ within = false }) => !within) ?? []),
      ) ?? [];
    return lines.toSorted((a, b) => a.length - b.length)[0] ?? null;
  });
}

/**
 * `*k31, pm; rep from * twice more, k31`: the repeat that saves most, what stands before and behind it told once.
 * `begins`: parts that a repeat may begin with.
 */
function inRepeats(parts: readonly string[], begins: readonly boolean[]): string {
  let best = { from: 0, period: 1, often: 1 };
  let saved = 0;
  for (let period = 1; 2 * period <= parts.length; period++)
    for (let from = 0; from + 2 * period <= parts.length; from++) {
      if (!begins[from] || !(begins[from + period] ?? true)) continue;
      let often = 1;
      while (comesAgain(parts, from, period, often)) often++;
      if ((often - 1) * period > saved) {
        saved = (often - 1) * period;
        best = { from, period, often };
      }
    }
  const { from, period, often } = best;
  if (often === 1) return told(parts);
  const block = told(parts.slice(from, from + period));
  return told([
    ...parts.slice(0, from),
    `*${block}; rep from * ${times(often - 1)} more`,
    ...parts.slice(from + period * often),
  ]);
}

function comesAgain(
  parts: readonly string[],
  from: number,
  period: number,
  often: number,
): boolean {
  const next = from + period * often;
  if (next + period > parts.length) return false;
  for (let k = 0; k < period; k++) if (parts[from + k] !== parts[next + k]) return false;
  return true;
}
