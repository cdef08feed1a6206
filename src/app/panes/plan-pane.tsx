/** The plan: its editor, and the list of mistakes for those who don't see squiggles. */
import { useEffect, useRef, useState } from 'react';
import type { Plan } from '../../plan/plan.ts';
import type { PlanEditorHandle } from '../editor/plan-editor.tsx';
import { PlanEditor } from '../editor/plan-editor.tsx';
import { focusLine, page, usePage } from '../state/page-store.ts';
import { planRead, planReadElsewhere } from '../state/relax-on-edit.ts';
import { planHistory, planHistoryGone } from '../state/undo.ts';
import { planSummary } from '../ui/piece-words.ts';

/** Mistakes listed under the editor; the rest is in the text. Chosen: what fits without scrolling far. */
const LISTED = 40;

export default function PlanPane() {
  // As it is when the editor comes, which may be after plain text was written in its place.
  const [initialText] = useState(() => page.get().text);
  const editor = useRef<PlanEditorHandle>(null);
  const plan = usePage((state) => state.plan);

  useEffect(() => {
    page.set({ editor: editor.current });
    return () => {
      page.set({ editor: null });
      planHistoryGone();
    };
  }, []);

  return (
    <>
      <div className="pane-head">
        <h2 id="plan-name">Plan</h2>
        <span className="plan-state">{plan ? planSummary(plan) : ''}</span>
      </div>
      <p id="plan-help" className="only-heard">
        Write the piece as you would for knitters, one round a line. Control Space completes a
        stitch. F8 goes to the next mistake.
      </p>
      <PlanEditor
        ref={editor}
        initialText={initialText}
        onText={(text) => page.set({ text })}
        onPlan={planRead}
        firstPlan={planReadElsewhere}
        onCaretLine={focusLine}
        onHistory={planHistory}
      />
      {plan && plan.text.trim() !== '' && plan.diagnostics.length > 0 && <Mistakes plan={plan} />}
    </>
  );
}

function Mistakes({ plan }: { readonly plan: Plan }) {
  const editor = usePage((state) => state.editor);
  const order = { error: 0, warning: 1, note: 2 };
  const listed = [...plan.diagnostics]
    .sort((a, b) => order[a.severity] - order[b.severity] || a.from.line - b.from.line)
    .slice(0, LISTED);
  const errors = plan.diagnostics.filter((d) => d.severity === 'error').length;
  return (
    <section className="mistakes" aria-labelledby="mistakes-name">
      <h3 id="mistakes-name">
        {errors > 0 ? `${errors} ${errors === 1 ? 'mistake' : 'mistakes'}` : 'Remarks'}
      </h3>
      <ul>
        {listed.map((mistake) => (
          <li
            key={`${mistake.from.line}:${mistake.from.column}:${mistake.code}:${mistake.message}`}
          >
            <button
              type="button"
              className="mistake"
              data-severity={mistake.severity}
              onClick={() => editor?.goTo(mistake.from, true)}
            >
              <span
                className="mistake-place"
                title={`Line ${mistake.from.line}, character ${mistake.from.column}`}
              >
                <span className="only-heard">Line </span>
                {mistake.from.line}:{mistake.from.column}
              </span>
              <span className="mistake-words">{mistake.message}</span>
              {mistake.hint && <span className="mistake-hint">{mistake.hint}</span>}
            </button>
          </li>
        ))}
      </ul>
    </section>
  );
}
