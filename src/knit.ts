/**
 * The whole flow, one call per arrow: plan text → plan → stitch graph → metric → relaxed sheet →
 * report. The worker, the command line and the tests all come through here.
 */

import { cablePullIn } from './cell/cable-pull-in.ts';
import { fabricRatios } from './cell/fabric-ratios.ts';
import { type Draft, draftPlan } from './draft/draft.ts';
import type { GradeSpec } from './draft/rework/grade.ts';
import { redraft } from './draft/rework/redraft.ts';
import type { Measures, RestingFabric } from './draft/search/draft-flattest.ts';
import { gradeMeasured, type MeasuredGrade } from './draft/search/grade-measured.ts';
import { levelPlan } from './draft/search/level-plan.ts';
import type { MeasuredFabric } from './draft/search/measured-columns.ts';
import type { PanelSpec, SpecInput } from './draft/spec/draft-spec.ts';
import { buildCells } from './fabric/build-cells.ts';
import { buildStitchGraph } from './fabric/build-graph.ts';
import type { Cells } from './fabric/cells.ts';
import type { StitchGraph } from './fabric/stitch-graph.ts';
import { buildMetric, type MeasuredMetric, readFabric } from './gauge/build-metric.ts';
import { type FabricRatioSource, type Gauge, resolveGauge } from './gauge/gauge/gauge.ts';
import { type GaugeGuess, type GuessedGround, guessGauge } from './gauge/gauge/yarn-gauge.ts';
import type { CableFactorSource } from './gauge/texture/cable-width.ts';
import { parsePlan } from './plan/parse.ts';
import { hasErrors, type Plan } from './plan/plan.ts';
import { pressRings } from './relax/flatness/press-rings.ts';
import { misfitOf, pressSheet } from './relax/flatness/press-sheet.ts';
import { relaxSheet } from './relax/relax-sheet.ts';
import type { RelaxedSheet, RelaxOptions } from './relax/relaxed-sheet.ts';
import { type Budget, flatStitchesPerRound, measureBudget } from './report/budget.ts';
import { courseWidths, mostCommonChange } from './report/levelling.ts';
import type { PlanReport, Report } from './report/report.ts';
import { reportPlan } from './report/report-plan.ts';
import { reportSheet } from './report/report-sheet.ts';
import { DEFAULT_BANDS } from './report/verdict-bands.ts';

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
}

/** A plan that cannot be laid out: it has errors, or no stitches. */
export function canRelax(plan: Plan): boolean {
  return !hasErrors(plan) && plan.castOn > 0 && plan.rounds.length > 0;
}

/** Up to the metric. The plan must have passed `canRelax`. */
export function prepare(plan: Plan): Prepared {
  const graph = buildStitchGraph(plan);
  const cells = buildCells(graph);
  const reading = readFabric(graph);
  const gauge = resolveGauge(plan, graph, reading.texture, ratiosOfYarn);
  const measured = buildMetric(graph, cells, reading, gauge, cableFactorOfYarn);
  const budget = measureBudget(measured, reading.lines.lines);
  const report = reportPlan(plan, graph, reading, gauge, measured, budget);
  return { plan, graph, cells, gauge, measured, budget, report };
}

/** Fabrics whose gauge the plan does not state take their shape from the yarn model. */
const ratiosOfYarn: FabricRatioSource = (stockinetteAspect) => {
  const { use } = fabricRatios(stockinetteAspect);
  const ratioOf = (fabric: 'garter' | 'seed') => ({
    width: use[fabric].widthRatio,
    aspect: (use[fabric].heightRatio / use[fabric].widthRatio) * shapeOf(stockinetteAspect),
    origin: use[fabric].origin,
  });
  return { garter: ratioOf('garter'), seed: ratioOf('seed') };
};

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
  const { clock = () => 0, ...solver } = options;
  const before = clock();
  const sheet = relaxSheet(prepared.measured.metric, solver);
  const ms = clock() - before;
  const { measured, budget } = prepared;
  const found = reportSheet(prepared.report, measured, budget, sheet, ms);
  const advice = found.advice.map((item) =>
    item.every === null ? item : { ...item, planText: flattest(prepared, item.every) },
  );
  const report = { ...prepared.report, ...found, advice };
  return { ...prepared, sheet, report };
}

/** Larger plans are re-timed evenly without measuring the outcome: it would take seconds. Chosen. */
const MOST_MEASURED = 40_000;

/** The plan re-timed: evenly, or by the width that its stitches really have, whichever is flatter. */
function flattest(prepared: Prepared, every: number): string | null {
  const { plan, measured, report } = prepared;
  if (every < 1) return null;
  const even = redraft(plan, every).text;
  if (prepared.graph.loops > MOST_MEASURED) return even;
  const widths = courseWidths(measured, report.corners);
  const ground = flatStitchesPerRound(report.corners, widths.roundMm, report.metric.stitchMm);
  const steady = Math.max(1, mostCommonChange(plan) / ground);
  let best = even;
  let least = Number.POSITIVE_INFINITY;
  for (const text of [even, redraft(plan, steady).text, levelPlan(plan, widths).text]) {
    const tried = parsePlan(text);
    if (!canRelax(tried)) continue;
    const miss = pressRings(prepare(tried).measured.turning);
    if (miss < least - 1e-6) {
      least = miss;
      best = text;
    }
  }
  return best;
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
export function draftMeasured(spec: SpecInput, onTrial?: (trial: DraftTrial) => void): Draft {
  if (!onTrial) return draftPlan(spec, MEASURES);
  let panels: readonly PanelSpec[] = [];
  let timings = 0;
  let relaxed = 0;
  const report = (doing: DraftTrial['doing'], { castOn }: Plan) =>
    onTrial({ panels, castOn, timings, relaxed, doing });
  const watched: Measures = {
    measure: (text) => {
      const plan = parsePlan(text);
      timings++;
      report('timing', plan);
      return measurePlan(plan);
    },
    relax: (text) => {
      const plan = parsePlan(text);
      relaxed++;
      report('relaxing', plan);
      return relaxPlan(plan);
    },
  };
  return draftPlan(spec, watched, (given) => {
    panels = given.panels;
  });
}

/** A plan at another size or gauge, measured and relaxed on the way like a draft. */
export function gradeToSize(plan: Plan, spec: GradeSpec): MeasuredGrade {
  return gradeMeasured(plan, spec, MEASURES);
}

const MEASURES: Measures = {
  measure: (text) => measurePlan(parsePlan(text)),
  relax: (text) => relaxPlan(parsePlan(text)),
};

function measurePlan(plan: Plan): MeasuredFabric | null {
  return canRelax(plan) ? measuredFabric(prepare(plan).measured) : null;
}

function relaxPlan(plan: Plan): RestingFabric | null {
  if (!canRelax(plan)) return null;
  const prepared = prepare(plan);
  return prepared.graph.loops <= MOST_RELAXED ? restingFabric(prepared) : null;
}

/** Larger drafts are measured but not relaxed on the way: it would take many seconds. Chosen. */
const MOST_RELAXED = 12_000;

/**
 * Whether a draft lies flat, and how big it is then. What is not flat shows soon: it falls below what it
 * stores pressed flat by more than blocking evens out.
 */
function restingFabric(prepared: Prepared): RestingFabric {
  const { measured, report, budget } = prepared;
  const { metric } = measured;
  const pressed = pressSheet(metric);
  let released = 0;
  const sheet = relaxSheet(metric, {
    onProgress: ({ energy }) => {
      released = misfitOf(pressed.energy - energy, metric);
      return released > DEFAULT_BANDS.blocking;
    },
  });
  const sides = report.corners >= 3 ? report.corners : Math.PI;
  const { sideMm, misfit } = reportSheet(report, measured, budget, sheet, 0);
  const waves = sheet.relaxation.reason === 'cancelled';
  return { rimMm: sideMm * sides, flatnessError: waves ? Math.max(released, misfit) : misfit };
}

function measuredFabric({ layout, size, metric, turning }: MeasuredMetric): MeasuredFabric {
  const { rings } = layout;
  const stitchMm = Array.from({ length: rings.courses }, (_, course) =>
    size.stitchMm.subarray(rings.start[course], rings.start[course + 1]),
  );
  return {
    stitchMm,
    courseMm: size.courseMm,
    turningRad: turning.coneAngleRad,
    coneAngleRad: metric.ring.coneAngleRad,
    flatnessError: pressRings(turning),
  };
}
