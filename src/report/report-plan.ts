/** Plan, graph and metric → PlanReport: counts, budget, gauge and yarn, before any relaxation. */
import type { StitchGraph } from '../fabric/stitch-graph.ts';
import type { FabricReading, MeasuredMetric } from '../gauge/build-metric.ts';
import type { Gauge } from '../gauge/gauge/gauge.ts';
import { countCorners } from '../gauge/shaping/corner-count.ts';
import { joinStitches, madeBy, type Plan, type PlanRound } from '../plan/plan.ts';
import type { Budget } from './budget.ts';
import { closingOf } from './closing.ts';
import { measurePullIn } from './pull-in.ts';
import type { PlanReport, ReportedDiagnostic, RoundReport } from './report.ts';
import { measureRimAngle } from './rim-angle.ts';
import { shortRowShape } from './short-row-shape.ts';
import { courseName } from './words/course-name.ts';
import { estimateYarn } from './yarn-estimate.ts';

export function reportDiagnostics(plan: Plan): ReportedDiagnostic[] {
  return plan.diagnostics.map((d) => ({
    code: d.code,
    severity: d.severity,
    message: d.message,
    hint: d.hint,
    line: d.from.line,
    column: d.from.column,
  }));
}

export function reportPlan(
  plan: Plan,
  graph: StitchGraph,
  reading: FabricReading,
  gauge: Gauge,
  measured: MeasuredMetric,
  budget: Budget,
): PlanReport {
  const { corners, cutStitches } = countCorners(reading.lines, measured.layout.rings);
  return {
    version: 1,
    title: plan.title,
    worked: plan.worked,
    castOn: plan.castOn,
    castOnForJoin: joinStitches(plan),
    rounds: plan.rounds.map((r) => reportRound(plan, r, budget)),
    last: plan.rounds.length > 0 ? plan.rounds[plan.rounds.length - 1].after : plan.castOn,
    closing: closingOf(plan, gauge.groundSize.stitchMm),
    crossings: graph.crossings,
    diagnostics: reportDiagnostics(plan),
    metric: {
      stitchMm: gauge.groundSize.stitchMm,
      roundMm: gauge.groundSize.roundMm,
      ground: gauge.ground,
      origin: gauge.groundSize.origin,
    },
    corners,
    cutStitches: Math.round(cutStitches),
    shape: shapeName(graph, measured, corners),
    pullIn: measurePullIn(measured, corners, gauge.groundSize.stitchMm),
    shortRows: shortRowShape(measured),
    yarn: estimateYarn(plan, gauge),
  };
}

function reportRound(plan: Plan, round: PlanRound, budget: Budget): RoundReport {
  let decreases = 0;
  let increases = 0;
  let crossings = 0;
  for (const id of round.works) {
    const kind = plan.kinds[id];
    const change = kind.loops.length - kind.consumes;
    if (change < 0) decreases -= change;
    else increases += change;
    if (kind.crossing) crossings++;
  }
  const c = round.n;
  return {
    n: round.n,
    label: courseName(plan, round.n),
    stitches: round.after,
    ...(round.colour !== undefined && { colour: round.colour }),
    ...(round.shortRow && { worked: madeBy(plan, round) }),
    decreases,
    increases,
    crossings,
    budget: budget.shaped ? (budget.flat[c] ?? 0) : 0,
    rate: budget.rate[c] ?? 0,
    pace: budget.pace[c] ?? 'right',
  };
}

const POLYGONS = ['', '', '', 'triangle', 'square', 'pentagon', 'hexagon', 'heptagon', 'octagon'];

/** What the piece is, in a word or two. */
function shapeName(graph: StitchGraph, measured: MeasuredMetric, corners: number): string {
  if (graph.join.halfTurns !== 0 && graph.closure === 'helix') return 'twisted band';
  if (graph.closure === 'open') return 'flat piece';
  if (!measureRimAngle(measured).round) return 'tube';
  if (corners === 0) return 'disc';
  return POLYGONS[corners] || `${corners}-sided piece`;
}
