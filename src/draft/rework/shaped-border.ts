/**
 * A border of moss or rib that is shaped at its corners together with the piece. In: a Plan. Out: its rounds over every
 * side that is longer or shorter by whole repeats of it, and the plan within, which is graded as if it stood alone.
 */
import type { Plan, PlanRound } from '../../plan/plan.ts';
import type { DraftRound } from '../../plan/write/plan-text.ts';

interface BorderRound extends Pick<PlanRound, 'after' | 'colour'> {
  /** What every side works. */
  readonly names: readonly string[];
  /** The stretch [from, end) of it that repeats, round its middle. */
  readonly from: number;
  readonly end: number;
}

export interface ShapedBorder {
  /** In working order. */
  readonly rounds: readonly BorderRound[];
  readonly sides: number;
  /** Stitches that its pattern repeats over. */
  readonly repeat: number;
  /** Stitches that the rim has more than the plan within. */
  readonly more: number;
  readonly inner: Plan;
}

/** What is said of a border that cannot be worked again. */
export const SHAPED_BORDER =
  'This plan cannot be graded: its border is shaped at its corners and not alike on every side, counted from the beginning of the round. Begin the round at a corner, or draft the piece anew.';

/** Repeats that are looked for, stitches, and a stretch between shaping that is long enough to tell one. Chosen. */
const REPEATS = [2, 3, 4];
const LEAST_STRETCH = 8;

/** Null where the plan has no such border; 'unlike' where it has one that is not alike on so many sides. */
export function shapedBorder(plan: Plan, sides: number): ShapedBorder | 'unlike' | null {
  const { rounds, castOn } = plan;
  const inwards = (rounds.at(-1)?.after ?? 0) < castOn;
  const fromRim = inwards ? rounds : rounds.toReversed();
  if (plan.worked === 'round' && sides >= 3)
    for (const repeat of REPEATS) {
      const found = bordering(fromRim, (round) => onSides(plan, round, sides, repeat));
      if (found.length > 0) return withoutBorder(plan, inwards, { rounds: found, sides, repeat });
    }
  const runs = (round: PlanRound) => runsBetweenCorners(plan, round) || null;
  return bordering(fromRim, runs).length > 0 ? 'unlike' : null;
}

/** `rounds` are told from the rim on. */
function withoutBorder(
  plan: Plan,
  inwards: boolean,
  border: Pick<ShapedBorder, 'rounds' | 'sides' | 'repeat'>,
): ShapedBorder {
  const deep = border.rounds.length;
  const { castOn } = plan;
  const [own, inside] = inwards
    ? [plan.rounds.slice(0, deep), plan.rounds.slice(deep)]
    : [plan.rounds.slice(-deep), plan.rounds.slice(0, -deep)];
  const within = inwards ? own[deep - 1].after : own[0].before;
  const rim = inwards ? castOn : own[deep - 1].after;
  return {
    ...border,
    rounds: inwards ? border.rounds : border.rounds.toReversed(),
    more: rim - within,
    inner: { ...plan, castOn: inwards ? within : castOn, rounds: inside },
  };
}

/** Its rounds over sides of so many stitches more; null where those are no whole repeats, or leave none of it. */
export function shapedBorderOver(
  { rounds, sides, repeat }: ShapedBorder,
  growth: number,
): DraftRound[] | null {
  if (growth % repeat !== 0) return null;
  if (rounds.some(({ from, end }) => end - from + growth < repeat)) return null;
  return rounds.map(({ names, end, after, colour }) => {
    const more = Array.from(
      { length: Math.max(0, growth) },
      (_, i) => names[end - repeat + (i % repeat)],
    );
    const side = [...names.slice(0, end + Math.min(0, growth)), ...more, ...names.slice(end)];
    return {
      names: Array.from({ length: sides }, () => side).flat(),
      wrongSide: false,
      after: after + growth * sides,
      colour,
    };
  });
}

/** The rounds from the rim on that `read` knows for a border, where they are shaped and lie round another fabric. */
function bordering<T>(fromRim: readonly PlanRound[], read: (round: PlanRound) => T | null): T[] {
  const wide = fromRim.slice(0, Math.ceil(fromRim.length / 2));
  const known = wide.map(read);
  const deep = known.indexOf(null);
  const border = wide.slice(0, Math.max(0, deep));
  const shaped = border.some(({ before, after }) => before !== after);
  const plain = wide.slice(deep).some(({ works }) => new Set(works).size === 1);
  return shaped && plain ? known.slice(0, deep).flatMap((one) => one ?? []) : [];
}

/** Whether all long stretches between shaping are a small repeat of two stitches and more. */
function runsBetweenCorners(plan: Plan, { works }: PlanRound): boolean {
  const stretches: string[][] = [[]];
  for (const id of works) {
    if (isSingle(plan, id)) stretches[stretches.length - 1].push(plan.kinds[id].name);
    else stretches.push([]);
  }
  const long = stretches.filter((names) => names.length >= LEAST_STRETCH);
  return (
    long.length > 0 &&
    long.every((names) =>
      REPEATS.some(
        (repeat) =>
          new Set(names).size > 1 && names.every((name, i) => name === (names[i + repeat] ?? name)),
      ),
    )
  );
}

const isSingle = ({ kinds }: Plan, id: number) =>
  kinds[id].consumes === 1 && kinds[id].loops.length === 1;

/** Stitches of a side that its corners may work otherwise, two pairs with their corner stitches. Chosen. */
const AT_CORNERS = 8;

/** A round on each side, where all are alike and repeat, but for their corners, over half their length and more. */
function onSides(
  plan: Plan,
  { works, after, colour }: PlanRound,
  sides: number,
  repeat: number,
): BorderRound | null {
  const length = works.length / sides;
  if (works.some((id, i) => id !== works[i % length])) return null;
  const side = works.slice(0, length);
  const goesOn = (i: number, step: number) => isSingle(plan, side[i]) && side[i] === side[i + step];
  const middle = length >> 1;
  let end = middle;
  while (end < length && goesOn(end, -repeat)) end++;
  let from = middle - repeat;
  while (from > 0 && goesOn(from - 1, repeat)) from--;
  const names = Array.from(side, (id) => plan.kinds[id].name);
  const run = end - from;
  const most = run >= 2 * repeat && 2 * run > length && length - run <= AT_CORNERS;
  // Of one stitch all along it is no border.
  const mixed = new Set(names.slice(from, end)).size > 1;
  return most && mixed ? { names, from, end, after, colour } : null;
}
