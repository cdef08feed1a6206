/** The plan at hand at another size or gauge: same shaping and panels, other stitches. */
import { useEffect, useMemo, useRef, useState } from 'react';
import { joinSizes } from '../../draft/rework/graded-sizes.ts';
import type { MeasuredGrade } from '../../knit.ts';
import type { LengthUnit } from '../../report/words/length.ts';
import { sizeTold } from '../../report/words/size-told.ts';
import { VERDICT_HEADLINES } from '../../report/words/verdict-words.ts';
import { DraftClient } from '../../worker/draft-client.ts';
import type { KnittedSheet } from '../../worker/messages.ts';
import { gaugeSpan } from '../state/gauge-span.ts';
import { gradeSpec, ownSize, type SizeAndGauge } from '../state/grading.ts';
import { gaugeEntry, plainNumber, positiveNumber } from '../state/number-entry.ts';
import { page, usePage } from '../state/page-store.ts';
import { changeText } from '../state/plan-actions.ts';
import { MM_PER_INCH, type Units, unitOf } from '../state/units.ts';
import { ActionButton } from '../ui/action-button.tsx';
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
  const own = ownSize(knitted.plan, report);
  const [courses, Courses] =
    knitted.plan.worked === 'flat' ? ['rows', 'Rows'] : ['rounds', 'Rounds'];
  const [entries, setEntries] = useState<Entries>({
    size: plainNumber(own.mm / perUnit, 1),
    stitches: gaugeEntry(report.metric.stitchMm, span.mm),
    rounds: gaugeEntry(report.metric.roundMm, span.mm),
  });
  const outcome = useGrading(knitted, entries, perUnit, span.mm);
  const graded = outcome.state === 'mistake' ? [] : outcome.graded;
  const ready = outcome.state === 'done';
  const field = (name: string, part: keyof Entries) => (
    <span className="log-field">
      <label htmlFor={`resize-${part}`}>{name}</label>
      <input
        id={`resize-${part}`}
        className={`entry ${part === 'size' ? 'entry-sizes' : 'entry-short'}`}
        inputMode={part === 'size' ? 'text' : 'decimal'}
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
        if (outcome.state !== 'done') return;
        onClose();
        void changeText(
          textOf(outcome, unitOf(units)),
          'before another size',
          'The plan is changed. Undo takes it back.',
        );
      }}
    >
      <p className="soft">
        Panels and corners stay as they are; the ground between them grows or shrinks, and {courses}{' '}
        of shaping are added or left out. They are timed so that the piece lies flat, and its size
        and verdict are those of the fabric at rest.
      </p>
      <div className="wish-row">
        {field(`${own.name}, ${units}`, 'size')}
        {field(`Stitches in ${span.words}`, 'stitches')}
        {field(`${Courses} in ${span.words}`, 'rounds')}
      </div>
      {outcome.state === 'mistake' && (
        <p className="outcome-mistake" role="alert">
          {outcome.message}
        </p>
      )}
      <p className="soft">
        Several sizes make one pattern: write them one after another, such as 15; 20; 25.
      </p>
      {outcome.state !== 'mistake' && (
        <div className="resize-sizes" aria-live="polite" aria-busy={!ready}>
          {graded.length === 0 && <p className="soft">Counting stitches…</p>}
          {graded.map((one) => (
            <GradedFacts key={one.text} graded={one} was={knitted.plan.castOn} units={units} />
          ))}
        </div>
      )}
      <ActionButton
        type="submit"
        className="button button-primary"
        why={ready ? '' : WHY_NOT[outcome.state]}
      >
        {outcome.state === 'grading' ? 'Measuring…' : 'Change the plan'}
      </ActionButton>
    </form>
  );
}

function GradedFacts(props: {
  readonly graded: MeasuredGrade;
  readonly was: number;
  readonly units: Units;
}) {
  const { graded, was, units } = props;
  const told = sizeTold(graded, unitOf(units));
  return (
    <>
      <dl className="facts">
        <div>
          <dt>Cast on</dt>
          <dd>
            {graded.castOn} sts{' '}
            <small>{graded.castOn === was ? 'as now' : `instead of ${was}`}</small>
          </dd>
        </div>
        <div>
          <dt>Comes to</dt>
          <dd>
            {told.words} <small>{told.how}</small>
          </dd>
        </div>
        <div className="facts-wide">
          <dt>Verdict</dt>
          <dd>
            {graded.verdict === null
              ? 'Too big to come to rest here'
              : VERDICT_HEADLINES[graded.verdict]}
          </dd>
        </div>
      </dl>
      {graded.notes.length > 0 && (
        <ul className="traded">
          {graded.notes.map((note) => (
            <li key={note}>{note}</li>
          ))}
        </ul>
      )}
    </>
  );
}

/** The plan at the size asked, or at all of them in one text. */
function textOf({ graded, asked }: Extract<Outcome, { state: 'done' }>, unit: LengthUnit): string {
  if (graded.length === 1) return graded[0].text;
  const sizes = graded.map((one, k) => ({
    ...one,
    askedMm: asked[k].sizeMm,
    stitchMm: asked[k].stitchMm,
  }));
  return joinSizes(sizes, unit).text;
}
/** Why the plan cannot be changed yet. */
const WHY_NOT: Record<Outcome['state'], string> = {
  grading: 'Once the size is measured',
  mistake: 'It cannot be made so: see what is said above',
  done: '',
};

type Outcome =
  | { readonly state: 'grading'; readonly graded: readonly MeasuredGrade[] }
  | {
      readonly state: 'done';
      readonly graded: readonly MeasuredGrade[];
      readonly asked: readonly SizeAndGauge[];
    }
  | { readonly state: 'mistake'; readonly message: string };

/** The grading follows the entries after this pause. Chosen. */
const GRADING_PAUSE_MS = 260;

function useGrading(
  knitted: KnittedSheet,
  entries: Entries,
  perUnit: number,
  spanMm: number,
): Outcome {
  const [outcome, setOutcome] = useState<Outcome>({ state: 'grading', graded: [] });
  const client = useRef<DraftClient | null>(null);
  const { metric } = knitted.report;
  const asked = useMemo(
    () => readEntries(entries, perUnit, spanMm, metric),
    [entries, perUnit, spanMm, metric],
  );
  useEffect(() => () => client.current?.close(), []);
  useEffect(() => {
    if (!asked) {
      setOutcome({ state: 'mistake', message: 'Write size and gauge as numbers.' });
      return;
    }
    setOutcome((last) => ({
      state: 'grading',
      graded: last.state === 'mistake' ? [] : last.graded,
    }));
    const { plan, report } = knitted;
    let wanted = true;
    const specs = asked.map((one) => gradeSpec(plan, report, one));
    const grade = () => {
      client.current ??= new DraftClient();
      client.current.grade(plan.text, specs, {
        onSome: (graded) => wanted && setOutcome({ state: 'grading', graded }),
        onDone: (graded) => wanted && setOutcome({ state: 'done', graded, asked }),
        onFailed: (message) => wanted && setOutcome({ state: 'mistake', message }),
      });
    };
    const pause = setTimeout(grade, GRADING_PAUSE_MS);
    return () => {
      wanted = false;
      clearTimeout(pause);
    };
  }, [asked, knitted]);
  return outcome;
}

/** Sizes in one entry: `15; 20`, `15, 20` or `15 20`; a comma between figures alone is a decimal one. */
const BETWEEN_SIZES = /\s*;\s*|,\s+|\s+/;
/** Most sizes of one text: the reader's. */
const MOST_SIZES = 16;

/** Null where an entry is no number. A gauge left as it stood there is the piece's `own`, not what its decimals say. */
function readEntries(
  entries: Entries,
  perUnit: number,
  spanMm: number,
  own: { readonly stitchMm: number; readonly roundMm: number },
): SizeAndGauge[] | null {
  const sizes = entries.size.trim().split(BETWEEN_SIZES).map(positiveNumber);
  const stitches = positiveNumber(entries.stitches);
  const rounds = positiveNumber(entries.rounds);
  if (stitches === null || rounds === null || sizes.length > MOST_SIZES) return null;
  const each = (count: number, text: string, mm: number) =>
    text === gaugeEntry(mm, spanMm) ? mm : spanMm / count;
  const gauge = {
    stitchMm: each(stitches, entries.stitches, own.stitchMm),
    roundMm: each(rounds, entries.rounds, own.roundMm),
  };
  const known = sizes.filter((size) => size !== null);
  if (known.length < sizes.length) return null;
  return known.map((size) => ({ sizeMm: size * perUnit, ...gauge }));
}

/** Whether the size is that of the piece at rest. */
