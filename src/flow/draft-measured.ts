/**
 * Drafts and gradings that are measured and relaxed on the way, and judged as their text reads.
 * In: a spec, or a plan and the size asked. Out: plan text with its judgement.
 */

import { CANNOT_LIE_FLAT, type Draft, draftPlan } from '../draft/draft.ts';
import { withFinalSize } from '../draft/motif/draft-motif.ts';
import { cannotGrade, type GradeSpec, sizeNotes } from '../draft/rework/grade-spec.ts';
import { isOpen, openSides } from '../draft/rework/open-piece.ts';
import { type Graded, gradeOpen, gradePlan } from '../draft/search/grade-measured.ts';
import type { Measures, RestingFabric } from '../draft/search/measures.ts';
import {
  type DraftSpec,
  type PanelSpec,
  type SpecInput,
  segmentsOf,
} from '../draft/spec/draft-spec.ts';
import type { Metric } from '../gauge/metric.ts';
import { parsePlan } from '../plan/parse.ts';
import type { Plan } from '../plan/plan.ts';
import type { Load } from '../relax/relaxed-sheet.ts';
import type { SheetFindings } from '../report/report-sheet.ts';
import { measureRimAngle } from '../report/rim-angle.ts';
import { hangsOnLittle, roundsDecide, type Verdict } from '../report/verdict.ts';
import { DEFAULT_BANDS } from '../report/verdict-bands.ts';
import { withArticle } from '../report/words/counts.ts';
import { lengthWords } from '../report/words/length.ts';
import { liesFlat } from '../report/words/verdict-words.ts';
import { canRelax, loadOf, type Prepared, prepare, weightOf } from './prepare.ts';
import { relax } from './relax-prepared.ts';
import {
  MAX_MEASURED,
  MAX_RELAXED,
  measurePlan,
  type RestedFabric,
  restingFabric,
} from './resting-fabric.ts';

/** What is being tried while a draft is made. */
export interface DraftTrial {
  /** Panels left of those wished for, and whether they cross only half as often. */
  readonly panels: readonly PanelSpec[];
  /** Stitches cast on in this trial. */
  readonly castOn: number;
  /** Timings of the decreases measured, and drafts relaxed, up to now. */
  readonly timings: number;
  readonly relaxed: number;
  /** Which of the two is being done. */
  readonly doing: 'timing' | 'relaxing';
}

export interface JudgeOptions {
  /** True: it is laid on its table only where its verdict hangs on how it lies; `riseMm` is else that in the air. */
  readonly unlaid?: boolean;
}

/** Wishes to plan text, measured and relaxed on the way, so that it lies flat and has its size. */
export function draftMeasured(
  spec: SpecInput,
  onTrial?: (trial: DraftTrial) => void,
  options: JudgeOptions = {},
): MeasuredDraft {
  const measures = new SearchMeasures(options);
  const watch = onTrial ? watched(measures, onTrial) : { measures };
  const found = draftPlan(spec, watch.measures, watch.onSpec);
  const asked = found.spec.shape === 'disc' ? 0 : segmentsOf(found.spec);
  // As it was asked for, whatever corners the fabric shows.
  const { judged, sideMm, sizeMm, corners, shape } = measures.judge(
    found.text,
    (rimMm) => rimMm / aroundOf(asked),
  );
  const { verdict } = judged;
  const draft = sizeMm === null ? found : withFinalSize(found, sizeMm);
  const compromises = [...draft.compromises];
  if (sideMm !== null && corners !== asked)
    compromises.push(
      `The corners do not show as they were asked for: the fabric is read as ${withArticle(shape)}, ${corners >= 3 ? 'of side' : 'across'} ${lengthWords(sideMm, found.spec.units)}.${cornerPanelWords(found.spec)}`,
    );
  const stands = verdict !== null && !liesFlat(verdict);
  if (stands && !compromises.includes(CANNOT_LIE_FLAT)) compromises.push(CANNOT_LIE_FLAT);
  return { ...draft, ...judged, compromises };
}

/** What would leave a corner, where a panel along it cuts it off. */
function cornerPanelWords({ panels }: DraftSpec): string {
  return panels.some(({ place }) => place === 'corner')
    ? ' A panel along the corner cuts it off: a narrower one, or a larger piece, leaves it a corner.'
    : '';
}

interface Watch {
  readonly measures: Measures;
  readonly onSpec?: (given: DraftSpec) => void;
}

/** Measures that tell what is being tried, and the listener for the panels that are left. */
function watched(
  { measure, relax, settles }: Measures,
  onTrial: (trial: DraftTrial) => void,
): Watch {
  let panels: readonly PanelSpec[] = [];
  let timings = 0;
  let relaxed = 0;
  const report = (doing: DraftTrial['doing'], { castOn }: Plan) =>
    onTrial({ panels, castOn, timings, relaxed, doing });
  const telling: Measures = {
    settles,
    measure: (plan) => {
      timings++;
      report('timing', plan);
      return measure(plan);
    },
    relax: (plan) => {
      relaxed++;
      report('relaxing', plan);
      return relax(plan);
    },
  };
  const onSpec = (given: DraftSpec) => {
    panels = given.panels;
  };
  return { measures: telling, onSpec };
}

/** What the fabric of a text, relaxed, is judged as; null where the piece is too big to be relaxed on the way. */
export interface Judgement {
  readonly verdict: Verdict | null;
  readonly coneAngleDeg: number | null;
  readonly surplusRimMm: number | null;
  /** Null too where it stands up for certain, and was not brought to rest to learn how high. */
  readonly riseMm: number | null;
}

export interface MeasuredDraft extends Draft, Judgement {}
export interface MeasuredGrade extends Graded, Judgement {}

/**
 * A plan at another size or gauge, measured and relaxed on the way like a draft, and judged as its text reads.
 * Throws a RangeError that tells what would fit where its panels do not.
 */
export function gradeToSize(
  plan: Plan,
  spec: GradeSpec,
  options: JudgeOptions = {},
  onTrial?: (trial: DraftTrial) => void,
): MeasuredGrade {
  if (isOpen(plan)) return gradeLeftOpen(plan, spec, options);
  const measures = new SearchMeasures(options);
  const told = onTrial ? watched(measures, onTrial).measures : measures;
  const graded = gradePlan(plan, spec, told);
  // As it was asked for, whatever corners the fabric shows: its rim in as many parts.
  const found = measures.judge(graded.text, (rimMm) => rimMm / aroundOf(spec.corners));
  const { judged, sideMm, corners, shape } = found;
  const { verdict } = judged;
  const sizeMm = found.sizeMm ?? graded.sizeMm;
  const standsUp = verdict !== null && !liesFlat(verdict);
  if (standsUp && Math.abs(sizeMm - spec.sizeMm) > FAR_OFF * spec.stitchMm)
    throw new RangeError(cannotGrade(spec, sizeMm, verdict));
  const notes = [...graded.notes, ...sizeNotes(spec, sizeMm, graded.otherMm, verdict)];
  if (sideMm !== null && corners !== spec.corners)
    notes.push(
      `At this size the corners do not show as before: the fabric is read as ${withArticle(shape)}.`,
    );
  if (standsUp) notes.push(NOT_FLAT);
  return { ...graded, ...judged, notes, sizeMm };
}

/** A triangle, a mitre: sized by a side of its longest row, shaped at the plan's own angles. */
function gradeLeftOpen(plan: Plan, spec: GradeSpec, options: JudgeOptions): MeasuredGrade {
  const graded = gradeOpen(plan, spec);
  const sides = openSides(plan) ?? 1;
  const { judged, sideMm } = new SearchMeasures(options).judge(
    graded.text,
    (rimMm) => rimMm / Math.PI / sides,
  );
  const { verdict } = judged;
  const sizeMm = sideMm === null ? graded.sizeMm : sideMm / sides;
  const notes = [
    ...graded.notes,
    ...sizeNotes({ ...spec, corners: 3 }, sizeMm, null, verdict),
    BY_SIDE,
  ];
  const [own] = plan.gauges;
  if (own?.roundMm) {
    const taller = spec.roundMm / spec.stitchMm / (own.roundMm / own.stitchMm);
    if (Math.abs(taller - 1) > OTHER_SHAPE) notes.push(OTHER_ANGLES);
  }
  if (verdict !== null && !liesFlat(verdict)) notes.push(NOT_FLAT);
  return { ...graded, ...judged, notes, sizeMm };
}

const BY_SIDE =
  'The size of a piece left open is that of a side of its longest row, between the edges and lines where it is shaped. Rows between shaping stay as they are.';
/** Change of a row's height over a stitch's width that shows in the angles. Chosen: half a degree of 45. */
const OTHER_SHAPE = 0.02;
const OTHER_ANGLES =
  'At this gauge rows are higher, or lower, for the width of a stitch than before: the angles of the piece change with them.';

/** Stitches a side off the size asked at which a piece that is not flat either is no grading any more. Chosen. */
const FAR_OFF = 3;

/** Equal parts of a rim that its size is told by: sides, or the diameter's π. */
function aroundOf(corners: number): number {
  return corners >= 3 ? corners : Math.PI;
}

/** A piece that does not lie flat at its new size must not be taken for one that does. */
const NOT_FLAT =
  'At this size the piece does not lie flat with all that is in it: look at its verdict before casting on.';

/** Sheets at rest that are kept with all that laying them takes, some tens of MB. Chosen: the last ones are nearest. */
const MOST_KEPT = 3;

/**
 * The measures of one search. What it relaxed is kept, so that the plan found need not be relaxed again to be
 * judged: its text reads back to the same metric. Only that one is laid on the table.
 */
class SearchMeasures implements Measures {
  private readonly rested: { metric: Metric; resting: RestedFabric }[] = [];

  constructor(private readonly options: JudgeOptions) {}

  readonly measure = measurePlan;

  relax = (plan: Plan): RestingFabric | null => {
    if (!canRelax(plan)) return null;
    const prepared = prepare(plan);
    if (prepared.graph.loops > MAX_RELAXED) return null;
    const resting = restingFabric(prepared);
    const { rimMm, flatnessError, mendable, found, givenUp } = resting;
    if (found.relaxation.converged || (givenUp && wordIsCertain(prepared)))
      this.rested.push({ metric: prepared.measured.metric, resting });
    if (this.rested.length > MOST_KEPT) this.rested.shift();
    return { rimMm, flatnessError, mendable };
  };

  /** Whether it lies level on its table, and so can be blocked, though not flat in the air. */
  settles = (text: string): boolean => {
    const plan = parsePlan(text);
    if (!canRelax(plan)) return false;
    const prepared = prepare(plan);
    if (prepared.graph.loops > MAX_RELAXED) return false;
    const { report } = relax(prepared, { advise: false });
    return liesFlat(report.verdict);
  };

  /** Relaxed as the text reads, on a table too; `sizeOf`: the size that is told of its rim, mm. */
  judge(text: string, sizeOf: (rimMm: number) => number): JudgedSize {
    const plan = parsePlan(text);
    const prepared = canRelax(plan) ? prepare(plan) : null;
    if (!prepared || prepared.graph.loops > MAX_MEASURED)
      return { judged: NOT_JUDGED, sideMm: null, sizeMm: null, corners: 0, shape: '' };
    const { metric } = prepared.measured;
    const load = loadOf(prepared, weightOf(prepared));
    const known = this.rested.find((one) => isSameMetric(one.metric, metric))?.resting;
    const { corners, shape } = prepared.report;
    const lines = corners >= 3 ? corners : 0;
    const size = ({ sideMm }: SheetFindings) => sizeOf(sideMm * aroundOf(lines));
    const { givenUp, found } = judgeFabric(prepared, known ?? null, load, size, this.options);
    const { verdict, coneAngleDeg, surplusRimMm, sideMm } = found;
    const riseMm = givenUp ? null : found.riseMm;
    const judged = { verdict, coneAngleDeg, surplusRimMm, riseMm };
    return { judged, sideMm, sizeMm: size(found), corners: lines, shape };
  }
}

/** Share by which a fabric's size hangs on where its relaxation began. Measured: 2.1e-4 at most of some thousand drafts, in buckles. */
const SAME_REST = 4e-4;

/** Whether that share decides which words a size is told by: then it is that of the way `relax` takes. */
function isBetweenWords(sizeMm: number): boolean {
  return UNITS.some((unit) => {
    const [least, most] = [1 - SAME_REST, 1 + SAME_REST].map((share) => share * sizeMm);
    return lengthWords(least, unit) !== lengthWords(most, unit);
  });
}

const UNITS = ['cm', 'inch'] as const;

interface JudgedFabric {
  readonly found: SheetFindings;
  readonly givenUp: boolean;
}

/**
 * Relaxed as far as its verdict needs, on the table too. What was given up is brought to rest after all where that is soon
 * done: then its size is the fabric's, to the last digit. `known`: what the search has of it.
 */
function judgeFabric(
  prepared: Prepared,
  known: RestedFabric | null,
  load: Load | null,
  sizeOf: (found: SheetFindings) => number,
  { unlaid = false }: JudgeOptions,
): JudgedFabric {
  const anew = () => ({
    found: relax(prepared, { advise: false, unlaid }).report,
    givenUp: false,
  });
  const resting = known ?? restingSoon(prepared);
  if (resting === null || (resting.givenUp && prepared.graph.loops <= MAX_RESTED)) return anew();
  if (resting.givenUp) return { found: resting.found, givenUp: true };
  const { asRelaxed } = resting;
  const table = unlaid && resting.stands() ? null : load;
  const oneWay = () => (asRelaxed ? { found: asRelaxed(table), givenUp: false } : anew());
  if (isBetweenWords(sizeOf(resting.found))) return oneWay();
  const found = resting.laid(table);
  return hangsOnLittle(found, DEFAULT_BANDS) ? oneWay() : { found, givenUp: false };
}

/** Relaxed as far as its verdict needs; null where only its way to rest decides. */
function restingSoon(prepared: Prepared): RestedFabric | null {
  const soon = wordIsCertain(prepared) ? restingFabric(prepared) : null;
  // Stopped on its way, and level all the same: its way to rest decides.
  return soon && (soon.givenUp || soon.found.relaxation.reason !== 'cancelled') ? soon : null;
}

/** Larger pieces that stand up are not brought to rest to tell their size: it would take many seconds. Chosen. */
const MAX_RESTED = 6_000;

function wordIsCertain({ measured }: Prepared): boolean {
  return roundsDecide(measureRimAngle(measured), DEFAULT_BANDS);
}

const NOT_JUDGED = { verdict: null, coneAngleDeg: null, surplusRimMm: null, riseMm: null };

interface JudgedSize {
  readonly judged: Judgement;
  /** Side by the corners that the fabric shows (none: diameter), mm; null where it was not relaxed. */
  readonly sideMm: number | null;
  /** The size told of its rim, mm. */
  readonly sizeMm: number | null;
  readonly corners: number;
  readonly shape: string;
}

function isSameMetric(a: Metric, b: Metric): boolean {
  const same = (x: Float64Array, y: Float64Array) =>
    x.length === y.length && x.every((value, k) => value === y[k]);
  return a.vertices === b.vertices && same(a.restMm, b.restMm) && same(a.stiffness, b.stiffness);
}
