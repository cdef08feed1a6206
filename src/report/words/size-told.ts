/**
 * The size of a draft or a grading in words, by how it was found.
 * In: the size, mm, with its judgement. Out: a length, or the two that it lies between, and how that is known.
 */
import type { Verdict } from '../verdict.ts';
import { type LengthUnit, lengthWords } from './length.ts';

export interface SizeFound {
  readonly sizeMm: number;
  /** Null where it was not relaxed. */
  readonly verdict: Verdict | null;
  /** Null where it stands up for certain and was not brought to rest. */
  readonly riseMm?: number | null;
}

/**
 * How far the size of a piece that was not brought to rest may be off, share. Measured: 4 of some 700 random gradings
 * beyond 2 %, the worst 3.3 %.
 */
export const UNRESTED_SPREAD = 0.04;

export function sizeTold(
  { sizeMm, verdict, riseMm }: SizeFound,
  unit: LengthUnit,
): { readonly words: string; readonly how: string } {
  const long = (mm: number) => lengthWords(mm, unit);
  if (verdict === null) return { words: long(sizeMm), how: 'by its stitches' };
  if (riseMm !== null) return { words: long(sizeMm), how: 'relaxed' };
  const [least, most] = [1 - UNRESTED_SPREAD, 1 + UNRESTED_SPREAD].map((share) =>
    long(share * sizeMm),
  );
  return {
    words: least === most ? least : `between ${least} and ${most}`,
    how: 'it stands up, and is too big to be brought to rest here',
  };
}
