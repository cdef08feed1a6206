/** The blanket: squares kept, the grid they are laid on, how they fit, and the yarn for all of it. */
import { useState } from 'react';
import { DEMOS } from '../demo/demos.ts';
import { useSmall } from '../state/media.ts';
import { usePage } from '../state/page-store.ts';
import { keepAsSquare } from '../state/project-actions.ts';
import { changeProject } from '../state/project-store.ts';
import { keptColours } from '../state/square-colours.ts';
import { ActionButton } from '../ui/action-button.tsx';
import { useBlanket } from './blanket-facts.ts';
import { BlanketFit } from './blanket-fit.tsx';
import { BlanketGrid } from './blanket-grid.tsx';
import { BlanketMeasures } from './blanket-measures.tsx';
import { BlanketPrint } from './blanket-print.tsx';
import { SquareList } from './square-list.tsx';

export default function BlanketPanel() {
  const facts = useBlanket();
  const [chosen, setChosen] = useState<string | null>(null);
  const small = useSmall();
  const plan = usePage((state) => state.plan);
  const text = usePage((state) => state.text);
  const brush = facts.entries.find(({ id }) => id === chosen)?.id ?? facts.entries[0]?.id ?? null;
  const kept = facts.entries.some((entry) => entry.text === text);
  return (
    <div className="bench">
      <div className="bench-bar">
        <ActionButton
          className="button button-small"
          why={
            kept
              ? 'This plan is a square of the blanket already'
              : plan && plan.castOn > 0
                ? ''
                : 'Write a plan first'
          }
          title="Keep the plan in the editor as a square"
          onClick={keepAsSquare}
        >
          {kept ? 'This plan is kept' : 'Keep this plan'}
        </ActionButton>
        {facts.entries.length > 0 && !small && <BlanketMeasures />}
        <span className="push" />
        <ActionButton
          className="button button-small button-primary"
          why={facts.report ? '' : 'Lay a square on the grid first'}
          title="Print the layout, seams and yarn"
          onClick={() => window.print()}
        >
          Print
        </ActionButton>
      </div>
      <section
        className="bench-sheet"
        aria-label="Blanket"
        // biome-ignore lint/a11y/noNoninteractiveTabindex: a scrolling region takes the keys that scroll it
        tabIndex={0}
      >
        {facts.entries.length === 0 ? (
          <Empty />
        ) : (
          <div className="blanket">
            {small && (
              <details className="blanket-measures">
                <summary>Grid, side and seams</summary>
                <BlanketMeasures />
              </details>
            )}
            <SquareList
              entries={facts.entries}
              report={facts.report}
              brush={brush}
              onBrush={setChosen}
            />
            <BlanketGrid entries={facts.entries} report={facts.report} brush={brush} />
            {facts.report ? (
              <BlanketFit facts={facts} report={facts.report} />
            ) : (
              <p className="soft">
                {facts.waiting > 0
                  ? 'The squares are coming to rest…'
                  : 'Choose a square, then the places of the grid where it lies.'}
              </p>
            )}
          </div>
        )}
      </section>
      {facts.report && <BlanketPrint facts={facts} report={facts.report} />}
    </div>
  );
}

function Empty() {
  return (
    <div className="blanket-empty">
      <h3>No squares yet</h3>
      <ol className="plain-steps">
        <li>Press “Keep this plan” above: the square you are writing becomes the first.</li>
        <li>
          Write the next square in “Plan”, or choose “New square…” under “Plans”. Keep it too.
        </li>
        <li>Choose a square here, then press the places of the grid where it lies.</li>
        <li>
          Then you read here which squares come out the same size, what the seams have to ease in,
          which to adjust, and how much yarn of each colour it takes.
        </li>
      </ol>
      <button type="button" className="button" onClick={layOutDemo}>
        Look at the Saltmarsh blanket
      </button>
    </div>
  );
}

function layOutDemo(): void {
  const plans = DEMOS.map(({ name, text, colour }, i) => ({
    id: `square-${i + 1}`,
    name,
    text,
    colours: keptColours({ mainColour: colour, stripeColour: colour, stripeRounds: 0 }),
  }));
  const rows = Array.from({ length: 3 }, (_, r) =>
    Array.from({ length: 3 }, (__, c) => plans[(r + c) % plans.length].id),
  );
  changeProject('laid out the Saltmarsh blanket', {
    title: 'Saltmarsh blanket',
    plans,
    blanket: { rows, targetMm: null, easeShare: 0.03 },
  });
}
