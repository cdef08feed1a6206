/** The test-knit log on paper: every sample beside its prediction, and the gauge that follows. */

import { knowledgeOf } from '../../report/known-gauges.ts';
import type { TestKnit } from '../../report/test-knit.ts';
import { PrintSheet } from '../print/print-sheet.tsx';
import { usePage } from '../state/page-store.ts';
import { Compared } from './test-knit-form.tsx';
import { ToldGauge } from './yarn-log.tsx';

export function TestKnitPrint(props: {
  readonly log: readonly TestKnit[];
  readonly yarns: readonly string[];
}) {
  const { log, yarns } = props;
  const units = usePage((state) => state.preferences.units);
  return (
    <PrintSheet name="test-knits">
      <h1 className="written-title">Test knits</h1>
      {yarns.length === 0 && <p>Nothing is entered yet.</p>}
      {yarns.map((yarn) => {
        const { gauge, trouble } = knowledgeOf(log, yarn);
        return (
          <section key={yarn} className="print-log">
            <h2>{yarn}</h2>
            {trouble !== null && <p>{trouble}</p>}
            {gauge && <ToldGauge gauge={gauge} />}
            {log
              .filter((entry) => entry.yarn === yarn)
              .map((entry) => (
                <div className="print-sample" key={entry.id}>
                  <h3>
                    {entry.id.replace('-', ' ')}
                    {entry.note && ` · ${entry.note}`}
                    {!entry.counts && ' · left out'}
                  </h3>
                  <Compared entry={entry} units={units} />
                </div>
              ))}
          </section>
        );
      })}
    </PrintSheet>
  );
}
