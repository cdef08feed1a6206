/**
 * A plan at another size or gauge: counted and measured by the worker, as it takes a moment. Failures are
 * words for the user.
 */
import type { GradeSpec } from '../../draft/rework/grade-spec.ts';
import { isOpen, openSides } from '../../draft/rework/open-piece.ts';
import { groundGauge, sideDeficitOf } from '../../draft/rework/rim-stitches.ts';
import type { MeasuredGrade } from '../../knit.ts';
import type { Plan } from '../../plan/plan.ts';
import type { Report } from '../../report/report.ts';
import { DraftClient } from '../../worker/draft-client.ts';

export type Grading =
  | { readonly graded: MeasuredGrade; readonly trouble: null }
  | { readonly graded: null; readonly trouble: string };

export interface SizeAndGauge {
  readonly sizeMm: number;
  readonly stitchMm: number;
  readonly roundMm: number;
}

/** What the grading starts from: the pull-in of the fabric on the table. */
export function gradeSpec(plan: Plan, report: Report, spec: SizeAndGauge): GradeSpec {
  const corners = report.corners >= 3 ? report.corners : 0;
  const { stitchMm } = groundGauge(plan, report.metric);
  return { ...spec, corners, sideDeficit: sideDeficitOf(plan, report, stitchMm) };
}

/** What the piece at hand is sized by, and its size, mm. */
export function ownSize(plan: Plan, report: Report): { name: 'Side' | 'Diameter'; mm: number } {
  if (!isOpen(plan)) return { name: report.corners >= 3 ? 'Side' : 'Diameter', mm: report.sideMm };
  try {
    return { name: 'Side', mm: report.sideMm / (openSides(plan) ?? 1) };
  } catch (error) {
    // The grading itself says why this piece has none.
    if (error instanceof RangeError) return { name: 'Side', mm: report.sideMm };
    throw error;
  }
}

/** One grading, in a worker of its own. */
export function gradeOnce(plan: Plan, report: Report, spec: SizeAndGauge): Promise<Grading> {
  const client = new DraftClient();
  return new Promise((resolve) => {
    const end = (grading: Grading) => {
      client.close();
      resolve(grading);
    };
    client.grade(plan.text, [gradeSpec(plan, report, spec)], {
      onDone: ([graded]) => end({ graded, trouble: null }),
      onFailed: (trouble) => end({ graded: null, trouble }),
    });
  });
}
