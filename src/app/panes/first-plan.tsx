/** The plan while the editor is on its way: its text to be read, and its counts where they are known. */
import type { Plan } from '../../plan/plan.ts';
import { usePage } from '../state/page-store.ts';
import { planSummary } from '../ui/piece-words.ts';

export function FirstPlan() {
  const text = usePage((state) => state.text);
  const plan = usePage((state) => state.plan);
  return (
    <>
      <div className="pane-head">
        <h2 id="plan-name">Plan</h2>
        <span className="plan-state">{plan ? planSummary(plan) : ''}</span>
      </div>
      {/* biome-ignore lint/a11y/noNoninteractiveTabindex: it scrolls */}
      <pre className="first-plan" tabIndex={0}>
        {text === ''
          ? 'Getting the plan out…'
          : text.split('\n').map((line, k) => (
              // biome-ignore lint/suspicious/noArrayIndexKey: lines stay where they are
              <span key={k}>
                {line || ' '}
                <b>{plan ? countAt(plan, k + 1) : ''}</b>
              </span>
            ))}
      </pre>
    </>
  );
}

/** Stitches after the round that begins in a line; null where none does. */
function countAt(plan: Plan, line: number): number | null {
  if (plan.castOnAt?.line === line) return plan.castOn;
  return plan.rounds.find((round) => round.from.line === line)?.after ?? null;
}
