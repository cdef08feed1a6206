/**
 * Which edge stitches a seam takes where the text says only that the piece is sewn. In: what it says, rows as worked.
 * Out: stitches at the beginning and the end of right-side rows. Those that are over beside equal sides are there for
 * the seam; else one of each edge, as mattress stitch a whole stitch in takes them (common practice).
 */
import type { Plan, PlanRound } from '../plan.ts';
import { smallestPeriod } from '../write/fold-stitches.ts';

type Seam = NonNullable<Plan['seam']>;

/** `sewn`: the text does not say how many stitches it takes. */
export type SeamSaid = Seam | 'sewn' | null;

const EACH: Seam = { begin: 1, end: 1 };
const CHOICES: readonly Seam[] = [
  EACH,
  { begin: 1, end: 0 },
  { begin: 0, end: 1 },
  { begin: 0, end: 0 },
];
/** Fewer equal parts are no sides, more a small repeat. Chosen. */
const [LEAST_SIDES, MOST_SIDES] = [3, 12];

export function seamTaken(said: SeamSaid, rounds: readonly PlanRound[]): Seam | null {
  if (said !== 'sewn') return said;
  const shaped = rounds.some((row) => row.before !== row.after);
  if (!shaped || rounds.some((row) => row.shortRow)) return EACH;
  return CHOICES.find((seam) => sidesBeside(seam, rounds)) ?? EACH;
}

/** Whether all rows but for these stitches are equal sides. */
function sidesBeside({ begin, end }: Seam, rounds: readonly PlanRound[]): boolean {
  let sides = 0;
  for (const { works, wrongSide } of rounds) {
    const [first, last] = wrongSide ? [end, begin] : [begin, end];
    const inside = Array.from(works.subarray(first, works.length - last), String);
    if (inside.length === 0) return false;
    sides = gcd(sides, inside.length / smallestPeriod(inside));
    if (sides < LEAST_SIDES) return false;
  }
  return sides <= MOST_SIDES;
}

function gcd(a: number, b: number): number {
  return b === 0 ? a : gcd(b, a % b);
}
