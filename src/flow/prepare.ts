/**
 * A plan up to its metric: graph, cells, gauge, rest lengths, and what can be told before anything is relaxed.
 * In: a Plan without errors. Out: Prepared. What the yarn model says of fabrics and cables goes in here.
 */

import { cablePullIn } from '../cell/cable-pull-in.ts';
import { fabricRatios } from '../cell/fabric-ratios.ts';
import { stiffnessRatios } from '../cell/fabric-stiffness.ts';
import { buildCells } from '../fabric/build-cells.ts';
import { buildStitchGraph } from '../fabric/build-graph.ts';
import type { Cells } from '../fabric/cells.ts';
import type { StitchGraph } from '../fabric/stitch-graph.ts';
import {
  buildMetric,
  type FabricReading,
  type MeasuredMetric,
  readFabric,
} from '../gauge/build-metric.ts';
import { type FabricWeight, fabricWeight } from '../gauge/gauge/fabric-weight.ts';
import {
  type FabricRatioSource,
  type FabricStiffnessSource,
  type Gauge,
  resolveGauge,
} from '../gauge/gauge/gauge.ts';
import { type GaugeGuess, type GuessedGround, guessGauge } from '../gauge/gauge/yarn-gauge.ts';
import { countCorners } from '../gauge/shaping/corner-count.ts';
import type { CableFactorSource } from '../gauge/texture/cable-width.ts';
import { isSimulable, type Plan } from '../plan/plan.ts';
import type { Load } from '../relax/relaxed-sheet.ts';
import { type Budget, measureBudget } from '../report/budget.ts';
import type { PlanReport } from '../report/report.ts';
import { reportPlan } from '../report/report-plan.ts';

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

/** A plan that cannot be laid out: it has errors, or no stitches. */
export function canRelax(plan: Plan): boolean {
  return isSimulable(plan);
}

/** Up to the metric. The plan must have passed `canRelax`. */
export function prepare(plan: Plan): Prepared {
  const graph = buildStitchGraph(plan);
  const cells = buildCells(graph);
  const reading = readFabric(graph);
  const gauge = gaugeOf(plan, graph, reading);
  const measured = buildMetric(graph, cells, reading, gauge, cableFactorOfYarn);
  const { corners } = countCorners(reading.lines, measured.layout.rings);
  const budget = measureBudget(measured, corners);
  const report = reportPlan(plan, graph, reading, gauge, measured, budget);
  return { plan, graph, cells, gauge, measured, budget, report };
}

/** As the plan states it, the rest by the yarn model. */
export function gaugeOf(plan: Plan, graph: StitchGraph, { texture }: FabricReading): Gauge {
  return resolveGauge(plan, graph, texture, ratiosOfYarn, stiffnessOfYarn);
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
export const cableFactorOfYarn: CableFactorSource = (over, under, everyRounds, purlBeside) =>
  cablePullIn({ over, under, everyRounds, purlBeside }).widthFactor;

/** Munden's wet-relaxed shape, 1/1.3, where the plan states none: what `fabricRatios` assumes. */
function shapeOf(stockinetteAspect: number | null): number {
  return stockinetteAspect ?? 1 / 1.3;
}

export function weightOf({ gauge }: Prepared): FabricWeight {
  return fabricWeight(gauge.tex, gauge.sizes.stockinette.stitchMm);
}

/** The fabric's weight on its vertices; null for what does not lie (tubes) and what would take too long. */
export function loadOf(
  { graph, measured, report }: Prepared,
  { loopLoadMm }: FabricWeight,
): Load | null {
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
