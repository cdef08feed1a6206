/** A plan made anew from another is told in its terms: "Tension" and "Cast off" where the designer writes so. */
import type { Plan } from '../../plan/plan.ts';
import { type PlanOutline, planText } from '../../plan/write/plan-text.ts';
import { inTerms, ownWords, termsOf } from '../../report/words/terms.ts';

export function planTextLike(plan: Plan, outline: PlanOutline): string {
  const text = planText(outline);
  return termsOf(plan) === 'british' ? inTerms(text, 'british', ownWords(plan)) : text;
}
