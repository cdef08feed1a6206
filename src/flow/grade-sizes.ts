/**
 * One plan at several sizes that are written in one text: each at its own best, then shaped in step with the longest
 * one where that shares lines and costs nothing.
 * In: the plan, the sizes asked. Out: the gradings in the order asked.
 */
import { linesApart } from '../draft/motif/merge-sizes.ts';
import type { GradeSpec } from '../draft/rework/grade-spec.ts';
import type { Plan } from '../plan/plan.ts';
import { liesFlat } from '../report/words/verdict-words.ts';
import { gradeToSize, type JudgeOptions, type MeasuredGrade } from './draft-measured.ts';

/** Stitches a side that a size may be off more than alone, where alone it is within that. Chosen: half of one. */
const NEAR = 0.5;

/** `graded[k]`: the plan at `specs[k]` alone. Sizes that stay as they are are the same objects. */
export function shareSchedule(
  plan: Plan,
  specs: readonly GradeSpec[],
  graded: readonly MeasuredGrade[],
  options: JudgeOptions = {},
): MeasuredGrade[] {
  const longest = graded.reduce((a, b) => (b.spacing.length > a.spacing.length ? b : a));
  return graded.map((alone, k) => {
    const apart = apartFrom(longest, alone);
    if (alone === longest || apart === 0) return alone;
    const inStep = tryGrade(plan, { ...specs[k], like: longest.spacing }, options);
    const better = inStep && apartFrom(longest, inStep) < apart;
    return better && isAsGood(inStep, alone, specs[k]) ? inStep : alone;
  });
}

/** Lines that the two tell apart, beyond those that the longer one has more. */
function apartFrom(longest: MeasuredGrade, other: MeasuredGrade): number {
  const lines = (text: string) => text.trimEnd().split('\n').length;
  const more = Math.abs(lines(longest.text) - lines(other.text));
  return linesApart([longest.text, other.text]) - more;
}

function tryGrade(plan: Plan, spec: GradeSpec, options: JudgeOptions): MeasuredGrade | null {
  try {
    return gradeToSize(plan, spec, options);
  } catch (error) {
    if (error instanceof RangeError) return null;
    throw error;
  }
}

/** The verdict no worse, and the size as near, or within half a stitch a side. */
function isAsGood(
  inStep: MeasuredGrade,
  alone: MeasuredGrade,
  { sizeMm, stitchMm }: GradeSpec,
): boolean {
  const off = (one: MeasuredGrade) => Math.abs(one.sizeMm - sizeMm) / stitchMm;
  const flat = inStep.verdict === 'flat' || inStep.verdict === alone.verdict;
  const lies = inStep.verdict !== null && liesFlat(inStep.verdict);
  return flat && lies && off(inStep) <= Math.max(NEAR, off(alone) + 1e-6);
}
