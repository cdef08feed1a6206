/** Samples of one yarn, which of them count, the gauge that they tell, and what to do with it. */
import { useState } from 'react';
import { type KnownGauge, knowledgeOf } from '../../report/known-gauges.ts';
import { switchEntry, type TestKnit } from '../../report/test-knit.ts';
import { gaugeWords } from '../../report/words/gauge.ts';
import { calibrationWords, NO_SAMPLE_COUNTS } from '../../report/words/test-knit-words.ts';
import type { KnittedSheet } from '../../worker/messages.ts';
import { gradeOnce } from '../state/grading.ts';
import { notify, page, usePage } from '../state/page-store.ts';
import { changeText } from '../state/plan-actions.ts';
import { changeProject } from '../state/project-store.ts';
import { unitOf } from '../state/units.ts';
import { ActionButton } from '../ui/action-button.tsx';
import { type StatedGauge, stateGauge, states } from './state-gauge.ts';
import { Compared } from './test-knit-form.tsx';

export function YarnLog(props: {
  readonly yarn: string;
  readonly log: readonly TestKnit[];
  readonly knitted: KnittedSheet | null;
}) {
  const { yarn, log, knitted } = props;
  const units = usePage((state) => state.preferences.units);
  const entries = log.filter((entry) => entry.yarn === yarn);
  const { gauge, trouble } = knowledgeOf(log, yarn);
  return (
    <section className="log-card" aria-label={yarn}>
      <h3>{yarn}</h3>
      {trouble !== null && <p className="outcome-mistake">{trouble}</p>}
      {gauge ? (
        <Calibrated gauge={gauge} knitted={knitted} />
      ) : (
        trouble === null && <p className="soft">{NO_SAMPLE_COUNTS}</p>
      )}
      <ul className="samples">
        {entries.map((entry) => (
          <li key={entry.id} className="sample" data-counts={entry.counts}>
            <label className="with-unit">
              <input
                type="checkbox"
                checked={entry.counts}
                onChange={(event) =>
                  changeProject(event.target.checked ? 'counted a sample' : 'left a sample out', {
                    testKnits: switchEntry(log, entry.id, event.target.checked),
                  })
                }
              />
              <span>
                {entry.id.replace('-', ' ')} counts
                {entry.note && <span className="soft"> · {entry.note}</span>}
              </span>
            </label>
            <Compared entry={entry} units={units} />
          </li>
        ))}
      </ul>
    </section>
  );
}

function Calibrated(props: { readonly gauge: KnownGauge; readonly knitted: KnittedSheet | null }) {
  const { gauge, knitted } = props;
  return (
    <>
      <ToldGauge gauge={gauge} />
      {knitted && <Takeover gauge={gauge} knitted={knitted} />}
    </>
  );
}

/** The gauge that the samples tell, and how far it is from what was predicted. */
export function ToldGauge({ gauge }: { readonly gauge: KnownGauge }) {
  const units = usePage((state) => state.preferences.units);
  const { calibration } = gauge;
  const parts = calibrationWords(calibration);
  return (
    <>
      <p>
        <b>{gaugeWords(gauge, unitOf(units), 'round')}</b>
      </p>
      {parts.map((words) => (
        <p className="soft" key={words}>
          {words}
        </p>
      ))}
    </>
  );
}

/** The gauge goes into the plan: as it stands, or with its stitches changed to keep the size. */
function Takeover({
  gauge,
  knitted,
}: {
  readonly gauge: KnownGauge;
  readonly knitted: KnittedSheet;
}) {
  const { plan, report } = knitted;
  const [busy, setBusy] = useState(false);
  const state = (wanted: StatedGauge) => {
    const text = stateGauge(plan, report.metric.ground, wanted);
    if (text === null)
      notify('gauge', 'The gauge line of this plan could not be changed: write it anew.');
    else void changeText(text, 'before another gauge', 'The gauge is changed. Undo takes it back.');
  };
  const grade = async () => {
    setBusy(true);
    const { stitchMm, roundMm } = gauge;
    const { graded, trouble } = await gradeOnce(plan, report, {
      stitchMm,
      roundMm,
      sizeMm: report.sideMm,
    });
    setBusy(false);
    if (!graded) {
      notify('gauge', trouble);
      return;
    }
    if (page.get().text !== plan.text) {
      notify('gauge', 'The plan was changed meanwhile, and stays as it is: use the gauge again.');
      return;
    }
    await changeText(
      graded.text,
      'before another gauge',
      'The plan is changed. Undo takes it back.',
    );
  };
  if (states(report.metric, gauge)) {
    return (
      <div className="wish-row log-tools">
        <span className="soft">The plan states this gauge.</span>
        {!states(gauge.first, gauge) && (
          <button type="button" className="button button-small" onClick={() => state(gauge.first)}>
            Back to the gauge first predicted
          </button>
        )}
      </div>
    );
  }
  return (
    <div className="wish-row log-tools">
      <button type="button" className="button button-small" onClick={() => state(gauge)}>
        Use this gauge in the plan
      </button>
      <ActionButton
        className="button button-small"
        why={busy ? 'The stitches for this gauge are being counted' : ''}
        onClick={() => void grade()}
      >
        {busy ? 'Counting stitches…' : 'Use it and keep the size'}
      </ActionButton>
    </div>
  );
}
