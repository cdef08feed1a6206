/**
 * Spread shaping at a rim that was made larger: rounds added there would repeat the one beside them, stitch over stitch,
 * and make corners of it. Their shaping is moved on by a share of its distance, another one each round.
 * In: rounds stitch by stitch, how many shaping rounds were added. Out: the same rounds; as they are where stitches differ.
 */
import type { DraftRound } from '../../plan/write/plan-text.ts';
import { GOLDEN } from '../motif/disc-rounds.ts';

interface Sewn {
  readonly begin: number;
  readonly end: number;
}

export function setApart(
  rounds: readonly DraftRound[],
  added: number,
  inwards: boolean,
  seam: Sewn | null,
): readonly DraftRound[] {
  if (added <= 0) return rounds;
  const shaped = rounds.flatMap(({ names }, i) => (names.every(isPlain) ? [] : [i]));
  const atRim = inwards ? shaped.slice(0, added) : shaped.slice(-added);
  const moved = new Map(atRim.map((i, k) => [i, turned(rounds[i], k, seam)]));
  return [...moved.values()].includes(null)
    ? rounds
    : rounds.map((round, i) => ({ ...round, names: moved.get(i) ?? round.names }));
}

const isPlain = (name: string) => name === 'k' || name === 'p';

/** Null where the round is more than one plain stitch throughout and one sort of shaping at even distances. */
function turned(
  { names, wrongSide }: DraftRound,
  step: number,
  seam: Sewn | null,
): readonly string[] | null {
  const { begin, end } = seam ?? { begin: 0, end: 0 };
  const [first, last] = wrongSide ? [end, begin] : [begin, end];
  const inside = names.slice(first, names.length - last);
  const at = inside.flatMap((name, i) => (isPlain(name) ? [] : [i]));
  if (new Set(inside).size !== 2 || at.length < 3) return null;
  const gaps = at.map((place, k) => (at[k + 1] ?? at[0] + inside.length) - place);
  const least = Math.min(...gaps);
  if (Math.max(...gaps) > least + 1) return null;
  const by = Math.floor((((step + 0.5) * GOLDEN) % 1) * least);
  return [
    ...names.slice(0, first),
    ...inside.slice(by),
    ...inside.slice(0, by),
    ...names.slice(names.length - last),
  ];
}
