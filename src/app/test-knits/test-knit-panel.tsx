/** The test-knit log: what a sample measured against what was predicted, and what it says of the yarn. */

import { yarnsOf } from '../../report/known-gauges.ts';
import { usePage } from '../state/page-store.ts';
import { useProject } from '../state/project-store.ts';
import { TestKnitForm } from './test-knit-form.tsx';
import { TestKnitPrint } from './test-knit-print.tsx';
import { YarnLog } from './yarn-log.tsx';

export default function TestKnitPanel() {
  const log = useProject((state) => state.project.testKnits);
  const knitted = usePage((state) => (state.work.state === 'rest' ? state.knitted : null));
  const yarns = yarnsOf(log);
  return (
    <div className="bench">
      <div className="bench-bar">
        <span className="soft">What your needles say, beside what was predicted</span>
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
            <ol className="plain-steps soft">
              <li>Knit a sample, or the square itself, with the yarn and needle of the plan.</li>
              <li>Wash and dry it as the piece will be, and let it rest flat.</li>
              <li>Measure away from its edges and enter it above: any one figure will do.</li>
              <li>
                Here you then see how far the prediction was off, and can put your own gauge into
                the plan.
              </li>
            </ol>
          )}
        </div>
      </section>
      <TestKnitPrint log={log} yarns={yarns} />
    </div>
  );
}
