/**
 * The form behind “New square”: what is typed, and what it asks the drafter for.
 *
 * Fields hold text as typed, so that half-typed numbers stay; `readForm` turns them into wishes or
 * names the first field that cannot be read.
 */
import type {
  CornerName,
  DraftSpec,
  GroundName,
  MotifShape,
  PanelSpec,
  SpecInput,
} from '../../draft/spec/draft-spec.ts';
import { weightOfGauge, YARN_WEIGHTS } from '../../gauge/gauge/yarn-weights.ts';
import { gaugeOfYarn } from '../../knit.ts';
import type { Plan } from '../../plan/plan.ts';
import { gaugeSpan } from '../state/gauge-span.ts';
import { gaugeEntry, plainNumber, positiveNumber, wholeNumber } from '../state/number-entry.ts';
import { MM_PER_INCH, type Units, unitOf } from '../state/units.ts';

/** Where a panel stands, as the form offers it; shares are of the side, from its right end. */
export type PanelPlaceName =
  | 'middle'
  | 'corner'
  | 'quarter'
  | 'third'
  | 'pair quarter'
  | 'pair third'
  | 'from right';

const SHARES: Partial<Record<PanelPlaceName, number>> = {
  quarter: 1 / 4,
  third: 1 / 3,
  'pair quarter': 1 / 4,
  'pair third': 1 / 3,
};

export interface PanelEntry {
  /** For lists on the page. */
  readonly key: number;
  readonly stitches: string;
  /** Rounds between crossings; empty or 0 for a panel without. */
  readonly crossEvery: string;
  readonly place: PanelPlaceName;
  readonly fromRight: string;
}

export type GaugeSource = 'swatch' | 'yarn' | 'test-knits';

/** A yarn whose gauge the test knits tell. */
export interface KnownGauge {
  readonly yarn: string;
  readonly stitchMm: number;
  readonly roundMm: number;
}

export interface SpecForm {
  readonly title: string;
  readonly shape: MotifShape;
  readonly size: string;
  readonly gaugeFrom: GaugeSource;
  readonly stitches: string;
  readonly rounds: string;
  readonly weight: number;
  readonly needleMm: string;
  readonly knownYarn: string;
  readonly direction: DraftSpec['direction'];
  readonly corner: CornerName;
  readonly ground: GroundName;
  readonly panels: readonly PanelEntry[];
  readonly worked: DraftSpec['worked'];
}

export interface FormMistake {
  readonly field: 'size' | 'gauge' | 'panels';
  readonly message: string;
}

export type FormReading =
  | { readonly spec: SpecInput; readonly mistake: null }
  | { readonly spec: null; readonly mistake: FormMistake };

/**
 * A form filled in from the plan at hand where it says something: gauge, needles, yarn, way. `plainMm`: a stitch of
 * its yarn in stockinette, where that is known.
 */
export function startForm(
  plan: Plan | null,
  units: Units,
  plainMm: number | null = null,
): SpecForm {
  const span = gaugeSpan(units);
  const gauge = plan?.gauges[0];
  const needleMm = plan?.needles?.mm ?? null;
  const stitchMm = gauge?.stitchMm ?? 100 / 22;
  // As the verdict takes it, where the plan names none.
  const weight = plan?.yarn?.weight ?? weightOfGauge(100 / (plainMm ?? stitchMm)).number;
  const { needleMinMm, needleMaxMm } = YARN_WEIGHTS[weight];
  return {
    title: '',
    shape: 'square',
    size: units === 'cm' ? '20' : '8',
    gaugeFrom: 'swatch',
    stitches: gaugeEntry(stitchMm, span.mm),
    rounds: gaugeEntry(gauge?.roundMm ?? 100 / 30, span.mm),
    weight,
    needleMm: plainNumber(needleMm ?? Math.max(needleMinMm, Math.min(4.5, needleMaxMm)), 2),
    knownYarn: '',
    direction: 'in',
    corner: 'paired 1',
    ground: groundOf(gauge?.fabric ?? null),
    panels: [],
    worked: plan?.worked ?? 'round',
  };
}

function groundOf(fabric: string | null): GroundName {
  return fabric === 'garter' || fabric === 'reverse' || fabric === 'seed' ? fabric : 'stockinette';
}

export function readForm(form: SpecForm, units: Units, known: readonly KnownGauge[]): FormReading {
  const size = positiveNumber(form.size);
  if (size === null) return mistake('size', 'Write the size as a number, such as 20.');
  const gauge = readGauge(form, units, known);
  if ('message' in gauge) return { spec: null, mistake: gauge };
  const panels: PanelSpec[] = [];
  for (const entry of form.panels) {
    const panel = readPanelEntry(entry);
    if ('message' in panel) return { spec: null, mistake: panel };
    panels.push(panel);
  }
  return {
    mistake: null,
    spec: {
      title: titleOf(form),
      shape: form.shape,
      sizeMm: units === 'cm' ? size * 10 : size * MM_PER_INCH,
      stitchMm: gauge.stitchMm,
      roundMm: gauge.roundMm,
      direction: form.direction,
      corner: form.corner,
      ground: form.ground,
      panels,
      worked: form.worked,
      yarn: gauge.yarn,
      needles: gauge.needles,
      units: unitOf(units),
    },
  };
}

interface ReadGauge {
  readonly stitchMm: number;
  readonly roundMm: number;
  readonly yarn: string;
  readonly needles: string;
}

function readGauge(
  form: SpecForm,
  units: Units,
  known: readonly KnownGauge[],
): ReadGauge | FormMistake {
  const needle = positiveNumber(form.needleMm);
  const needles = needle === null ? '' : `${plainNumber(needle, 2)} mm`;
  const { name, number } = YARN_WEIGHTS[form.weight];
  const yarn = `${name} (${number})`;
  if (form.gaugeFrom === 'yarn') {
    if (needle === null) {
      return { field: 'gauge', message: 'Write the needle’s diameter in mm, such as 4.5.' };
    }
    return { ...gaugeOfYarn(form.weight, needle, form.ground), yarn, needles };
  }
  if (form.gaugeFrom === 'test-knits') {
    const found = known.find((gauge) => gauge.yarn === form.knownYarn) ?? known[0];
    if (!found) return { field: 'gauge', message: 'No test knit has been entered yet.' };
    return { stitchMm: found.stitchMm, roundMm: found.roundMm, yarn: found.yarn, needles: '' };
  }
  const span = gaugeSpan(units);
  const stitches = positiveNumber(form.stitches);
  const rounds = positiveNumber(form.rounds);
  if (stitches === null || rounds === null) {
    return {
      field: 'gauge',
      message: `Write how many stitches and rounds of your swatch make ${span.words}.`,
    };
  }
  return { stitchMm: span.mm / stitches, roundMm: span.mm / rounds, yarn, needles };
}

function readPanelEntry(entry: PanelEntry): PanelSpec | FormMistake {
  const name = entry.stitches.trim() || 'the panel';
  if (entry.stitches.trim() === '') {
    return { field: 'panels', message: 'Write the stitches of the panel, such as p1 k4 p1.' };
  }
  const crossing = entry.crossEvery.trim() === '' ? 0 : wholeNumber(entry.crossEvery);
  if (crossing === null) {
    return { field: 'panels', message: `Write how often ${name} crosses in whole rounds, or 0.` };
  }
  const fromRight = wholeNumber(entry.fromRight);
  if (entry.place === 'from right' && fromRight === null) {
    return { field: 'panels', message: `Write how many stitches lie to the right of ${name}.` };
  }
  return {
    stitches: entry.stitches,
    crossEvery: crossing === 0 ? null : crossing,
    ...placeOf(entry.place, fromRight ?? 0),
  };
}

function placeOf(name: PanelPlaceName, fromRight: number): Pick<PanelSpec, 'place' | 'paired'> {
  if (name === 'from right') return { place: fromRight };
  const share = SHARES[name];
  if (share === undefined) return { place: name === 'corner' ? 'corner' : 'middle' };
  return name.startsWith('pair') ? { place: { share }, paired: true } : { place: { share } };
}

/** The title typed, or one made of the wishes. */
export function titleOf(form: SpecForm): string {
  return form.title.replace(/\s+/g, ' ').trim() || defaultTitle(form);
}

function defaultTitle(form: SpecForm): string {
  const crossed = form.panels.some(
    (panel) => Number(panel.crossEvery) > 0 || /\d[rl]c|\bc\d+[fb]/i.test(panel.stitches),
  );
  const ground = form.ground === 'reverse' ? 'reverse stockinette' : form.ground;
  const kind = crossed ? `${ground} and cable` : ground;
  return `${kind[0].toUpperCase()}${kind.slice(1)} ${form.shape}`;
}

function mistake(field: FormMistake['field'], message: string): FormReading {
  return { spec: null, mistake: { field, message } };
}
