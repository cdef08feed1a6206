/**
 * Rounds that come again in longer turns than one shaping round and the next: a cable crossed on every second decrease
 * round, two decrease rounds and a plain one. In: the rounds worked. Out: those that come next; null where one shaping
 * round is like the one before it.
 */
import type { Step } from '../grammar/steps/steps.ts';
import type { RoundDef } from '../resolve/round-defs.ts';
import { alike, nextInLine, same } from './fit-steps.ts';
import { boundSteps } from './next-shaping.ts';
import { cableIn } from './round-crossings.ts';
import type { WorkedPiece } from './worked-piece.ts';

interface Turn {
  readonly def: RoundDef;
  /** Its steps, repeated as often as they were. */
  readonly steps: readonly Step[];
  /** The same a turn earlier. */
  readonly earlier: readonly Step[] | null;
  readonly shapes: boolean;
}

export type RoundCycle = readonly Turn[];

/** The rounds of the turn that all rounds since the first shaping one have kept to, the next of them first. */
export function roundCycle(piece: WorkedPiece): RoundCycle | null {
  const { rounds, history } = piece;
  const first = rounds.findIndex((r) => r.after !== r.before);
  if (first < 0) return null;
  const turns = rounds.slice(first).map((r, i): Turn => {
    const def = history[first + i];
    const steps = boundSteps(def, r.before, piece);
    return { def, steps, earlier: null, shapes: r.after !== r.before };
  });
  const length = turnOf(turns);
  if (length === null) return null;
  const cycle = turns.slice(-length);
  const shaped = cycle.filter((t) => t.shapes);
  const gaps = gapsOf(cycle);
  // One shaping round after the other, all alike, with the same rounds between.
  const even = gaps.every((g) => g === gaps[0]);
  if (shaped.length < 2 && even) return null;
  if (even && shaped.every((t) => alike(t.steps, shaped[0].steps)) && plainAlike(cycle))
    return null;
  const before = turns.slice(-2 * length, -length);
  return cycle.map((t, i) => ({
    ...t,
    earlier: before.length === length ? before[i].steps : null,
  }));
}

/** Rounds from each shaping one to the next, round the turn. */
export function gapsOf(cycle: RoundCycle): number[] {
  const at = cycle.flatMap((t, i) => (t.shapes ? [i] : []));
  return at.map((p, i) => (i + 1 < at.length ? at[i + 1] : at[0] + cycle.length) - p);
}

/** The fewest rounds after which all that were worked come again; null where they don't. */
function turnOf(turns: readonly Turn[]): number | null {
  for (let length = 2; length < turns.length; length++) {
    const again = turns
      .slice(length)
      .every((t, i) => t.shapes === turns[i].shapes && alike(t.steps, turns[i].steps));
    if (
      again &&
      (turns.length >= 2 * length || crossesEvery(turns, length) || unevenlyShaped(turns, length))
    )
      return length;
  }
  return null;
}

/** Cables are crossed once in each turn, and were so twice. */
function crossesEvery(turns: readonly Turn[], length: number): boolean {
  const crossed = turns.flatMap((t, i) => (cableIn(t.steps) ? [i] : []));
  return crossed.length > 1 && crossed.every((at, i) => i === 0 || at - crossed[i - 1] === length);
}

/** Shaping rounds stand in groups, and all of the last turn's have come again: two of them, a plain one, two of them. */
function unevenlyShaped(turns: readonly Turn[], length: number): boolean {
  const gaps = gapsOf(turns.slice(-length));
  const shapedAgain = turns.slice(length).filter((t) => t.shapes).length;
  return gaps.some((g) => g !== gaps[0]) && shapedAgain >= gaps.length;
}

function plainAlike(cycle: RoundCycle): boolean {
  const plain = cycle.filter((t) => !t.shapes);
  return plain.every((t) => alike(t.steps, plain[0].steps));
}

/** The steps of a round of the turn as they go over what is on the needles; null where that can't be told. */
export function nextOfTurn(
  { steps, earlier }: Turn,
  passed: number,
  piece: WorkedPiece,
): readonly Step[] | null {
  const fixed = piece.fixedOfAll(steps);
  if (fixed === null || fixed === piece.count) return steps;
  const shifted = earlier && nextInLine(earlier, steps, passed);
  if (shifted && !same(shifted, steps) && piece.fixedOfAll(shifted) === piece.count) return shifted;
  return piece.fitted(steps);
}
