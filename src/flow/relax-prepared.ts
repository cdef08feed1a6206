/**
 * The relaxed sheet with its report: as it lies on the table, or unpinned with its edges curling.
 * In: Prepared. Out: Knitted.
 */

import { stockinetteCurl } from '../cell/curl-shape.ts';
import { readFabric } from '../gauge/build-metric.ts';
import { rimFaces, withCurl } from '../gauge/curl.ts';
import { relaxSheet } from '../relax/relax-sheet.ts';
import type { RelaxedSheet, RelaxOptions } from '../relax/relaxed-sheet.ts';
import { adviseSheet } from '../report/advice.ts';
import { extentsOf, tubeSizeOf } from '../report/outline.ts';
import { measurePosture } from '../report/posture.ts';
import type { Report } from '../report/report.ts';
import { reportSheet } from '../report/report-sheet.ts';
import { measureRimAngle } from '../report/rim-angle.ts';
import { curlWords } from '../report/words/curl-words.ts';
import { offerFlat } from './offer-flat.ts';
import { loadOf, type Prepared, weightOf } from './prepare.ts';

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
  /** The sheet at rest and laid on its table already, where a caller has it; else null, and it is relaxed. */
  readonly known?: RelaxedSheet | null;
}

/** Relaxes what `prepare` made. */
export function relax(prepared: Prepared, options: KnitOptions = {}): Knitted {
  const { clock = () => 0, onRested, advise = true, known = null, ...solver } = options;
  const before = clock();
  const weight = weightOf(prepared);
  const { metric } = prepared.measured;
  const rest = known ?? relaxSheet(metric, { load: loadOf(prepared, weight), ...solver });
  const ms = clock() - before;
  const { plan, measured, budget } = prepared;
  const found = reportSheet(prepared.report, measured, rest, weight, ms);
  // What still tumbled on the table is not shown as it lies either.
  const sheet = found.lying ? rest : { ...rest, lying: null };
  const extents = extentsOf(prepared.graph, sheet.positions);
  const isTube = prepared.report.shape === 'tube';
  const tube = isTube ? tubeSizeOf(prepared.graph, sheet.positions) : null;
  const report = { ...prepared.report, ...found, extents, tube };
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
  const {
    clock = () => 0,
    onRested: _onRested,
    advise: _advise,
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
  const reasons = [...report.reasons, words];
  return { ...knitted, sheet, report: { ...report, ...stands, reasons, relaxation } };
}
