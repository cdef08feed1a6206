/** Measures of one knitted sample, compared as they are typed, and into the log with it. */
import { useId, useState } from 'react';
import { knowledgeOf } from '../../report/known-gauges.ts';
import type { TestKnit } from '../../report/test-knit.ts';
import { gaugeWords } from '../../report/words/gauge.ts';
import { tapeMeasure } from '../../report/words/size-fact.ts';
import { sampleRows } from '../../report/words/test-knit-words.ts';
import type { KnittedSheet } from '../../worker/messages.ts';
import { gaugeSpan } from '../state/gauge-span.ts';
import { positiveNumber } from '../state/number-entry.ts';
import { usePage } from '../state/page-store.ts';
import { changeProject, freeId, projects } from '../state/project-store.ts';
import { lengthText, MM_PER_INCH, type Units, unitOf } from '../state/units.ts';
import { ActionButton } from '../ui/action-button.tsx';
import { clearTypedSample, typeSample, useTypedSample } from './typed-sample.ts';

/** Yarn, needle and fabric together make a gauge; the name under which the calibration is kept. */
function nameOf({ plan, report }: KnittedSheet): string {
  const needle = plan.needles?.mm ? `${plan.needles.mm} mm` : '';
  return [plan.yarn?.text ?? '', needle, report.metric.ground].filter(Boolean).join(' · ');
}

export function TestKnitForm({ knitted }: { readonly knitted: KnittedSheet }) {
  const units = usePage((state) => state.preferences.units);
  const typed = useTypedSample();
  const { note, stitches, rounds, side } = typed;
  const yarn = typed.yarn ?? nameOf(knitted);
  const courses = knitted.plan.worked === 'flat' ? 'Rows' : 'Rounds';
  const [trouble, setTrouble] = useState('');
  const span = gaugeSpan(units);
  const { metric } = knitted.report;
  const tape = tapeMeasure(knitted.report);
  const perSpan = (text: string) => {
    const count = positiveNumber(text);
    return count === null ? null : span.mm / count;
  };
  const sideTyped = positiveNumber(side);
  const entry: Omit<TestKnit, 'id'> = {
    yarn: yarn.trim(),
    note: note.trim(),
    predicted: { stitchMm: metric.stitchMm, roundMm: metric.roundMm, sideMm: tape.mm },
    measured: {
      stitchMm: perSpan(stitches),
      roundMm: perSpan(rounds),
      sideMm: sideTyped === null ? null : sideTyped * (units === 'cm' ? 10 : MM_PER_INCH),
    },
    counts: true,
  };
  const { measured } = entry;
  const any = measured.stitchMm ?? measured.roundMm ?? measured.sideMm;
  const ready = any !== null && entry.yarn !== '';
  const missing =
    entry.yarn === '' ? 'Name the yarn.' : 'Fill in at least one figure that you measured.';

  const enter = () => {
    const { testKnits } = projects.get().project;
    const made: TestKnit = { ...entry, id: freeId('sample', testKnits) };
    const known = knowledgeOf([made], made.yarn);
    if (known.trouble !== null) {
      setTrouble(known.trouble);
      return;
    }
    changeProject('entered a sample', { testKnits: [...testKnits, made] });
    setTrouble('');
    clearTypedSample();
  };

  return (
    <form
      className="log-card"
      onSubmit={(event) => {
        event.preventDefault();
        if (ready) enter();
      }}
    >
      <h3>A knitted sample</h3>
      <p className="soft">
        Predicted for “{knitted.plan.title || 'this plan'}”:{' '}
        {gaugeWords(metric, unitOf(units), knitted.plan.worked)} of {metric.ground}, {tape.name}{' '}
        {lengthText(tape.mm, units)}.
      </p>
      <Field
        name="Yarn, needle and fabric"
        value={yarn}
        onChange={(text) => typeSample({ yarn: text === nameOf(knitted) ? null : text })}
        wide
      />
      <div className="wish-row log-fields">
        <Field
          name={`Stitches in ${span.words}`}
          value={stitches}
          onChange={(text) => typeSample({ stitches: text })}
        />
        <Field
          name={`${courses} in ${span.words}`}
          value={rounds}
          onChange={(text) => typeSample({ rounds: text })}
        />
        <Field
          name={`${capital(tape.name)}, ${units}`}
          value={side}
          onChange={(text) => typeSample({ side: text })}
        />
      </div>
      <Field
        name="Note"
        value={note}
        onChange={(text) => typeSample({ note: text })}
        hint="washed, blocked, date …"
        wide
      />
      <Compared entry={{ ...entry, id: 'typed' }} units={units} courses={courses} />
      {trouble && (
        <p className="outcome-mistake" role="alert">
          {trouble}
        </p>
      )}
      <ActionButton
        type="submit"
        className="button button-primary"
        why={ready ? '' : missing.replace(/\.$/, '')}
      >
        Enter in the log
      </ActionButton>
      {!ready && !trouble && <p className="soft">{missing}</p>}
    </form>
  );
}

const capital = (words: string) => words[0].toUpperCase() + words.slice(1);

function Field(props: {
  readonly name: string;
  readonly value: string;
  readonly hint?: string;
  readonly wide?: boolean;
  readonly onChange: (text: string) => void;
}) {
  const id = useId();
  return (
    <div className={props.wide ? 'log-field log-field-wide' : 'log-field'}>
      <label htmlFor={id}>{props.name}</label>
      <input
        id={id}
        className={props.wide ? 'entry' : 'entry entry-short'}
        inputMode={props.wide ? 'text' : 'decimal'}
        autoComplete="off"
        placeholder={props.hint}
        value={props.value}
        onChange={(event) => props.onChange(event.target.value)}
      />
    </div>
  );
}

export function Compared(props: {
  readonly entry: TestKnit;
  readonly units: Units;
  /** As the plan beside it is worked; a sample in the log may be of another. */
  readonly courses?: 'Rounds' | 'Rows';
}) {
  const { entry, units, courses = 'Rounds' } = props;
  const rows = sampleRows(entry, unitOf(units), courses);
  if (rows.length === 0) return null;
  return (
    <table className="rounds-table">
      <thead>
        <tr>
          <th scope="col">Sample</th>
          <th scope="col">Predicted</th>
          <th scope="col">Measured</th>
          <th scope="col">It is</th>
        </tr>
      </thead>
      <tbody>
        {rows.map(({ part, name, predicted, measured, difference }) => (
          <tr key={part}>
            <td>{name}</td>
            <td>{predicted}</td>
            <td>{measured}</td>
            <td>{difference}</td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}
