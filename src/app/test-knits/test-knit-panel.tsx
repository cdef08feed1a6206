/** The test-knit log: what a sample measured against what was predicted, and what it says of the yarn. */
import { usePage } from '../state/page-store.ts';
import { undoProject, useProject } from '../state/project-store.ts';
import { yarnsOf } from './known-gauges.ts';
import { TestKnitForm } from './test-knit-form.tsx';
import { TestKnitPrint } from './test-knit-print.tsx';
import { YarnLog } from './yarn-log.tsx';

export default function TestKnitPanel() {
  const log = useProject((state) => state.project.testKnits);
  const past = useProject((state) => state.past.at(-1));
  const knitted = usePage((state) => (state.work.state === 'rest' ? state.knitted : null));
  const yarns = yarnsOf(log);
  return (
    <div className="bench">
      <div className="bench-bar">
        <span className="soft">What your needles say, beside what was predicted</span>
        <span className="push" />
        <button
          type="button"
          className="button button-small"
          disabled={!past}
          title={past ? `Undo: ${past.done}` : undefined}
          onClick={undoProject}
        >
          Undo
        </button>
      </div>
      <section
        className="bench-sheet"
        aria-label="Test knits"
        // biome-ignore lint/a11y/noNoninteractiveTabindex: a scrolling region takes the keys that scroll it
        tabIndex={0}
      >
        <div className="log">
          {knitted ? (
            <TestKnitForm knitted={knitted} key={knitted.plan.text} />
          ) : (
            <p className="soft">
              A sample can be entered once the fabric of its plan is at rest: its prediction is kept
              with it.
            </p>
          )}
          {yarns.map((yarn) => (
            <YarnLog key={yarn} yarn={yarn} log={log} knitted={knitted} />
          ))}
          {yarns.length === 0 && (
            <p className="soft">
              Nothing is entered yet. Wash and dry the sample as the piece will be, let it rest
              flat, and measure away from its edges.
            </p>
          )}
        </div>
      </section>
      <TestKnitPrint log={log} yarns={yarns} />
    </div>
  );
}
