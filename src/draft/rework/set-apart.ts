/**
 * Spread shaping at a rim that was made larger: rounds added there would repeat the one beside them, stitch over stitch,
 * and make corners of it. Their shaping is spread anew over the whole round, from another place in each.
 * In: rounds stitch by stitch, how many shaping rounds were added. Out: the same rounds; as they are where their stitches
 * are more than one fabric's (all alike, or two by turns).
 */
import { stitchKind } from '../../plan/stitches/table.ts';
import type { DraftRound } from '../../plan/write/plan-text.ts';
import { GOLDEN } from '../motif/disc-rounds.ts';

interface Sewn {
  readonly begin: number;
  readonly end: number;
}

/** A shaping stitch, and how many stitches of the round before stand in front of it. */
interface Shaped {
  readonly name: string;
  readonly at: number;
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
  const moved = new Map(atRim.map((i, k) => [i, spreadAnew(rounds[i], k, seam)]));
  return [...moved.values()].includes(null)
    ? rounds
    : rounds.map((round, i) => ({ ...round, names: moved.get(i) ?? round.names }));
}

const isPlain = (name: string) => name === 'k' || name === 'p';
/** Stitches of the round before that it takes; of one of the designer's own it is not known here. */
const consumed = (name: string) => stitchKind(name)?.consumes ?? Number.NaN;

function spreadAnew(
  { names, wrongSide }: DraftRound,
  step: number,
  seam: Sewn | null,
): readonly string[] | null {
  const { begin, end } = seam ?? { begin: 0, end: 0 };
  const [first, last] = wrongSide ? [end, begin] : [begin, end];
  const inside = names.slice(first, names.length - last);
  const shaped: Shaped[] = [];
  const pattern: string[][] = [[], []];
  let stitches = 0;
  for (const name of inside) {
    if (isPlain(name)) pattern[stitches % 2].push(name);
    else shaped.push({ name, at: stitches });
    stitches += consumed(name);
  }
  const plain = pattern.map((turn) => (new Set(turn).size === 1 ? turn[0] : null));
  if (shaped.length < 3 || plain.includes(null) || Number.isNaN(stitches)) return null;
  const period = plain[0] === plain[1] ? 1 : 2;
  const taken = shaped.reduce((sum, { name }) => sum + consumed(name), 0);
  const from = (((step + 0.5) * GOLDEN) % 1) * (stitches - taken);
  const aside = from < shaped.length ? 1 : -1;
  const made: string[] = [];
  let at = 0;
  const fill = (to: number) => {
    for (; at < to; at++) made.push(plain[at % 2] ?? 'k');
  };
  for (const [j, { name, at: before }] of shaped.entries()) {
    const ideal = Math.floor((j * stitches + from) / shaped.length);
    // A stitch in knit and purl by turns stays with its like, the first one inside the round.
    const place = ideal + (period === 2 && (ideal + before) % 2 === 1 ? aside : 0);
    if (place < at) return null;
    fill(place);
    made.push(name);
    at += consumed(name);
  }
  fill(stitches);
  return [...names.slice(0, first), ...made, ...names.slice(names.length - last)];
}
