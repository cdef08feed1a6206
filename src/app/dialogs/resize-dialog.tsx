/** The plan at hand at another size or gauge: same shaping and panels, other stitches. */
import { useEffect, useMemo, useRef, useState } from 'react';
import type { MeasuredGrade } from '../../knit.ts';
import { VERDICT_HEADLINES } from '../../report/words/verdict-words.ts';
import { DraftClient } from '../../worker/draft-client.ts';
import type { KnittedSheet } from '../../worker/messages.ts';
import { gaugeSpan } from '../state/gauge-span.ts';
import { gradeSpec, type SizeAndGauge } from '../state/grading.ts';
import { plainNumber, positiveNumber } from '../state/number-entry.ts';
import { page, usePage } from '../state/page-store.ts';
import { changeText } from '../state/plan-actions.ts';
import { lengthText, MM_PER_INCH, type Units } from '../state/units.ts';
import { Dialog } from '../ui/dialog.tsx';

interface Entries {
  readonly size: string;
  readonly stitches: string;
  readonly rounds: string;
}

export default function ResizeDialog({ onClose }: { readonly onClose: () => void }) {
  const units = usePage((state) => state.preferences.units);
  const [knitted] = useState(() => page.get().knitted);
  return (
    <Dialog id="resize-name" name="Another size or gauge" onClose={onClose}>
      <div className="dialog-body">
        {knitted && <ResizeForm knitted={knitted} units={units} onClose={onClose} />}
      </div>
    </Dialog>
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
  const outcome = useGrading(knitted, entries, perUnit, span.mm);
  const graded = outcome.state === 'mistake' ? null : outcome.graded;
  const ready = outcome.state === 'done';
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
        if (!ready || !graded) return;
        onClose();
        void changeText(
          graded.text,
          'before another size',
          'The plan is changed. Undo takes it back.',
        );
      }}
    >
      <p className="soft">
        Panels and corners stay as they are; the ground between them grows or shrinks, and rounds of
        shaping are added or left out. They are timed so that the piece lies flat, and its size and
        verdict are those of the relaxed fabric.
      </p>
      <div className="wish-row">
        {field(`${report.corners >= 3 ? 'Side' : 'Diameter'}, ${units}`, 'size')}
        {field(`Stitches in ${span.words}`, 'stitches')}
        {field(`Rounds in ${span.words}`, 'rounds')}
      </div>
      {outcome.state === 'mistake' && (
        <p className="outcome-mistake" role="alert">
          {outcome.message}
        </p>
      )}
      {outcome.state !== 'mistake' && (
        <dl className="facts" aria-live="polite" aria-busy={!ready}>
          <div>
            <dt>Cast on</dt>
            <dd>
              {graded ? `${graded.castOn} sts` : 'Counting stitches…'}{' '}
              {graded && <small>instead of {knitted.plan.castOn}</small>}
            </dd>
          </div>
          <div>
            <dt>Comes to</dt>
            <dd>
              {graded ? lengthText(graded.sizeMm, units) : '…'}{' '}
              {graded && <small>{graded.verdict !== null ? 'relaxed' : 'by its stitches'}</small>}
            </dd>
          </div>
          <div className="facts-wide">
            <dt>Verdict</dt>
            <dd>
              {!graded && '…'}
              {graded &&
                (graded.verdict === null
                  ? 'Too big to be relaxed here'
                  : VERDICT_HEADLINES[graded.verdict])}
            </dd>
          </div>
        </dl>
      )}
      {graded && graded.notes.length > 0 && (
        <ul className="traded">
          {graded.notes.map((note) => (
            <li key={note}>{note}</li>
          ))}
        </ul>
      )}
      <button type="submit" className="button button-primary" disabled={!ready}>
        {outcome.state === 'grading' ? 'Measuring…' : 'Change the plan'}
      </button>
    </form>
  );
}

type Outcome =
  | { readonly state: 'grading'; readonly graded: MeasuredGrade | null }
  | { readonly state: 'done'; readonly graded: MeasuredGrade }
  | { readonly state: 'mistake'; readonly message: string };

/** The grading follows the entries after this pause. Chosen. */
const GRADING_PAUSE_MS = 260;

function useGrading(
  knitted: KnittedSheet,
  entries: Entries,
  perUnit: number,
  spanMm: number,
): Outcome {
  const [outcome, setOutcome] = useState<Outcome>({ state: 'grading', graded: null });
  const client = useRef<DraftClient | null>(null);
  const asked = useMemo(() => readEntries(entries, perUnit, spanMm), [entries, perUnit, spanMm]);
  useEffect(() => () => client.current?.close(), []);
  useEffect(() => {
    if (!asked) {
      setOutcome({ state: 'mistake', message: 'Write size and gauge as numbers.' });
      return;
    }
    setOutcome((last) => ({
      state: 'grading',
      graded: last.state === 'mistake' ? null : last.graded,
    }));
    const { plan, report } = knitted;
    const pause = setTimeout(() => {
      client.current ??= new DraftClient();
      client.current.grade(plan.text, gradeSpec(plan, report, asked), {
        onDone: (graded) => setOutcome({ state: 'done', graded }),
        onFailed: (message) => setOutcome({ state: 'mistake', message }),
      });
    }, GRADING_PAUSE_MS);
    return () => clearTimeout(pause);
  }, [asked, knitted]);
  return outcome;
}

/** Null where an entry is no number. */
function readEntries(entries: Entries, perUnit: number, spanMm: number): SizeAndGauge | null {
  const size = positiveNumber(entries.size);
  const stitches = positiveNumber(entries.stitches);
  const rounds = positiveNumber(entries.rounds);
  if (size === null || stitches === null || rounds === null) return null;
  return { sizeMm: size * perUnit, stitchMm: spanMm / stitches, roundMm: spanMm / rounds };
}
