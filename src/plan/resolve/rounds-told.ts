/**
 * How rounds are told to be worked, against the rounds themselves. In: what is told, all rounds and how many of them stand
 * before it, what a round is like. Out: a round that denies it, true where nothing of the kind is there, else undefined.
 */
import type { HowWorked, RoundsTold, WhichRounds } from '../grammar/rounds-told.ts';
import type { PlanRound } from '../plan.ts';

export interface RoundSorts {
  /** What all its plain stitches are; null where they are of both sorts. */
  readonly sort: (r: PlanRound) => 'knit' | 'purl' | null;
  readonly number: (r: PlanRound) => number;
  /** Knit and purl stitches take turns in it. */
  readonly mixed: (r: PlanRound) => boolean;
}

type Denied = PlanRound | true | undefined;

export const shapes = ({ before, after }: PlanRound): boolean => after !== before;
/** The number that its label tells; NaN where it tells none. */
export const numberTold = ({ label }: PlanRound): number => Number(/\d+/.exec(label)?.[0]);

export function denies(
  { which, how }: RoundsTold,
  rounds: readonly PlanRound[],
  from: number,
  sorts: RoundSorts,
): Denied {
  if (!how || rounds.length === 0) return true;
  const behind = rounds.slice(from);
  const tried = [behind, rounds].map((list) => {
    if (how.kind === 'followed') return followedOtherwise(which, how, list, sorts);
    return otherwise(chosen(which, list, sorts), how, sorts);
  });
  return tried.includes(undefined) ? undefined : tried[0];
}

/** The first of some rounds that is not so, for each way of counting them. */
function otherwise(
  ways: readonly (readonly PlanRound[])[],
  how: HowWorked,
  { sort, mixed }: RoundSorts,
): Denied {
  const wrong = ways.map((list) => {
    if (list.length === 0) return true;
    return list.find((r) => (how.kind === 'fabric' ? !mixed(r) : sort(r) !== how.kind));
  });
  return wrong.includes(undefined) ? undefined : wrong[0];
}

/** The rounds meant; several lists where it is not told which of them is counted first. */
function chosen(
  which: WhichRounds,
  list: readonly PlanRound[],
  { number }: RoundSorts,
): readonly (readonly PlanRound[])[] {
  switch (which.kind) {
    case 'numbers': {
      const { numbers } = which;
      return [
        list.filter((r) => numbers.includes(number(r))),
        list.filter((_, i) => numbers.includes(i + 1)),
      ];
    }
    case 'every': {
      const { of, nth } = which;
      // Right before the end they may be otherwise.
      const regular = list.slice(0, Math.max(2 * of, list.length - of));
      const starts = nth === undefined ? Array.from({ length: of }, (_, o) => o) : [nth - 1];
      return starts.map((o) => regular.filter((_, i) => i % of === o));
    }
    case 'all-but':
      return [list.slice(which.first, list.length - which.last)];
    case 'shaped':
      return [list.filter(shapes)];
  }
}

/** A round that is not followed as told. */
function followedOtherwise(
  which: WhichRounds,
  how: Extract<HowWorked, { kind: 'followed' }>,
  list: readonly PlanRound[],
  sorts: RoundSorts,
): Denied {
  const [those] = chosen(which, list, sorts);
  // Behind the last of them the piece may end.
  const checked = those.slice(0, Math.max(1, those.length - 1));
  if (checked.length === 0) return true;
  return checked.find((r) => {
    const at = list.indexOf(r) + 1;
    const next = list.slice(at, at + how.rounds);
    if (next.length < how.rounds || (list[at + how.rounds] && !shapes(list[at + how.rounds])))
      return true;
    return next.some((n) => shapes(n) || (how.by !== null && sorts.sort(n) !== how.by));
  });
}
