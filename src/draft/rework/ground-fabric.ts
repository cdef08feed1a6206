/**
 * What the ground of a piece is worked as in any round, and how far a column is from it.
 *
 * In: the columns of a piece, every column's place on its side, those that cables take, and the fabric that the gauge
 * names. Out: the ground's stitch by place and round, and what each column differs from it in.
 */
import type { FabricName } from '../../plan/plan.ts';
import { fabricStitch } from '../motif/side-pattern.ts';
import type { WorkedColumns } from './column-model.ts';
import { goOn } from './pattern-period.ts';

/** Widths of a ground's repeat that are looked for, stitches: plain, single and double rib, seed. */
const REPEATS = [1, 2, 4];
/** Share of stitches that a wider repeat must explain beyond a narrower one. Chosen. */
const CLEARLY_BETTER = 0.15;
export interface Ground {
  readonly stitch: (place: number, round: number) => string;
  /** Rounds of the column that tell a panel from its ground, and those of them in which it differs. */
  readonly differs: (column: number, place: number) => { all: number; other: number };
  /** What the column mostly is; of one with a place, where it is not as the ground: an edge orphaned early is none. */
  readonly kind: (column: number, place: number | null) => string;
  /** Right-side names by column and round, 1-based. */
  readonly known: readonly (string | undefined)[][];
}

/** Stitches of a round, corners included, by which the fabric that the gauge names is known; a seam has two. */
const MIN_NAMED = 3;

/** What most columns that no cable takes are worked as; where panels fill the side, what the gauge names. */
export function groundOf(
  worked: WorkedColumns,
  place: ReadonlyMap<number, number>,
  crossed: ReadonlySet<number>,
  named: FabricName | null,
): Ground {
  const known: (string | undefined)[][] = Array.from({ length: worked.columns }, () => []);
  worked.rounds.forEach((round, i) => {
    for (const item of round.items)
      if (item.role === 'column') known[item.column][i + 1] = item.name;
  });
  const rounds = worked.rounds.length;
  const wanted = namedStitches(named, known, place);
  const inRound = countNamed(wanted, known, place, rounds);
  let best: string[][] = [];
  let explained = Number.NEGATIVE_INFINITY;
  // Seed repeats over two, whatever the panels and corners between hide of it.
  for (const repeat of wanted && named === 'seed' ? [2] : REPEATS) {
    const votes = Array.from({ length: repeat }, () =>
      Array.from({ length: rounds + 1 }, () => new Map<string, number>()),
    );
    for (const [column, at] of place)
      known[column].forEach((name, round) => {
        if (name === undefined || crossed.has(column)) return;
        const box = votes[at % repeat][round];
        box.set(name, (box.get(name) ?? 0) + 1);
      });
    let all = 0;
    let agree = 0;
    const winner = votes.map((line, phase) =>
      line.map((box, round) => {
        let name = '';
        let most = 0;
        for (const [other, count] of box) {
          all += count;
          if (count > most) [name, most] = [other, count];
        }
        const own = inRound[round] >= MIN_NAMED ? wanted?.(phase, round) : undefined;
        if (own) [name, most] = [own, box.get(own) ?? 0];
        agree += most;
        return name;
      }),
    );
    const share = agree / Math.max(1, all);
    if (share > explained + CLEARLY_BETTER) [best, explained] = [winner, share];
  }
  const names = best.map((line) => line.map((name) => name || undefined));
  const later = names.map(() => new Map<number, string>());
  const stitch = (at: number, round: number): string => {
    const phase = ((at % names.length) + names.length) % names.length;
    const told = names[phase][round] ?? later[phase].get(round) ?? goOn(names[phase], round);
    if (round >= names[phase].length) later[phase].set(round, told);
    return told;
  };
  const tells = tellingRounds(known, rounds);
  const differs = (column: number, at: number) => {
    let all = 0;
    let other = 0;
    known[column].forEach((name, round) => {
      if (name === undefined || !tells[round]) return;
      all++;
      if (name !== stitch(at, round)) other++;
    });
    return { all, other };
  };
  const kind = (column: number, at: number | null) =>
    (at !== null &&
      commonest(
        known[column].map((name, round) =>
          tells[round] && name !== stitch(at, round) ? name : undefined,
        ),
      )) ||
    commonest(known[column]);
  return { stitch, differs, kind, known };
}

/** Rounds in which not all columns are worked alike: only those tell a panel from its ground. */
function tellingRounds(known: readonly (string | undefined)[][], rounds: number): boolean[] {
  const first = new Array<string | undefined>(rounds + 1).fill(undefined);
  const tells = new Array<boolean>(rounds + 1).fill(false);
  for (const names of known)
    names.forEach((name, round) => {
      if (name === undefined) return;
      first[round] ??= name;
      if (name !== first[round]) tells[round] = true;
    });
  return tells;
}

type NamedStitch = (place: number, round: number) => string;

/** What the fabric that the gauge names is worked as, in the phase that fits the plan; null for others. */
function namedStitches(
  named: FabricName | null,
  known: readonly (string | undefined)[][],
  place: ReadonlyMap<number, number>,
): NamedStitch | null {
  if (named !== 'stockinette' && named !== 'reverse' && named !== 'garter' && named !== 'seed')
    return null;
  let best: NamedStitch | null = null;
  let most = -1;
  for (const phase of [0, 1]) {
    const stitch: NamedStitch = (at, round) => fabricStitch(named, at, round + phase);
    const rounds = Math.max(...known.map((names) => names.length));
    const agree = countNamed(stitch, known, place, rounds).reduce((a, b) => a + b, 0);
    if (agree > most) [best, most] = [stitch, agree];
  }
  return best;
}

/** Stitches of each round that are worked so; columns outside the sides, corners, count at place 0. */
function countNamed(
  stitch: NamedStitch | null,
  known: readonly (string | undefined)[][],
  place: ReadonlyMap<number, number>,
  rounds: number,
): number[] {
  const counts = new Array<number>(rounds + 1).fill(0);
  if (!stitch) return counts;
  known.forEach((names, column) => {
    names.forEach((name, round) => {
      if (name !== undefined && name === stitch(place.get(column) ?? 0, round)) counts[round]++;
    });
  });
  return counts;
}

/** The name that is told most often; '' for none. */
export function commonest(names: readonly (string | undefined)[]): string {
  const counts = new Map<string, number>();
  for (const name of names) if (name !== undefined) counts.set(name, (counts.get(name) ?? 0) + 1);
  let best = '';
  for (const [name, count] of counts) if (count > (counts.get(best) ?? 0)) best = name;
  return best;
}
