/**
 * A border that runs on right round the rim over corners and all: moss, rib. In: a Plan worked in the round. Out: its
 * rounds, which any number of stitches that their repeats divide is worked in, and the plan without them.
 */
import type { Plan, PlanRound } from '../../plan/plan.ts';
import { smallestPeriod } from '../../plan/write/fold-stitches.ts';
import type { DraftRound } from '../../plan/write/plan-text.ts';

/** Longest repeat of a border, and the fewest times that it comes right round. Chosen. */
const LONGEST_REPEAT = 4;
const LEAST_REPEATS = 7;

interface BorderRound {
  readonly repeat: readonly string[];
  readonly colour?: string;
}

export interface RimBorder {
  /** In working order: before all other rounds of a piece worked inwards, behind them of one that grows. */
  readonly rounds: readonly BorderRound[];
  /** The plan without it. */
  readonly inner: Plan;
}

export function rimBorder(plan: Plan): RimBorder {
  const none = { rounds: [], inner: plan };
  const { rounds } = plan;
  const shaped = rounds.map(({ before, after }) => before !== after);
  if (plan.worked === 'flat' || !shaped.includes(true)) return none;
  const inwards = (rounds.at(-1)?.after ?? 0) < plan.castOn;
  const [from, to] = inwards
    ? [0, shaped.indexOf(true)]
    : [shaped.lastIndexOf(true) + 1, rounds.length];
  const repeats = rounds.slice(from, to).map((round) => repeatOf(plan, round));
  const runs = repeats.map((repeat) => repeat !== null && repeat.length > 1);
  // Plain rounds beyond it are the piece's own.
  const [first, end] = inwards
    ? [0, runs.lastIndexOf(true) + 1]
    : [runs.indexOf(true), runs.length];
  const own = first < 0 ? [] : repeats.slice(first, end);
  if (own.length === 0 || own.includes(null)) return none;
  const beside = inwards ? rounds.slice(end) : rounds.slice(0, from + first).reverse();
  const inside = beside.find(({ before, after }) => before === after);
  const nearest = (inwards ? own.at(-1) : own[0]) as string[];
  // The ground's own moss or rib is no border of it: it goes on from side to side as the ground does.
  if (inside && goesOn(plan, inside, nearest)) return none;
  return {
    rounds: own.map((repeat, i) => ({
      repeat: repeat as string[],
      colour: rounds[from + first + i].colour,
    })),
    inner: {
      ...plan,
      rounds: inwards ? rounds.slice(end) : rounds.slice(0, from + first),
    },
  };
}

/** Null where the repeats of a round do not divide so many stitches. */
export function borderOf({ rounds }: RimBorder, stitches: number): DraftRound[] | null {
  if (rounds.some(({ repeat }) => stitches % repeat.length > 0)) return null;
  return rounds.map(({ repeat, colour }) => ({
    names: Array.from({ length: stitches }, (_, i) => repeat[i % repeat.length]),
    wrongSide: false,
    after: stitches,
    colour,
  }));
}

/** Shares of a round that goes on with a repeat: stitches that come again at its length, and least of any one kind. Chosen. */
const COMES_AGAIN = 0.5;
const LEAST_OF_KIND = 0.2;

/** Whether a round goes on with the repeat of a border, but for its corners. */
function goesOn({ kinds }: Plan, { works }: PlanRound, repeat: readonly string[]): boolean {
  const names = Array.from(works, (id) => kinds[id].name);
  const n = names.length;
  const share = (is: (name: string, i: number) => boolean) => names.filter(is).length / n;
  const again = share((name, i) => name === names[(i + repeat.length) % n]);
  const least = Math.min(...repeat.map((kind) => share((name) => name === kind)));
  return again >= COMES_AGAIN && least >= LEAST_OF_KIND;
}

/** What a round works over and over, one stitch alone where it is plain; null where it is no small repeat. */
function repeatOf({ kinds }: Plan, { works }: PlanRound): string[] | null {
  const single = works.every((id) => kinds[id].consumes === 1 && kinds[id].loops.length === 1);
  const names = Array.from(works, (id) => kinds[id].name);
  const period = smallestPeriod(names);
  const small = period <= LONGEST_REPEAT && names.length >= LEAST_REPEATS * period;
  return single && small ? names.slice(0, period) : null;
}
