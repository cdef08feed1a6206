/** The close-up's controls, what was measured, and why it is so. */
import { type ReactNode, useId, useState } from 'react';
import { courseName } from '../../report/words/course-name.ts';
import type { LaidSheet } from '../../worker/messages.ts';
import type { CloseUp, CloseUpJoin } from '../../worker/yarn-messages.ts';
import { positiveNumber } from '../state/number-entry.ts';
import { usePage } from '../state/page-store.ts';
import { fineLengthText, fixed } from '../state/units.ts';
import { AmountSlider } from '../ui/amount-slider.tsx';
import { Strip, StripItem } from '../ui/strip.tsx';
import { type Place, setControls, useCloseUp } from './close-up-state.ts';
import { measureWords } from './measure-words.ts';
import { MeasuredTable } from './measured-table.tsx';
import { PLACE_HELP } from './place-help.ts';
import { roundAndStitch } from './places.ts';
import { type Places, plannedRounds, type Setting, stitchOf } from './setting.ts';

const PLACES: readonly { readonly place: Place; readonly name: string }[] = [
  { place: 'join', name: 'Join' },
  { place: 'needles', name: 'Needle gap' },
  { place: 'cable', name: 'Cable' },
  { place: 'decrease', name: 'Decrease' },
  { place: 'stitch', name: 'Any stitch' },
];

const METHODS: readonly { readonly method: CloseUpJoin; readonly name: string }[] = [
  { method: 'plain', name: 'Plain' },
  { method: 'crossed', name: 'Crossed' },
  { method: 'extra', name: 'Extra stitch' },
  { method: 'flat', name: 'Seamed flat' },
];

export interface CloseUpControlsProps {
  readonly laid: LaidSheet;
  readonly places: Places;
  readonly setting: Setting;
  readonly current: CloseUp | null;
}

export function CloseUpControlsPanel(props: CloseUpControlsProps) {
  const { laid, places, setting, current } = props;
  const place = useCloseUp((state) => state.controls.place);
  const units = usePage((state) => state.preferences.units);
  const lesson = PLACE_HELP[place];
  const there = PLACES.filter(
    (entry) =>
      (entry.place !== 'cable' || places.cable) &&
      (entry.place !== 'decrease' || places.decreases.length > 0),
  );
  return (
    <div className="close-up-side">
      <Strip
        className="strip close-up-places"
        aria-label="Place"
        value={place}
        onValueChange={(value) => value && setControls({ place: value as Place })}
      >
        {there.map((entry) => (
          <StripItem key={entry.place} value={entry.place}>
            {entry.name}
          </StripItem>
        ))}
      </Strip>
      <div className="close-up-fields">
        {place === 'join' && <JoinFields />}
        {place === 'needles' && <NeedleFields />}
        {place === 'cable' && places.cable && <CableFields places={places} />}
        {place === 'decrease' && <DecreaseFields places={places} />}
        {place === 'stitch' && <StitchFields laid={laid} />}
        {(place === 'join' || place === 'needles' || place === 'cable') && (
          <LoopField usual={current?.loopMm ?? null} />
        )}
      </div>
      <p className="close-up-measure" role="status">
        {current && setting.asked ? measureWords(current, setting.asked, units) : ''}
      </p>
      {current?.width && <CableAdvice width={current.width} />}
      <MeasuredTable place={place} setting={setting} />
      <h3>Why</h3>
      <p>{lesson.why}</p>
      <h3>
        What helps <small>common practice</small>
      </h3>
      <ul>
        {lesson.helps.map((help) => (
          <li key={help}>{help}</li>
        ))}
      </ul>
      {current && (
        <p className="close-up-small">
          Computed with {fixed(current.loopMm, 1)} mm of yarn in a stitch,{' '}
          {fixed(current.yarnMm, 2)} mm thick, seen square on. A model of smooth yarn: compare
          settings rather than trust tenths.
        </p>
      )}
    </div>
  );
}

function CableAdvice({ width }: { readonly width: NonNullable<CloseUp['width']> }) {
  const lostMm = width.uncrossedMm - width.crossedMm;
  const stitches = lostMm / (width.uncrossedMm / width.stitches);
  if (lostMm < 0)
    return (
      <p>
        This cable wants no stitches more than plain fabric: its own stitches stand{' '}
        {fixed(-width.cablePercent, 0)} % wider than uncrossed.
      </p>
    );
  return (
    <p>
      To keep the width, this cable wants {fixed(stitches, 1)}{' '}
      {Math.abs(stitches - 1) < 0.05 ? 'stitch' : 'stitches'} more than plain fabric (
      {fixed(width.cablePercent, 0)} % of the cable’s own width).
    </p>
  );
}

function JoinFields() {
  const { method, slackMm } = useCloseUp((state) => state.controls);
  return (
    <>
      <Choice
        name="Joined"
        value={method}
        options={METHODS.map((entry) => [entry.method, entry.name])}
        onChange={(value) => setControls({ method: value as CloseUpJoin })}
      />
      <Amount
        name="Slack in the strand"
        value={slackMm}
        most={16}
        step={0.5}
        onChange={(value) => setControls({ slackMm: value })}
      />
    </>
  );
}

function NeedleFields() {
  const { gapSlackMm, tugged, tugMm } = useCloseUp((state) => state.controls);
  return (
    <>
      <Amount
        name="Slack in every round"
        value={gapSlackMm}
        most={8}
        step={0.5}
        onChange={(value) => setControls({ gapSlackMm: value })}
      />
      <Choice
        name="Tugged tight"
        value={String(tugged)}
        options={[
          ['0', 'None'],
          ['1', 'First stitch'],
          ['2', 'Second stitch'],
        ]}
        onChange={(value) => setControls({ tugged: Number(value) as 0 | 1 | 2 })}
      />
      {tugged > 0 && (
        <Amount
          name="The tug takes out"
          value={tugMm}
          most={4}
          step={0.5}
          onChange={(value) => setControls({ tugMm: value })}
        />
      )}
    </>
  );
}

function CableFields({ places }: { readonly places: Places }) {
  const everyRounds = useCloseUp((state) => state.controls.everyRounds);
  const { cable } = places;
  if (!cable) return null;
  const planned = plannedRounds(cable);
  return (
    <>
      <p>
        {cable.name}: {cable.over} over {cable.under}
        {cable.everyRounds ? `, in the plan every ${cable.everyRounds} rounds` : ''}
      </p>
      <Amount
        name="Crossed every"
        unit="rounds"
        value={everyRounds ?? planned}
        least={3}
        most={12}
        step={1}
        onChange={(value) => setControls({ everyRounds: value })}
      />
    </>
  );
}

function DecreaseFields({ places }: { readonly places: Places }) {
  const decrease = useCloseUp((state) => state.controls.decrease);
  const { decreases } = places;
  const chosen = decreases.find(({ name }) => name === decrease) ?? decreases[0];
  if (!chosen) return null;
  return (
    <>
      <Choice
        name="Kind"
        value={chosen.name}
        options={decreases.map(({ name }) => [name, name])}
        onChange={(value) => setControls({ decrease: value })}
      />
      <p>{chosen.words}</p>
    </>
  );
}

function StitchFields({ laid }: { readonly laid: LaidSheet }) {
  const controls = useCloseUp((state) => state.controls);
  const id = useId();
  const { graph } = laid;
  const loop = stitchOf(laid, controls);
  const { round, stitch } = roundAndStitch(laid, loop);
  const count = graph.start[round + 1] - graph.start[round];
  const go = (course: number, number: number) => {
    const c = Math.max(0, Math.min(graph.courses - 1, Math.round(course)));
    const n = graph.start[c + 1] - graph.start[c];
    if (Number.isFinite(c) && Number.isFinite(number) && n > 0) {
      setControls({ loop: graph.start[c] + Math.max(0, Math.min(n - 1, Math.round(number) - 1)) });
    }
  };
  return (
    <>
      <p>
        {graph.kindNames[graph.kind[loop]]} in{' '}
        {round === 0 ? 'the cast-on' : courseName(laid.plan, round).replace(/^R/, 'r')}. A double
        click on the fabric also chooses a stitch.
      </p>
      <div className="close-up-pair">
        <label htmlFor={`${id}-round`}>{laid.plan.worked === 'flat' ? 'Row' : 'Round'}</label>
        <input
          id={`${id}-round`}
          className="entry entry-short"
          type="number"
          min={0}
          max={graph.courses - 1}
          value={round}
          onChange={(event) => go(event.target.valueAsNumber, stitch)}
        />
        <label htmlFor={`${id}-stitch`}>Stitch</label>
        <input
          id={`${id}-stitch`}
          className="entry entry-short"
          type="number"
          min={1}
          max={count}
          value={stitch}
          onChange={(event) => go(round, event.target.valueAsNumber)}
        />
        <span>of {count}</span>
      </div>
    </>
  );
}

function LoopField({ usual }: { readonly usual: number | null }) {
  const loopMm = useCloseUp((state) => state.controls.loopMm);
  const [text, setText] = useState(loopMm === null ? '' : String(loopMm));
  const id = useId();
  const number = positiveNumber(text);
  const wrong = text.trim() !== '' && number === null;
  return (
    <div className="close-up-row">
      <label htmlFor={id}>Yarn in a stitch, mm</label>
      <input
        id={id}
        className="entry entry-short"
        inputMode="decimal"
        value={text}
        placeholder={usual && loopMm === null ? fixed(usual, 1) : 'usual'}
        aria-invalid={wrong}
        onChange={(event) => {
          setText(event.target.value);
          const typed = positiveNumber(event.target.value);
          if (typed !== null || event.target.value.trim() === '') setControls({ loopMm: typed });
        }}
      />
      {wrong && <span className="close-up-wrong">a length above zero, please</span>}
    </div>
  );
}

function Choice(props: {
  readonly name: string;
  readonly value: string;
  readonly options: readonly (readonly [string, string])[];
  readonly onChange: (value: string) => void;
}) {
  return (
    <Row name={props.name}>
      <Strip
        className="strip close-up-strip"
        aria-label={props.name}
        value={props.value}
        onValueChange={(value) => value && props.onChange(value)}
      >
        {props.options.map(([value, name]) => (
          <StripItem key={value} value={value}>
            {name}
          </StripItem>
        ))}
      </Strip>
    </Row>
  );
}

function Row({ name, children }: { readonly name: string; readonly children: ReactNode }) {
  return (
    <div className="close-up-row">
      <span>{name}</span>
      {children}
    </div>
  );
}

function Amount(props: {
  readonly name: string;
  readonly value: number;
  readonly least?: number;
  readonly most: number;
  readonly step: number;
  /** Without it, a length in mm. */
  readonly unit?: string;
  readonly onChange: (value: number) => void;
}) {
  const { name, value, least = 0, most, step, unit, onChange } = props;
  const units = usePage((state) => state.preferences.units);
  const words = unit ? `${value} ${unit}` : fineLengthText(value, units);
  return <AmountSlider {...{ name, value, step, words, onChange }} min={least} max={most} />;
}
