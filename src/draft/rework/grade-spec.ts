/**
 * What a grading is asked, and the words for what it could not keep of that.
 * In: the size asked, what it comes to, mm. Out: notes and refusals, in a knitter's words.
 */
import type { Verdict } from '../../report/verdict.ts';
import { type LengthUnit, lengthWords } from '../../report/words/length.ts';

export interface GradeSpec {
  /** Side of the finished motif, diameter of a disc, mm. */
  readonly sizeMm: number;
  /** Ground gauge to work at, mm. */
  readonly stitchMm: number;
  readonly roundMm: number;
  /** Corner lines; 0 where the shaping is spread (the size is then the diameter). */
  readonly corners: number;
  /** Stitches by which a side is narrower than its count at the rim (panels), from the report. */
  readonly sideDeficit?: number;
  /** Rounds from each shaping round to the next of another size in the same pattern: followed where it lies flat. */
  readonly like?: readonly number[];
  /** What refusals measure in; cm by default. */
  readonly units?: LengthUnit;
}

/** Of whole stitches, as the verdict beside them has it. */
function flatWords(verdict: Verdict | null): string {
  if (verdict === 'flat') return ' that lie flat';
  return verdict === 'flat after blocking' ? ' that lie flat after blocking' : '';
}

/** What a size that is not the one asked trades, in a knitter's words; `otherMm`: the next on the
 * other side of it; `verdict`: of the piece so graded, null where it was not relaxed. */
export function sizeNotes(
  { sizeMm, corners, units = 'cm' }: GradeSpec,
  comesToMm: number,
  otherMm: number | null,
  verdict: Verdict | null,
): string[] {
  const [asked, comes] = [sizeMm, comesToMm].map((mm) => lengthWords(mm, units));
  if (asked === comes) return [];
  const what = corners >= 3 ? 'side' : 'diameter';
  const either =
    otherMm === null
      ? ''
      : ` The sizes on either side of it are ${[comesToMm, otherMm]
          .sort((a, b) => a - b)
          .map((mm) => lengthWords(mm, units))
          .join(' and ')}.`;
  return [
    `Whole stitches${flatWords(verdict)}: the ${what} comes to ${comes} instead of ${asked}.${either}`,
  ];
}

/** Why a plan is refused a size: what comes nearest is neither that size nor flat. */
export function cannotGrade(
  { sizeMm, corners, units = 'cm' }: GradeSpec,
  comesToMm: number,
  verdict: Verdict,
): string {
  const [asked, comes] = [sizeMm, comesToMm].map((mm) => lengthWords(mm, units));
  const what = corners >= 3 ? 'side' : 'diameter';
  return `This plan cannot be graded to a ${what} of ${asked}: what comes nearest is ${comes} and does not lie flat (${verdict}). Draft a new plan of that size instead.`;
}
