/** The plan at hand at another size or gauge: same shaping and panels, other stitches. */
import { useEffect, useMemo, useRef, useState } from 'react';
import { joinSizes } from '../../draft/rework/graded-sizes.ts';
import type { DraftTrial, MeasuredGrade } from '../../knit.ts';
import type { LengthUnit } from '../../report/words/length.ts';
import { sizeTold } from '../../report/words/size-told.ts';
import { VERDICT_HEADLINES } from '../../report/words/verdict-words.ts';
import { DraftClient } from '../../worker/draft-client.ts';
import type { KnittedSheet } from '../../worker/messages.ts';
import { trialWords } from '../new-square/trial-words.ts';
import { TryingNote } from '../new-square/trying-note.tsx';
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
  const { outcome, stop, again } = useGrading(knitted, entries, perUnit, span.mm);
  const graded = outcome.state === 'grading' || outcome.state === 'done' ? outcome.graded : [];
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
      {/* Trials change too fast to be read out: only what they end in is. */}
      {outcome.state === 'grading' && (
        <TryingNote now="Measuring…" since={outcome.since} stop="Stop measuring" onStop={stop}>
          <p className="soft drafting-trial">{triedWords(outcome)}</p>
        </TryingNote>
      )}
      <div className="resize-sizes" aria-live="polite" aria-busy={outcome.state === 'grading'}>
        {outcome.state === 'stopped' && (
          <>
            <p className="soft">Stopped: the plan stays as it is.</p>
            <button type="button" className="button button-small" onClick={again}>
              Measure again
            </button>
          </>
        )}
        {graded.map((one) => (
          <GradedFacts key={one.text} graded={one} was={knitted.plan.castOn} units={units} />
        ))}
      </div>
      <ActionButton
        type="submit"
        className="button button-primary"
        why={ready ? '' : WHY_NOT[outcome.state]}
      >
        Change the plan
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
  stopped: 'Once the size is measured',
  mistake: 'It cannot be made so: see what is said above',
  done: '',
};

type Outcome =
  | {
      readonly state: 'grading';
      /** As far as they are, or those of the entries before. */
      readonly graded: readonly MeasuredGrade[];
      readonly since: readonly SizeAndGauge[] | null;
      readonly trial: DraftTrial | null;
      /** The size that is tried, counted from 1. */
      readonly size: number;
    }
  | { readonly state: 'stopped' }
  | {
      readonly state: 'done';
      readonly graded: readonly MeasuredGrade[];
      readonly asked: readonly SizeAndGauge[];
    }
  | { readonly state: 'mistake'; readonly message: string };

const BEGUN = { state: 'grading', graded: [], since: null, trial: null, size: 1 } as const;

function triedWords({ since, trial, size }: Extract<Outcome, { state: 'grading' }>): string {
  const words = trial ? trialWords(trial) : 'counting stitches';
  const many = since?.length ?? 1;
  const told = many > 1 ? `Size ${size} of ${many}: ${words}` : words;
  return `${told[0].toUpperCase()}${told.slice(1)}.`;
}

/** The grading follows the entries after this pause. Chosen. */
const GRADING_PAUSE_MS = 260;

function useGrading(
  knitted: KnittedSheet,
  entries: Entries,
  perUnit: number,
  spanMm: number,
): { readonly outcome: Outcome; readonly stop: () => void; readonly again: () => void } {
  const [outcome, setOutcome] = useState<Outcome>(BEGUN);
  const [begun, setBegun] = useState(0);
  const client = useRef<DraftClient | null>(null);
  const drop = useRef(() => {});
  const { metric } = knitted.report;
  const asked = useMemo(
    () => readEntries(entries, perUnit, spanMm, metric),
    [entries, perUnit, spanMm, metric],
  );
  useEffect(() => () => client.current?.close(), []);
  // biome-ignore lint/correctness/useExhaustiveDependencies: begun anew after a stop
  useEffect(() => {
    if (!asked) {
      setOutcome({ state: 'mistake', message: 'Write size and gauge as numbers.' });
      return;
    }
    setOutcome((last) => ({
      ...BEGUN,
      graded: last.state === 'grading' || last.state === 'done' ? last.graded : [],
      since: asked,
    }));
    const go = (now: Partial<Extract<Outcome, { state: 'grading' }>>) =>
      setOutcome((last) => (wanted && last.state === 'grading' ? { ...last, ...now } : last));
    const { plan, report } = knitted;
    let wanted = true;
    const specs = asked.map((one) => gradeSpec(plan, report, one));
    const grade = () => {
      client.current ??= new DraftClient();
      client.current.grade(plan.text, specs, {
        onTrial: (trial) => go({ trial }),
        onSome: (graded) => go({ graded, trial: null, size: graded.length + 1 }),
        onDone: (graded) => wanted && setOutcome({ state: 'done', graded, asked }),
        onFailed: (message) => wanted && setOutcome({ state: 'mistake', message }),
      });
    };
    const pause = setTimeout(grade, GRADING_PAUSE_MS);
    drop.current = () => {
      wanted = false;
      clearTimeout(pause);
    };
    return drop.current;
  }, [asked, knitted, begun]);
  const stop = () => {
    drop.current();
    client.current?.stop();
    setOutcome({ state: 'stopped' });
  };
  return { outcome, stop, again: () => setBegun((times) => times + 1) };
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
