/**
 * "In pattern as set": what a column would be worked as in a round in which it was not worked so far.
 *
 * Input: the columns of a plan taken apart. A round that the plan knows is taken as it is; else the
 * nearest column that was worked alike so far and lived longer tells; else the column's own repeat
 * goes on.
 */
import type { WorkedColumns } from './column-model.ts';

/** Longest vertical repeat that is looked for, rounds. Chosen: twice a wide cable's interval. */
const LONGEST_REPEAT = 24;
/** How far away a column that was worked alike is looked for, stitches. Chosen. */
const REACH = 48;

export interface PatternAsSet {
  /** Right-side name for a column in a round (1-based). */
  readonly stitch: (column: number, round: number) => string;
}

/** Whether a column was worked apart from its pattern in a round. */
export type Strays = (column: number, round: number) => boolean;

export function patternAsSet(worked: WorkedColumns, strays?: Strays): PatternAsSet {
  const known: (string | undefined)[][] = Array.from({ length: worked.columns }, () => []);
  worked.rounds.forEach((round, i) => {
    for (const item of round.items)
      if (item.role === 'column' && !strays?.(item.column, i + 1))
        known[item.column][i + 1] = item.name;
  });
  const rank = Array.from({ length: worked.columns }, (_, column) => column).sort(
    (a, b) => worked.order[a] - worked.order[b],
  );
  const place = new Int32Array(worked.columns);
  rank.forEach((column, i) => {
    place[column] = i;
  });
  const longer = new Map<number, number>();

  /** Nearest column that knows a later round and was never worked differently; −1 for none. */
  function next(column: number): number {
    const cached = longer.get(column);
    if (cached !== undefined) return cached;
    let found = -1;
    for (const step of steps()) {
      const other = rank[place[column] + step];
      if (other === undefined) continue;
      if (known[other].length > known[column].length && alike(known[column], known[other])) {
        found = other;
        break;
      }
    }
    longer.set(column, found);
    return found;
  }

  function earlier(column: number, round: number): string | undefined {
    for (const step of steps()) {
      const other = rank[place[column] + step];
      if (other === undefined || known[other][round] === undefined) continue;
      if (alike(known[column], known[other])) return known[other][round];
    }
    return undefined;
  }

  function stitch(column: number, round: number): string {
    const own = known[column][round];
    if (own !== undefined) return own;
    if (round < known[column].length) {
      const told = earlier(column, round);
      if (told !== undefined) return told;
      return goOn(known[column], round);
    }
    const other = next(column);
    if (other >= 0) return stitch(other, round);
    return repeated(known[column], round) ?? besideRepeated(column, round) ?? latest(known[column]);
  }

  /** By the nearest column that was worked alike and shows a repeat, for one worked too seldom to show its own. */
  function besideRepeated(column: number, round: number): string | undefined {
    for (const step of steps()) {
      const other = known[rank[place[column] + step]];
      const told = other && alike(known[column], other) && repeated(other, round);
      if (told) return told;
    }
    return undefined;
  }

  return { stitch };
}

/** Two columns away first: seed stitch and single rib repeat over two. */
function* steps(): Generator<number> {
  for (let d = 2; d <= REACH; d += 2) {
    yield d;
    yield -d;
    yield d - 1;
    yield 1 - d;
  }
}

/** Rounds in which both were worked that show two columns to be alike. Chosen: a little more than a repeat of two. */
const SHOWN_ALIKE = 3;

/** No round in which both were worked and differ, and enough of them where `a` has so many. */
function alike(a: readonly (string | undefined)[], b: readonly (string | undefined)[]): boolean {
  const end = Math.min(a.length, b.length);
  let own = 0;
  let both = 0;
  for (let i = 1; i < a.length; i++) {
    if (a[i] === undefined) continue;
    own++;
    if (i >= end || b[i] === undefined) continue;
    if (a[i] !== b[i]) return false;
    both++;
  }
  return both >= Math.min(own, SHOWN_ALIKE);
}

/** The column's own smallest vertical repeat, carried on (or back) to `round`; as worked last where it shows none. */
export function goOn(known: readonly (string | undefined)[], round: number): string {
  return repeated(known, round) ?? latest(known);
}

function repeated(known: readonly (string | undefined)[], round: number): string | undefined {
  const whole = repeatFrom(known, 1, (repeat) => repeat / 2);
  const name = whole && carriedOn(known, 1, round, whole);
  if (name) return name;
  // What it was worked as before it came to its pattern says nothing of it.
  for (let from = 2; from + 1 < known.length; from++) {
    const repeat = repeatFrom(known, from, (length) => length);
    const told = repeat && carriedOn(known, from, round, repeat);
    if (told) return told;
  }
  return undefined;
}

function latest(known: readonly (string | undefined)[]): string {
  return known.findLast((name) => name !== undefined) ?? 'k';
}

/** Smallest repeat that holds from a round on and was seen `proof(repeat)` times at least; 0 for none. */
function repeatFrom(
  known: readonly (string | undefined)[],
  from: number,
  proof: (repeat: number) => number,
): number {
  for (let repeat = 1; repeat <= LONGEST_REPEAT; repeat++) {
    let seen = 0;
    let holds = true;
    for (let i = from; i + repeat < known.length && holds; i++)
      if (known[i] !== undefined && known[i + repeat] !== undefined) {
        seen++;
        holds = known[i] === known[i + repeat];
      }
    if (holds && seen > 0 && seen >= proof(repeat)) return repeat;
  }
  return 0;
}

/** The round's name by the repeat, where a round of the plan that shows the repeat tells it. */
function carriedOn(
  known: readonly (string | undefined)[],
  from: number,
  round: number,
  repeat: number,
): string | undefined {
  for (let i = known.length - 1; i >= from; i--) {
    if (known[i] === undefined || (round - i) % repeat !== 0) continue;
    // One told once, with nothing to compare it with a repeat later, may come from before the pattern.
    if (i + repeat >= known.length || known[i + repeat] !== undefined) return known[i];
  }
  return undefined;
}
