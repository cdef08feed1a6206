/** A plan at another size or gauge, from what its fabric on the table measures; failures are words. */
import { gradePlan, rimStitches } from '../draft/grade.ts';
import { parsePlan } from '../plan/parse.ts';
import type { Plan } from '../plan/plan.ts';
import type { Report } from '../report/report.ts';

export interface GradedPlan {
  readonly text: string;
  readonly castOn: number;
  readonly sizeMm: number;
  readonly notes: readonly string[];
}

export type Grading =
  | { readonly graded: GradedPlan; readonly trouble: null }
  | { readonly graded: null; readonly trouble: string };

export interface GradingWishes {
  readonly sizeMm: number;
  readonly stitchMm: number;
  readonly roundMm: number;
}

export function gradeMeasured(plan: Plan, report: Report, wishes: GradingWishes): Grading {
  try {
    const corners = report.corners >= 3 ? report.corners : 0;
    // Panels pull in: the side is narrower than its stitches say.
    const sideLack =
      corners > 0 ? rimStitches(plan) / corners - report.sideMm / report.metric.stitchMm : 0;
    const { text, castOn, sizeMm, notes } = gradePlan(plan, { ...wishes, corners, sideLack });
    const mistake = parsePlan(text).diagnostics.find((d) => d.severity === 'error');
    if (mistake) return { graded: null, trouble: `This size cannot be worked: ${mistake.message}` };
    return { graded: { text, castOn, sizeMm, notes }, trouble: null };
  } catch (error) {
    return { graded: null, trouble: error instanceof Error ? error.message : String(error) };
  }
}

/** Text of the graded plan, its shaping timed by what the fabric measures. */
export async function timedText(
  graded: GradedPlan,
  report: Report,
  gauge: Omit<GradingWishes, 'sizeMm'>,
): Promise<string> {
  const { timeFlat } = await import('./flat-timing.ts');
  return timeFlat(graded, { ...gauge, corners: report.corners });
}
