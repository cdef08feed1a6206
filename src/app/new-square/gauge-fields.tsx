/** Where the gauge comes from: a swatch, yarn and needle, or test knits of that yarn. */
import { usualNeedleMm } from '../../gauge/gauge/yarn-gauge.ts';
import { YARN_WEIGHTS } from '../../gauge/gauge/yarn-weights.ts';
import { gaugeOfYarn } from '../../knit.ts';
import { gaugeWords } from '../../report/words/gauge.ts';
import { gaugeSpan } from '../state/gauge-span.ts';
import { plainNumber, positiveNumber } from '../state/number-entry.ts';
import { type Units, unitOf } from '../state/units.ts';
import { Strip, StripItem } from '../ui/strip.tsx';
import type { GaugeSource, KnownGauge, SpecForm } from './spec-form.ts';

export function GaugeFields(props: {
  readonly form: SpecForm;
  readonly units: Units;
  readonly known: readonly KnownGauge[];
  readonly onChange: (part: Partial<SpecForm>) => void;
}) {
  const { form, units, known, onChange } = props;
  const span = gaugeSpan(units);
  return (
    <fieldset className="wish">
      <legend>Gauge</legend>
      <Strip
        aria-label="Gauge from"
        value={form.gaugeFrom}
        onValueChange={(value) => value && onChange({ gaugeFrom: value as GaugeSource })}
      >
        <StripItem value="swatch">From a swatch</StripItem>
        <StripItem value="yarn">From yarn and needle</StripItem>
        {known.length > 0 && <StripItem value="test-knits">From test knits</StripItem>}
      </Strip>

      {form.gaugeFrom === 'swatch' && (
        <p className="wish-sentence">
          <input
            className="entry entry-short"
            aria-label={`Stitches in ${span.words}`}
            inputMode="decimal"
            autoComplete="off"
            value={form.stitches}
            onChange={(event) => onChange({ stitches: event.target.value })}
          />{' '}
          stitches and{' '}
          <input
            className="entry entry-short"
            aria-label={`Rounds in ${span.words}`}
            inputMode="decimal"
            autoComplete="off"
            value={form.rounds}
            onChange={(event) => onChange({ rounds: event.target.value })}
          />{' '}
          rounds make {span.words} of the ground
        </p>
      )}

      {form.gaugeFrom === 'test-knits' && (
        <label className="wish-choice">
          <span className="wish-label">Yarn</span>
          <select
            className="button grow"
            value={form.knownYarn || known[0]?.yarn}
            onChange={(event) => onChange({ knownYarn: event.target.value })}
          >
            {known.map(({ yarn }) => (
              <option key={yarn}>{yarn}</option>
            ))}
          </select>
        </label>
      )}

      {form.gaugeFrom !== 'test-knits' && (
        <div className="wish-row">
          <label className="wish-choice">
            <span className="wish-label">Yarn</span>
            <select
              className="button"
              value={form.weight}
              onChange={(event) => {
                const weight = Number(event.target.value);
                onChange({ weight, needleMm: plainNumber(usualNeedleMm(weight), 2) });
              }}
            >
              {YARN_WEIGHTS.map(({ number, name }) => (
                <option key={number} value={number}>
                  {name} ({number})
                </option>
              ))}
            </select>
          </label>
          <label className="wish-choice">
            <span className="wish-label">Needle</span>
            <span className="with-unit">
              <input
                className="entry entry-short"
                inputMode="decimal"
                autoComplete="off"
                value={form.needleMm}
                onChange={(event) => onChange({ needleMm: event.target.value })}
              />
              mm
            </span>
          </label>
        </div>
      )}
      {form.gaugeFrom === 'yarn' && <GuessWords form={form} units={units} />}
    </fieldset>
  );
}

function GuessWords({ form, units }: { readonly form: SpecForm; readonly units: Units }) {
  const needle = positiveNumber(form.needleMm);
  if (needle === null) return null;
  const guess = gaugeOfYarn(form.weight, needle, form.ground);
  return (
    <p className="soft">
      About {gaugeWords(guess, unitOf(units), form.worked)}, from the standard yarn weights. Hands
      differ: a swatch tells more.
    </p>
  );
}
