/** The plan at hand at another size or gauge: same shaping and panels, other stitches. */
import { useDeferredValue, useEffect, useMemo, useRef, useState } from 'react';
import type { KnittedSheet } from '../worker/messages.ts';
import { gaugeSpan } from './gauge-span.ts';
import { type GradedPlan, type Grading, gradeMeasured, timedText } from './grading.ts';
import { plainNumber, positiveNumber } from './number-entry.ts';
import { page, usePage } from './page-store.ts';
import { changeText } from './plan-actions.ts';
import { lengthText, MM_PER_INCH, type Units } from './units.ts';

interface Entries {
  readonly size: string;
  readonly stitches: string;
  readonly rounds: string;
}

export default function ResizeDialog({ onClose }: { readonly onClose: () => void }) {
  const dialog = useRef<HTMLDialogElement>(null);
  const units = usePage((state) => state.preferences.units);
  const [knitted] = useState(() => page.get().knitted);
  useEffect(() => {
    dialog.current?.showModal();
  }, []);
  return (
    <dialog ref={dialog} className="dialog" aria-labelledby="resize-name" onClose={onClose}>
      <div className="dialog-head">
        <h2 id="resize-name">Another size or gauge</h2>
        <button type="button" className="button button-small" onClick={onClose}>
          Close
        </button>
      </div>
      <div className="dialog-body">
        {knitted && <ResizeForm knitted={knitted} units={units} onClose={onClose} />}
      </div>
    </dialog>
  );
}

function ResizeForm(props: {
  readonly knitted: KnittedSheet;
  readonly units: Units;
  readonly onClose: () => void;
}) {
  const { knitted, units, onClose } = props;
  const { report } = knitted;
  const span = gaugeSpan(units);
  const perUnit = units === 'cm' ? 10 : MM_PER_INCH;
  const [entries, setEntries] = useState<Entries>({
    size: plainNumber(report.sideMm / perUnit, 1),
    stitches: plainNumber(span.mm / report.metric.stitchMm, 1),
    rounds: plainNumber(span.mm / report.metric.roundMm, 1),
  });
  const settled = useDeferredValue(entries);
  const grading = useMemo(
    () => grade(knitted, settled, perUnit, span.mm),
    [knitted, settled, perUnit, span.mm],
  );
  const { graded, trouble } = grading;
  const field = (name: string, part: keyof Entries) => (
    <span className="log-field">
      <label htmlFor={`resize-${part}`}>{name}</label>
      <input
        id={`resize-${part}`}
        className="entry entry-short"
        inputMode="decimal"
        autoComplete="off"
        value={entries[part]}
        onChange={(event) => setEntries({ ...entries, [part]: event.target.value })}
      />
    </span>
  );
  return (
    <form
      className="resize"
      onSubmit={(event) => {
        event.preventDefault();
        if (!graded) return;
        onClose();
        void change(graded, knitted, settled, span.mm);
      }}
    >
      <p className="soft">
        Rounds of shaping are added or left out at the rim, with the stitches that belong to them;
        panels keep their places. The rounds are timed so that together they make 360°.
      </p>
      <div className="wish-row">
        {field(`${report.corners >= 3 ? 'Side' : 'Diameter'}, ${units}`, 'size')}
        {field(`Stitches in ${span.words}`, 'stitches')}
        {field(`Rounds in ${span.words}`, 'rounds')}
      </div>
      {graded ? (
        <dl className="facts" aria-live="polite">
          <div>
            <dt>Cast on</dt>
            <dd>
              {graded.castOn} sts <small>instead of {knitted.plan.castOn}</small>
            </dd>
          </div>
          <div>
            <dt>Comes to</dt>
            <dd>
              {lengthText(graded.sizeMm, units)} <small>in whole rounds of shaping</small>
            </dd>
          </div>
        </dl>
      ) : (
        <p className="outcome-mistake" role="alert">
          {trouble}
        </p>
      )}
      {graded && graded.notes.length > 0 && (
        <ul className="traded">
          {graded.notes.map((note) => (
            <li key={note}>{note}</li>
          ))}
        </ul>
      )}
      <button type="submit" className="button button-primary" disabled={!graded}>
        Change the plan
      </button>
    </form>
  );
}

async function change(
  graded: GradedPlan,
  { report }: KnittedSheet,
  entries: Entries,
  spanMm: number,
): Promise<void> {
  const text = await timedText(graded, report, {
    stitchMm: spanMm / (positiveNumber(entries.stitches) ?? Number.NaN),
    roundMm: spanMm / (positiveNumber(entries.rounds) ?? Number.NaN),
  });
  await changeText(text, 'before another size', 'The plan is changed. Undo takes it back.');
}

function grade(knitted: KnittedSheet, entries: Entries, perUnit: number, spanMm: number): Grading {
  const size = positiveNumber(entries.size);
  const stitches = positiveNumber(entries.stitches);
  const rounds = positiveNumber(entries.rounds);
  if (size === null || stitches === null || rounds === null) {
    return { graded: null, trouble: 'Write size and gauge as numbers.' };
  }
  return gradeMeasured(knitted.plan, knitted.report, {
    sizeMm: size * perUnit,
    stitchMm: spanMm / stitches,
    roundMm: spanMm / rounds,
  });
}
