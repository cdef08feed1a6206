/**
 * The whole flow, one call per arrow: plan text → plan → stitch graph → metric → relaxed sheet →
 * report. The worker, the command line and the tests all come through here; `flow/` holds the arrows.
 */
import { canRelax, prepare } from './flow/prepare.ts';
import { type KnitOptions, type Knitted, relax } from './flow/relax-prepared.ts';
import { parsePlan } from './plan/parse.ts';
import type { Plan } from './plan/plan.ts';

export {
  type DraftTrial,
  draftMeasured,
  gradeToSize,
  type Judgement,
  type MeasuredDraft,
  type MeasuredGrade,
} from './flow/draft-measured.ts';
export { shareSchedule } from './flow/grade-sizes.ts';
export { judgeFabric } from './flow/judge-fabric.ts';
export { canRelax, gaugeOfYarn, type Prepared, prepare } from './flow/prepare.ts';
export { type KnitOptions, type Knitted, relax, unpin } from './flow/relax-prepared.ts';

/** Text to finished report; null where the plan has errors (they are in `plan.diagnostics`). */
export function knit(
  text: string,
  options: KnitOptions = {},
): { plan: Plan; knitted: Knitted | null } {
  const plan = parsePlan(text);
  return { plan, knitted: canRelax(plan) ? relax(prepare(plan), options) : null };
}
