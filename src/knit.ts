/**
 * The whole flow, one call per arrow: plan text → plan → stitch graph → metric → relaxed sheet →
 * report. The worker, the command line and the tests all come through here.
 */

import { cablePullIn } from './cell/cable-pull-in.ts';
import { stockinetteCurl } from './cell/curl-shape.ts';
import { fabricRatios } from './cell/fabric-ratios.ts';
import { stiffnessRatios } from './cell/fabric-stiffness.ts';
import { CANNOT_LIE_FLAT, type Draft, draftPlan } from './draft/draft.ts';
import { cannotGrade, type GradeSpec, sizeNotes } from './draft/rework/grade.ts';
import { type FlatterPlan, flatterPlan } from './draft/search/flatter-plan.ts';
import { type Graded, gradePlan } from './draft/search/grade-measured.ts';
import type { MeasuredFabric } from './draft/search/measured-columns.ts';
import type { Measures, RestingFabric } from './draft/search/measures.ts';
import type { DraftSpec, PanelSpec, SpecInput } from './draft/spec/draft-spec.ts';
import { buildCells } from './fabric/build-cells.ts';
import { buildStitchGraph } from './fabric/build-graph.ts';
import type { Cells } from './fabric/cells.ts';
import type { StitchGraph } from './fabric/stitch-graph.ts';
import {
  buildMetric,
  type LaidFabric,
  layFabric,
  type MeasuredMetric,
  readFabric,
} from './gauge/build-metric.ts';
import { rimFaces, withCurl } from './gauge/curl.ts';
import { type FabricWeight, fabricWeight } from './gauge/gauge/fabric-weight.ts';
import {
  type FabricRatioSource,
  type FabricStiffnessSource,
  type Gauge,
  resolveGauge,
} from './gauge/gauge/gauge.ts';
import { type GaugeGuess, type GuessedGround, guessGauge } from './gauge/gauge/yarn-gauge.ts';
import { coneAngleOf } from './gauge/layout/ring-profile.ts';
import type { Metric } from './gauge/metric.ts';
import type { CableFactorSource } from './gauge/texture/cable-width.ts';
import { parsePlan } from './plan/parse.ts';
import { hasShortRows, isSimulable, madeBy, type Plan } from './plan/plan.ts';
import { pressRings } from './relax/flatness/press-rings.ts';
import { misfitOf, type PressedSheet, pressSheet } from './relax/flatness/press-sheet.ts';
import { relaxSheet } from './relax/relax-sheet.ts';
import type { Load, RelaxedSheet, RelaxOptions } from './relax/relaxed-sheet.ts';
import { adviseSheet } from './report/advice.ts';
import { type Budget, flatStitchesPerRound, measureBudget } from './report/budget.ts';
import { courseWidths } from './report/levelling.ts';
import { extentsOf } from './report/outline.ts';
import { measurePosture } from './report/posture.ts';
import type { PlanReport, Report } from './report/report.ts';
import { reportPlan } from './report/report-plan.ts';
import { reportSheet, type SheetFindings } from './report/report-sheet.ts';
import { measureRimAngle } from './report/rim-angle.ts';
import type { Verdict } from './report/verdict.ts';
import { DEFAULT_BANDS } from './report/verdict-bands.ts';
import { curlWords } from './report/words/curl-words.ts';
import { liesFlat } from './report/words/verdict-words.ts';

/** Everything known before relaxation. */
export interface Prepared {
  readonly plan: Plan;
  readonly graph: StitchGraph;
  readonly cells: Cells;
  readonly gauge: Gauge;
  readonly measured: MeasuredMetric;
  readonly budget: Budget;
  readonly report: PlanReport;
}

export interface Knitted extends Omit<Prepared, 'report'> {
  readonly sheet: RelaxedSheet;
  readonly report: Report;
}

export interface KnitOptions extends Partial<RelaxOptions> {
  /** Milliseconds from any origin, for the report's timing; the core has no clock of its own. */
  readonly clock?: () => number;
  /** Hears of the verdict before other timings are tried: all but the advice, which takes longer than the rest. */
  readonly onRested?: (knitted: Knitted) => void;
  /** False: the verdict is all that is wanted, and no advice is looked for. */
  readonly advise?: boolean;
}

/** A plan that cannot be laid out: it has errors, or no stitches. */
export function canRelax(plan: Plan): boolean {
  return isSimulable(plan);
}

/** Up to the metric. The plan must have passed `canRelax`. */
export function prepare(plan: Plan): Prepared {
  const graph = buildStitchGraph(plan);
  const cells = buildCells(graph);
  const reading = readFabric(graph);
  const gauge = resolveGauge(plan, graph, reading.texture, ratiosOfYarn, stiffnessOfYarn);
  const measured = buildMetric(graph, cells, reading, gauge, cableFactorOfYarn);
  const budget = measureBudget(measured, reading.lines.lines);
  const report = reportPlan(plan, graph, reading, gauge, measured, budget);
  return { plan, graph, cells, gauge, measured, budget, report };
}

/** Fabrics whose gauge the plan does not state take their shape from the yarn model. */
const ratiosOfYarn: FabricRatioSource = (stockinetteAspect) => {
  const { use } = fabricRatios(stockinetteAspect);
  const ratioOf = (fabric: 'garter' | 'seed' | 'rib 1x1') => ({
    width: use[fabric].widthRatio,
    aspect: (use[fabric].heightRatio / use[fabric].widthRatio) * shapeOf(stockinetteAspect),
    origin: use[fabric].origin,
  });
  // A piece's ribs are spanned by one size; 1×1 and 2×2 differ by some four hundredths of it.
  return { garter: ratioOf('garter'), seed: ratioOf('seed'), rib: ratioOf('rib 1x1') };
};

/** How stiff each fabric is beside stockinette, by the yarn model. */
const stiffnessOfYarn: FabricStiffnessSource = (stockinetteAspect) =>
  stiffnessRatios(fabricRatios(stockinetteAspect).loop);

/** A first gauge from a standard yarn weight and a needle. */
export function gaugeOfYarn(
  weightNumber: number,
  needleMm: number,
  ground: GuessedGround,
): GaugeGuess {
  return guessGauge(weightNumber, needleMm, ground, ratiosOfYarn);
}

/** Cables narrow as the yarn model computes it. */
const cableFactorOfYarn: CableFactorSource = (over, under, everyRounds) =>
  cablePullIn({ over, under, everyRounds }).widthFactor;

/** Munden's wet-relaxed shape, 1/1.3, where the plan states none: what `fabricRatios` assumes. */
function shapeOf(stockinetteAspect: number | null): number {
  return stockinetteAspect ?? 1 / 1.3;
}

/** Relaxes what `prepare` made. */
export function relax(prepared: Prepared, options: KnitOptions = {}): Knitted {
  const { clock = () => 0, onRested, advise = true, ...solver } = options;
  const before = clock();
  const weight = weightOf(prepared);
  const rest = relaxSheet(prepared.measured.metric, {
    load: loadOf(prepared, weight),
    ...solver,
  });
  const ms = clock() - before;
  const { plan, measured, budget } = prepared;
  const found = reportSheet(prepared.report, measured, rest, weight, ms);
  // What still tumbled on the table is not shown as it lies either.
  const sheet = found.lying ? rest : { ...rest, lying: null };
  const extents = extentsOf(prepared.graph, sheet.positions);
  const report = { ...prepared.report, ...found, extents };
  const rested = { ...prepared, sheet, report: { ...report, advice: [] } };
  onRested?.(rested);
  // Nothing is advised on a fabric that was stopped on its way.
  if (!advise || sheet.relaxation.reason === 'cancelled') return rested;
  const offer = found.verdict === 'flat' ? null : offerFlat(prepared, found.verdict);
  const advice = adviseSheet(plan, prepared.report, budget, found.verdict, offer);
  return { ...prepared, sheet, report: { ...report, advice } };
}

/**
 * The piece as it lies when nothing holds it down: stockinette curls at its free rims, and the report says so. The
 * verdict stays that of the fabric pinned out, which `relax` judged.
 */
export function unpin(knitted: Knitted, options: KnitOptions = {}): Knitted {
  const { clock = () => 0, onRested: _onRested, advise: _advise, ...solver } = options;
  const { graph, measured, report } = knitted;
  const reading = readFabric(graph);
  const before = clock();
  const curling = withCurl(measured.metric, graph, reading, stockinetteCurl());
  const sheet = relaxSheet(curling, { ...solver, from: knitted.sheet.positions });
  const { converged, reason, iterations, residual, energy } = sheet.relaxation;
  const relaxation = { converged, reason, iterations, residual, energy, ms: clock() - before };
  const words = curlWords(rimFaces(measured.metric, graph, reading));
  const rimMm = measureRimAngle(measured).rimMm;
  const { riseMm } = measurePosture(measured, sheet.positions, report.corners, rimMm);
  // How the pinned piece lies on a table says nothing of the curled one, which was not laid down.
  const stands = { riseMm, weightlessRiseMm: riseMm, lying: null };
  const reasons = [...report.reasons, words];
  return { ...knitted, sheet, report: { ...report, ...stands, reasons, relaxation } };
}

function weightOf({ gauge }: Prepared): FabricWeight {
  return fabricWeight(gauge.tex, gauge.sizes.stockinette.stitchMm);
}

/** The fabric's weight on its vertices; null for what does not lie (tubes) and what would take too long. */
function loadOf({ graph, measured, report }: Prepared, { loopLoadMm }: FabricWeight): Load | null {
  const { vertices } = measured.metric;
  if (['tube', 'twisted band'].includes(report.shape) || vertices > MOST_LAID) return null;
  const loadMm = new Float64Array(vertices);
  loadMm.fill(loopLoadMm, 0, graph.loops);
  return { loadMm, friction: TABLE_FRICTION };
}

/** Larger pieces are not laid on the table: it would take many seconds. Chosen. */
const MOST_LAID = 12_000;
/** Wool on a wooden table. Chosen: wool on wool is 0.2–0.5 (from memory). */
const TABLE_FRICTION = 0.3;

/** The plan timed anew so that it lies flat; of one that can be blocked, so that it need not be. */
function offerFlat(
  { plan, measured, budget, report }: Prepared,
  verdict: Verdict,
): FlatterPlan | null | 'too large to try' {
  if (!budget.shaped || hasShortRows(plan)) return null;
  if (stitchesOf(plan) > MAX_MEASURED) return 'too large to try';
  const widths = courseWidths(measured, report.corners);
  const rateOf = (corners: number) =>
    flatStitchesPerRound(corners, widths.roundMm, report.metric.stitchMm);
  const { corners } = report;
  const numbers = { corners, flatRate: rateOf(corners), spreadRate: rateOf(0), widths };
  const { measure } = new SearchMeasures();
  const measures = { measure, atRest: provenMisfit };
  const { flat, blocking } = DEFAULT_BANDS;
  return flatterPlan(plan, numbers, measures, liesFlat(verdict) ? flat : blocking);
}

/**
 * How far from flat a plan is at most, share of a turn; null where it is too large. All that it stores pressed
 * flat is an upper bound, and often enough; else it is relaxed.
 */
function provenMisfit(plan: Plan): number | null {
  if (!canRelax(plan)) return null;
  const prepared = prepare(plan);
  if (prepared.graph.loops > MAX_RELAXED) return null;
  const { metric } = prepared.measured;
  const off = Math.abs(measureRimAngle(prepared.measured).surplus);
  const pressed = pressSheet(metric);
  const most = Math.max(off, misfitOf(pressed.energy, metric));
  const { flat, blocking } = DEFAULT_BANDS;
  return most <= (flat + blocking) / 2
    ? most
    : restingFabric(prepared, null, pressed).flatnessError;
}

/** Larger plans are not timed anew: it would take seconds. Chosen. */
const MAX_MEASURED = 40_000;

function stitchesOf(plan: Plan): number {
  return plan.rounds.reduce((sum, round) => sum + madeBy(plan, round), plan.castOn);
}

/** Text to finished report; null where the plan has errors (they are in `plan.diagnostics`). */
export function knit(
  text: string,
  options: KnitOptions = {},
): { plan: Plan; knitted: Knitted | null } {
  const plan = parsePlan(text);
  return { plan, knitted: canRelax(plan) ? relax(prepare(plan), options) : null };
}

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

/** Wishes to plan text, measured and relaxed on the way, so that it lies flat and has its size. */
export function draftMeasured(
  spec: SpecInput,
  onTrial?: (trial: DraftTrial) => void,
): MeasuredDraft {
  const measures = new SearchMeasures();
  const watch = onTrial ? watched(measures, onTrial) : { measures };
  const draft = draftPlan(spec, watch.measures, watch.onSpec);
  const { judged } = measures.judge(draft.text);
  const { verdict } = judged;
  const told = draft.compromises.includes(CANNOT_LIE_FLAT);
  if (told || verdict === null || liesFlat(verdict)) return { ...draft, ...judged };
  return { ...draft, ...judged, compromises: [...draft.compromises, CANNOT_LIE_FLAT] };
}

interface Watch {
  readonly measures: Measures;
  readonly onSpec?: (given: DraftSpec) => void;
}

/** Measures that tell what is being tried, and the listener for the panels that are left. */
function watched({ measure, relax }: Measures, onTrial: (trial: DraftTrial) => void): Watch {
  let panels: readonly PanelSpec[] = [];
  let timings = 0;
  let relaxed = 0;
  const report = (doing: DraftTrial['doing'], { castOn }: Plan) =>
    onTrial({ panels, castOn, timings, relaxed, doing });
  const telling: Measures = {
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
  readonly riseMm: number | null;
}

export interface MeasuredDraft extends Draft, Judgement {}
export interface MeasuredGrade extends Graded, Judgement {}

/**
 * A plan at another size or gauge, measured and relaxed on the way like a draft, and judged as its text reads.
 * Throws a RangeError that tells what would fit where its panels do not.
 */
export function gradeToSize(plan: Plan, spec: GradeSpec): MeasuredGrade {
  const measures = new SearchMeasures();
  const graded = gradePlan(plan, spec, measures);
  const { judged, sideMm, corners, shape } = measures.judge(graded.text);
  const { verdict } = judged;
  // As it was asked for, whatever corners the fabric shows: its rim in as many parts.
  const sizeMm =
    sideMm === null ? graded.sizeMm : (sideMm * aroundOf(corners)) / aroundOf(spec.corners);
  const standsUp = verdict !== null && !liesFlat(verdict);
  if (standsUp && Math.abs(sizeMm - spec.sizeMm) > FAR_OFF * spec.stitchMm)
    throw new RangeError(cannotGrade(spec, sizeMm, verdict));
  const notes = [...graded.notes, ...sizeNotes(spec, sizeMm)];
  if (sideMm !== null && corners !== spec.corners)
    notes.push(`At this size the corners do not show as before: the fabric is read as a ${shape}.`);
  if (standsUp) notes.push(NOT_FLAT);
  return { ...graded, ...judged, notes, sizeMm };
}

/** Stitches a side off the size asked at which a piece that is not flat either is no grading any more. Chosen. */
const FAR_OFF = 3;

/** Equal parts of a rim that its size is told by: sides, or the diameter's π. */
function aroundOf(corners: number): number {
  return corners >= 3 ? corners : Math.PI;
}

/** A piece that does not lie flat at its new size must not be taken for one that does. */
const NOT_FLAT =
  'At this size the piece does not lie flat with all that is in it: look at its verdict before casting on.';

/**
 * The measures of one search. What it relaxed is kept, so that the plan found need not be relaxed again to be
 * judged: its text reads back to the same metric.
 */
class SearchMeasures implements Measures {
  private readonly rested: { metric: Metric; load: Load | null; found: SheetFindings }[] = [];

  measure = (plan: Plan): MeasuredFabric | null => {
    if (!canRelax(plan)) return null;
    const graph = buildStitchGraph(plan);
    const reading = readFabric(graph);
    const gauge = resolveGauge(plan, graph, reading.texture, ratiosOfYarn, stiffnessOfYarn);
    return measuredFabric(layFabric(graph, reading, gauge, cableFactorOfYarn));
  };

  relax = (plan: Plan): RestingFabric | null => {
    if (!canRelax(plan)) return null;
    const prepared = prepare(plan);
    if (prepared.graph.loops > MAX_RELAXED) return null;
    const load = loadOf(prepared, weightOf(prepared));
    const { found, ...resting } = restingFabric(prepared, load);
    if (found.relaxation.converged)
      this.rested.push({ metric: prepared.measured.metric, load, found });
    return resting;
  };

  /** Relaxed as the text reads, on a table too. */
  judge(text: string): JudgedSize {
    const plan = parsePlan(text);
    const prepared = canRelax(plan) ? prepare(plan) : null;
    if (!prepared || prepared.graph.loops > MAX_MEASURED)
      return { judged: NOT_JUDGED, sideMm: null, corners: 0, shape: '' };
    const { metric } = prepared.measured;
    const load = loadOf(prepared, weightOf(prepared));
    const known = this.rested.find(
      (one) => isSameMetric(one.metric, metric) && one.load?.loadMm[0] === load?.loadMm[0],
    );
    const found = known?.found ?? relax(prepared, { advise: false }).report;
    const { verdict, coneAngleDeg, surplusRimMm, riseMm, sideMm } = found;
    const { corners, shape } = prepared.report;
    const lines = corners >= 3 ? corners : 0;
    const judged = { verdict, coneAngleDeg, surplusRimMm, riseMm };
    return { judged, sideMm, corners: lines, shape };
  }
}

const NOT_JUDGED = { verdict: null, coneAngleDeg: null, surplusRimMm: null, riseMm: null };

interface JudgedSize {
  readonly judged: Judgement;
  /** Side by the corners that the fabric shows (none: diameter), mm; null where it was not relaxed. */
  readonly sideMm: number | null;
  readonly corners: number;
  readonly shape: string;
}

function isSameMetric(a: Metric, b: Metric): boolean {
  const same = (x: Float64Array, y: Float64Array) =>
    x.length === y.length && x.every((value, k) => value === y[k]);
  return a.vertices === b.vertices && same(a.restMm, b.restMm) && same(a.stiffness, b.stiffness);
}

/** Larger drafts are measured but not relaxed on the way: it would take many seconds. Chosen. */
const MAX_RELAXED = 12_000;

/**
 * Whether a draft lies flat, and how big it is then. What is not flat shows soon: it falls below what it
 * stores pressed flat by more than blocking evens out.
 */
function restingFabric(
  prepared: Prepared,
  load: Load | null = null,
  pressed: PressedSheet = pressSheet(prepared.measured.metric),
): RestingFabric & { readonly found: SheetFindings } {
  const { measured, report } = prepared;
  const { metric } = measured;
  let released = 0;
  const sheet = relaxSheet(metric, {
    load,
    onProgress: ({ energy }) => {
      released = misfitOf(pressed.energy - energy, metric);
      return released > DEFAULT_BANDS.blocking;
    },
  });
  const sides = report.corners >= 3 ? report.corners : Math.PI;
  const press = () => pressed;
  const found = reportSheet(report, measured, sheet, weightOf(prepared), 0, { press });
  const { sideMm, misfit } = found;
  const waves = sheet.relaxation.reason === 'cancelled';
  const flatnessError = waves ? Math.max(released, misfit) : misfit;
  return { rimMm: sideMm * sides, flatnessError, found };
}

function measuredFabric({ layout, size, turning }: LaidFabric): MeasuredFabric {
  const { rings } = layout;
  const stitchMm = Array.from({ length: rings.courses }, (_, course) =>
    size.stitchMm.subarray(rings.start[course], rings.start[course + 1]),
  );
  return {
    stitchMm,
    courseMm: size.courseMm,
    turningRad: turning.coneAngleRad,
    coneAngleRad: coneAngleOf(layout, turning),
    flatnessError: pressRings(turning),
  };
}
