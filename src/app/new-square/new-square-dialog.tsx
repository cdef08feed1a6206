/** “New square”: wishes on the left, what comes of them on the right, and into the editor with it. */
import { useEffect, useMemo, useRef, useState } from 'react';
import type { Draft } from '../../draft/draft.ts';
import type { MotifShape } from '../../draft/spec/draft-spec.ts';
import { knownGauges } from '../../report/known-gauges.ts';
import { DraftClient } from '../../worker/draft-client.ts';
import { page, usePage } from '../state/page-store.ts';
import { takeDraft } from '../state/plan-actions.ts';
import { projects } from '../state/project-store.ts';
import type { Units } from '../state/units.ts';
import { ActionButton } from '../ui/action-button.tsx';
import { Dialog } from '../ui/dialog.tsx';
import { Strip, StripItem } from '../ui/strip.tsx';
import { DraftOutcome, type Outcome } from './draft-outcome.tsx';
import { GaugeFields } from './gauge-fields.tsx';
import { PanelFields } from './panel-fields.tsx';
import { ShapeGlyph } from './shape-glyph.tsx';
import { readForm, type SpecForm, startForm, titleOf } from './spec-form.ts';

const SHAPES: readonly MotifShape[] = [
  'square',
  'triangle',
  'pentagon',
  'hexagon',
  'octagon',
  'disc',
];

const CORNERS = [
  ['paired 0', 'Pair, side by side'],
  ['paired 1', 'Pair, 1 stitch between'],
  ['paired 2', 'Pair, 2 stitches between'],
  ['centred', 'Centred double'],
] as const;

const GROUNDS = [
  ['stockinette', 'Stockinette'],
  ['garter', 'Garter'],
  ['reverse', 'Reverse stockinette'],
  ['seed', 'Seed'],
] as const;

/** The draft follows the wishes after this pause. Chosen. */
const DRAFTING_PAUSE_MS = 220;

/** The wishes asked last, so that the dialog comes back as it was left. */
let lastForm: { readonly form: SpecForm; readonly units: string } | null = null;

function firstForm(units: Units): SpecForm {
  const { plan, knitted } = page.get();
  const known = knitted && knitted.plan.text === plan?.text ? knitted.gauge : null;
  return startForm(plan, units, known?.sizes.stockinette.stitchMm);
}

/** Why there is no plan to write. */
const WHY_NOT: Record<Outcome['state'], string> = {
  drafting: 'Once the draft is worked out',
  stopped: 'There is no draft: draft again first',
  mistake: 'A wish cannot be met: see what is said above',
  done: '',
};

export default function NewSquareDialog({ onClose }: { readonly onClose: () => void }) {
  const units = usePage((state) => state.preferences.units);
  const known = useMemo(() => knownGauges(projects.get().project.testKnits), []);
  const [form, setForm] = useState<SpecForm>(() =>
    lastForm?.units === units ? lastForm.form : firstForm(units),
  );
  const { outcome, stop, again } = useDraft(form);
  const change = (part: Partial<SpecForm>) => setForm((before) => ({ ...before, ...part }));
  const draft = outcome.state === 'done' ? outcome.draft : null;

  useEffect(() => {
    lastForm = { form, units };
  }, [form, units]);

  const take = (made: Draft) => {
    onClose();
    // Typing a title drafts nothing anew.
    void takeDraft(made.text.replace(/^Title: .*$/m, () => `Title: ${titleOf(form)}`));
  };

  return (
    <Dialog id="new-square-name" name="New square" wide onClose={onClose}>
      <form
        className="wishes"
        onSubmit={(event) => {
          event.preventDefault();
          if (draft) take(draft);
        }}
      >
        <div className="wishes-fields">
          <fieldset className="wish">
            <legend>Shape</legend>
            <Strip
              className="tiles"
              aria-label="Shape"
              value={form.shape}
              onValueChange={(value) => value && change({ shape: value as MotifShape })}
            >
              {SHAPES.map((shape) => (
                <StripItem key={shape} value={shape} className="tile">
                  <ShapeGlyph shape={shape} />
                  {shape}
                </StripItem>
              ))}
            </Strip>
          </fieldset>

          <div className="wish wish-row">
            <label className="wish-label" htmlFor="wish-size">
              {form.shape === 'disc' ? 'Diameter' : 'Side'}
            </label>
            <span className="with-unit">
              <input
                id="wish-size"
                className="entry entry-short"
                inputMode="decimal"
                autoComplete="off"
                value={form.size}
                onChange={(event) => change({ size: event.target.value })}
              />
              {units}
            </span>
            <span className="with-unit wish-title">
              <label className="wish-label" htmlFor="wish-title">
                Title
              </label>
              <input
                id="wish-title"
                className="entry grow"
                autoComplete="off"
                placeholder="optional"
                value={form.title}
                onChange={(event) => change({ title: event.target.value })}
              />
            </span>
          </div>

          <GaugeFields form={form} units={units} known={known} onChange={change} />

          <fieldset className="wish">
            <legend>Fabric</legend>
            <Choice
              name="Ground"
              value={form.ground}
              options={GROUNDS}
              onChange={(ground) => change({ ground })}
            />
            <Choice
              name="Corners"
              value={form.corner}
              options={CORNERS}
              onChange={(corner) => change({ corner })}
            />
          </fieldset>

          <PanelFields panels={form.panels} onChange={(panels) => change({ panels })} />

          <fieldset className="wish wish-row">
            <legend>Worked</legend>
            <OneOf
              name="Direction"
              value={form.direction}
              options={[
                ['in', 'From the rim in'],
                ['out', 'From the centre out'],
              ]}
              onChange={(direction) => change({ direction })}
            />
            <OneOf
              name="Round or flat"
              value={form.worked}
              options={[
                ['round', 'In the round'],
                ['flat', 'Flat, seamed'],
              ]}
              onChange={(worked) => change({ worked })}
            />
          </fieldset>
        </div>

        <div className="wishes-outcome">
          <DraftOutcome outcome={outcome} units={units} onStop={stop} onAgain={again} />
          <div className="wishes-take">
            <ActionButton
              type="submit"
              className="button button-primary"
              why={draft ? '' : WHY_NOT[outcome.state]}
            >
              Write the plan
            </ActionButton>
            <p className="soft">
              It takes the place of the plan in the editor. Undo brings that back.
            </p>
          </div>
        </div>
      </form>
    </Dialog>
  );
}

/** The draft of the form as it is now, made in a worker. */
function useDraft(form: SpecForm) {
  const units = usePage((state) => state.preferences.units);
  const [outcome, setOutcome] = useState<Outcome>(DRAFTING);
  const [attempt, setAttempt] = useState(0);
  const client = useRef<DraftClient | null>(null);
  const pause = useRef<ReturnType<typeof setTimeout>>(undefined);
  const untitled = JSON.stringify({ ...form, title: '' });
  const reading = useMemo(
    () =>
      readForm(
        JSON.parse(untitled) as SpecForm,
        units,
        knownGauges(projects.get().project.testKnits),
      ),
    [untitled, units],
  );
  useEffect(() => () => client.current?.close(), []);
  // biome-ignore lint/correctness/useExhaustiveDependencies: another attempt drafts the same wishes
  useEffect(() => {
    // What was asked before is of no use any more, also while the next is not asked yet.
    client.current?.stop();
    if (!reading.spec) {
      setOutcome({ state: 'mistake', message: reading.mistake.message });
      return;
    }
    const { spec } = reading;
    setOutcome(DRAFTING);
    pause.current = setTimeout(() => {
      client.current ??= new DraftClient();
      client.current.draft(spec, {
        onTrial: (trial) => setOutcome({ state: 'drafting', spec, trial }),
        onDone: (draft) => setOutcome({ state: 'done', draft }),
        onFailed: (message) => setOutcome({ state: 'mistake', message }),
      });
    }, DRAFTING_PAUSE_MS);
    return () => clearTimeout(pause.current);
  }, [reading, attempt]);
  return {
    outcome,
    stop: () => {
      // Also a draft that is not asked for yet.
      clearTimeout(pause.current);
      client.current?.stop();
      setOutcome({ state: 'stopped' });
    },
    again: () => setAttempt((n) => n + 1),
  };
}

const DRAFTING: Outcome = { state: 'drafting', spec: null, trial: null };

interface ChoiceProps<T extends string> {
  readonly name: string;
  readonly value: T;
  readonly options: readonly (readonly [T, string])[];
  readonly onChange: (value: T) => void;
}

function Choice<T extends string>({ name, value, options, onChange }: ChoiceProps<T>) {
  return (
    <label className="wish-choice">
      <span className="wish-label">{name}</span>
      <select
        className="button"
        value={value}
        onChange={(event) => onChange(event.target.value as T)}
      >
        {options.map(([option, words]) => (
          <option key={option} value={option}>
            {words}
          </option>
        ))}
      </select>
    </label>
  );
}

function OneOf<T extends string>({ name, value, options, onChange }: ChoiceProps<T>) {
  return (
    <Strip aria-label={name} value={value} onValueChange={(next) => next && onChange(next as T)}>
      {options.map(([option, words]) => (
        <StripItem key={option} value={option}>
          {words}
        </StripItem>
      ))}
    </Strip>
  );
}
