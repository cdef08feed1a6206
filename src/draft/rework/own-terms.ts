/** A plan made anew from another is told in its terms: "Tension" and "Cast off" where the designer writes so. */
import type { Plan } from '../../plan/plan.ts';
import { type PlanOutline, planText } from '../../plan/write/plan-text.ts';
import { inPlanTerms } from '../../report/words/terms.ts';

export function planTextLike(plan: Plan, outline: PlanOutline): string {
  return inPlanTerms(planText(outline), plan);
}
