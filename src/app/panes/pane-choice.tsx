/** Which of the three panes a narrow screen shows, with what each has to say. */
import type { Plan } from '../../plan/plan.ts';
import { sizeFact } from '../../report/words/size-fact.ts';
import { useNarrow } from '../state/media.ts';
import type { Pane } from '../state/page-store.ts';
import { page, usePage } from '../state/page-store.ts';
import { unitOf } from '../state/units.ts';

const PANES: readonly { readonly id: Pane; readonly name: string }[] = [
  { id: 'plan', name: 'Plan' },
  { id: 'fabric', name: 'Fabric' },
  { id: 'verdict', name: 'Verdict' },
];

export function PaneChoice() {
  const shown = usePage((state) => state.pane);
  const plan = usePage((state) => state.plan);
  const text = usePage((state) => state.text);
  const last = usePage((state) => state.knitted);
  const units = usePage((state) => state.preferences.units);
  const narrow = useNarrow();
  if (!narrow) return null;
  // Of another text they would be told as this one's.
  const knitted = last?.plan.text === text ? last : null;
  const under: Record<Pane, string> = {
    plan: plan ? planWords(plan) : '',
    fabric: knitted ? sizeFact(knitted.report, unitOf(units)).words : '',
    verdict: knitted ? knitted.report.verdict : '',
  };
  return (
    <nav className="pane-choice" aria-label="Panes">
      {PANES.map(({ id, name }) => (
        <button
          key={id}
          type="button"
          aria-current={shown === id}
          onClick={() => page.set({ pane: id })}
        >
          {name}
          <small>{under[id]}</small>
        </button>
      ))}
    </nav>
  );
}

/** Nothing of a plan that is not begun. */
function planWords(plan: Plan): string {
  const mistakes = plan.diagnostics.filter((d) => d.severity === 'error').length;
  if (mistakes) return `${mistakes} ${mistakes === 1 ? 'mistake' : 'mistakes'}`;
  return plan.castOn > 0 && plan.rounds.length > 0 ? 'in order' : '';
}
