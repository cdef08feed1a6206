/**
 * The relaxed sheet with its report: as it lies on the table, or unpinned with its edges curling.
 * In: Prepared. Out: Knitted.
 */

import { stockinetteCurl } from '../cell/curl-shape.ts';
import { readFabric } from '../gauge/build-metric.ts';
import { rimFaces, withCurl } from '../gauge/curl.ts';
import { type PressedSheet, pressSheet } from '../relax/flatness/press-sheet.ts';
import { type RestInAir, relaxInAir, relaxSheet } from '../relax/relax-sheet.ts';
import type { RelaxedSheet, RelaxOptions } from '../relax/relaxed-sheet.ts';
import { adviseSheet } from '../report/advice.ts';
import { extentsOf, measureOutline, tubeSizeOf } from '../report/outline.ts';
import { measurePosture } from '../report/posture.ts';
import type { Report } from '../report/report.ts';
import { reportSheet, verdictStands } from '../report/report-sheet.ts';
import { measureRimAngle } from '../report/rim-angle.ts';
import { curlWords } from '../report/words/curl-words.ts';
import { inPlanTerms } from '../report/words/terms.ts';
import { offerFlat } from './offer-flat.ts';
import { loadOf, type Prepared, weightOf } from './prepare.ts';

export interface Knitted extends Omit<Prepared, 'report'> {
  readonly sheet: RelaxedSheet;
  readonly report: Report;
}

export interface KnitOptions extends Partial<RelaxOptions> {
  /** Milliseconds from any origin, for the report's timing; the core has no clock of its own. */
  readonly clock?: () => number;
  /**
   * Hears of the verdict before the piece is laid on its table, where the word is the same however it comes to lie: without
   * `lying` and advice, `riseMm` as it hangs in the air.
   */
  readonly onJudged?: (report: Report) => void;
  /** Hears of the verdict before other timings are tried: all but the advice, which takes longer than the rest. */
  readonly onRested?: (knitted: Knitted) => void;
  /** False: the verdict is all that is wanted, and no advice is looked for. */
  readonly advise?: boolean;
  /** True: it is laid on its table only where its verdict hangs on how it lies. */
  readonly unlaid?: boolean;
  /** The sheet at rest and laid on its table already, where a caller has it; else null, and it is relaxed. */
  readonly known?: RelaxedSheet | null;
}

/** Relaxes what `prepare` made. */
export function relax(prepared: Prepared, options: KnitOptions = {}): Knitted {
  const {
    clock = () => 0,
    onJudged,
    onRested,
    advise = true,
    unlaid = false,
    known = null,
    ...solver
  } = options;
  const before = clock();
  const { measured } = prepared;
  const weight = weightOf(prepared);
  const { load = loadOf(prepared, weight) } = solver;
  let resting: RestInAir | null = null;
  let pressed: PressedSheet | null = null;
  const press = () => {
    pressed ??= pressSheet(measured.metric, resting?.solver ?? undefined);
    return pressed;
  };
  const judge = (sheet: RelaxedSheet): Knitted => {
    const ms = clock() - before;
    const found = reportSheet(prepared.report, measured, sheet, weight, ms, { press });
    // What still tumbled on the table is not shown as it lies either.
    const shown = found.lying ? sheet : { ...sheet, lying: null };
    const sizes = sizesOf(prepared, shown);
    return {
      ...prepared,
      sheet: shown,
      report: { ...prepared.report, ...found, ...sizes, advice: [] },
    };
  };
  const settle = () => {
    resting = relaxInAir(measured.metric, solver);
    const { sheet, lay } = resting;
    if (!load) return sheet;
    const asked = (unlaid || onJudged) && sheet.relaxation.converged;
    const stands = asked && verdictStands(prepared.report, measured, sheet, { press });
    if (stands && unlaid) return sheet;
    if (stands) onJudged?.(judge(sheet).report);
    return lay(load);
  };
  const rested = judge(known ?? settle());
  onRested?.(rested);
  const { sheet, report } = rested;
  // Nothing is advised on a fabric that was stopped on its way.
  if (!advise || sheet.relaxation.reason === 'cancelled') return rested;
  const { verdict } = report;
  const offer = verdict === 'flat' ? null : offerFlat(prepared, verdict);
  const advice = adviseSheet(prepared.plan, prepared.report, prepared.budget, verdict, offer);
  return { ...rested, report: { ...report, advice } };
}

function sizesOf({ graph, report }: Prepared, { positions }: RelaxedSheet) {
  const extents = extentsOf(graph, positions);
  const tube = report.shape === 'tube' ? tubeSizeOf(graph, positions) : null;
  const sided = !extents && !tube && report.corners >= 3;
  const outline = sided ? measureOutline(graph, positions) : null;
  const even = report.corners % 2 === 0;
  const acrossMm = outline && (even ? outline.throughMm : outline.acrossMm);
  return { extents, tube, acrossMm };
}

/**
 * The piece as it lies when nothing holds it down: stockinette curls at its free rims, and the report says so. The
 * verdict stays that of the fabric pinned out, which `relax` judged.
 */
export function unpin(knitted: Knitted, options: KnitOptions = {}): Knitted {
  const {
    clock = () => 0,
    onJudged: _onJudged,
    onRested: _onRested,
    advise: _advise,
    unlaid: _unlaid,
    known: _known,
    ...solver
  } = options;
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
  const reasons = [...report.reasons, inPlanTerms(words, knitted.plan)];
  return { ...knitted, sheet, report: { ...report, ...stands, reasons, relaxation } };
}
