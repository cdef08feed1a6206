/**
 * What the searches of drafts, gradings and advice ask of a plan: what its rounds measure, and how flat it rests.
 * In: a plan, or Prepared. Out: MeasuredFabric by its rounds alone; RestingFabric from a relaxation.
 */

import type { MeasuredFabric } from '../draft/search/measured-columns.ts';
import type { RestingFabric } from '../draft/search/measures.ts';
import { buildStitchGraph } from '../fabric/build-graph.ts';
import { type LaidFabric, layFabric, readFabric } from '../gauge/build-metric.ts';
import { coneAngleOf } from '../gauge/layout/ring-profile.ts';
import type { Plan } from '../plan/plan.ts';
import { pressRings } from '../relax/flatness/press-rings.ts';
import { misfitOf, type PressedSheet, pressSheet } from '../relax/flatness/press-sheet.ts';
import { planSheet, relaxInAir, startsInPlane } from '../relax/relax-sheet.ts';
import type { Load, RelaxedSheet, RelaxProgress } from '../relax/relaxed-sheet.ts';
import { SheetSolver } from '../relax/solver/sheet-solver.ts';
import { reportSheet, type SheetFindings, verdictStands } from '../report/report-sheet.ts';
import { DEFAULT_BANDS } from '../report/verdict-bands.ts';
import { liesFlat } from '../report/words/verdict-words.ts';
import { cableFactorOfYarn, canRelax, gaugeOf, type Prepared, weightOf } from './prepare.ts';

/** Larger plans are not timed anew: it would take seconds. Chosen. */
export const MAX_MEASURED = 40_000;

/** Larger drafts are measured but not relaxed on the way: it would take many seconds. Chosen. */
export const MAX_RELAXED = 12_000;

/**
 * Flatness error, over what blocking evens out, of a piece that another size may still make flat. Chosen: of 90
 * drafts 2 were mended within it and 1 beyond, 3 stitches off the size asked.
 */
const NEARLY = 2;
/** The same by all that the piece stores pressed flat, of which it sheds but a part. Chosen: of 144 drafts one was mended from 2.06. */
const NEARLY_PRESSED = 2.4;
/**
 * Vertices of a short piece, where a stitch more or less a side moves every decrease. A larger one stopped on its way is taken for
 * nearly flat by what it stores pressed flat alone, however little it had shed by then. Chosen: more sizes would take seconds.
 */
const MOST_MENDED = 6_000;

export interface RestedFabric extends RestingFabric {
  /** As it rests in the air. */
  readonly found: SheetFindings;
  /** The same laid on a table; null: as it rests in the air. */
  readonly laid: (load: Load | null) => SheetFindings;
  /** What `relax` finds, to the last bit, where it comes to rest the same way; null where it started from the sheet pressed flat. */
  readonly asRelaxed: ((load: Load | null) => SheetFindings) | null;
  /** Whether its verdict is the same however it comes to lie on a table. */
  readonly stands: () => boolean;
  /** Given up as soon as it was certain that it stands up: its rise is not known. */
  readonly givenUp: boolean;
}

/**
 * Whether a draft lies flat, and how big it is then. What is not flat shows soon: it falls below what it
 * stores pressed flat by more than blocking evens out.
 */
export function restingFabric(prepared: Prepared, known: PressedSheet | null = null): RestedFabric {
  const { measured, report } = prepared;
  const { metric } = measured;
  const topology = planSheet(metric);
  const presser = known ? undefined : new SheetSolver(metric, topology);
  const pressed = known ?? pressSheet(metric, presser);
  let released = 0;
  const settings = {
    inPlane: pressed.positions,
    onProgress: ({ energy }: RelaxProgress) => {
      released = misfitOf(pressed.energy - energy, metric);
      return released > DEFAULT_BANDS.blocking;
    },
  };
  // Nets are spread on the first shape seen: where that is another than the flat one, they are spread as `relax` does.
  const flatFirst = startsInPlane(metric);
  const own = flatFirst ? presser : undefined;
  const { sheet, lay, solver } = relaxInAir(metric, settings, topology, own);
  const sides = report.corners >= 3 ? report.corners : Math.PI;
  const findingsOf = (rest: RelaxedSheet, press = () => pressed) =>
    reportSheet(report, measured, rest, weightOf(prepared), 0, { press });
  const found = findingsOf(sheet);
  const { sideMm, misfit } = found;
  const waves = sheet.relaxation.reason === 'cancelled';
  // What was stopped on its way had shed a part, by chance: all that it stores pressed flat compares with others'.
  const most = misfitOf(pressed.energy, metric);
  const flatnessError = waves ? most : misfit;
  const { blocking } = DEFAULT_BANDS;
  const mendable =
    most <= NEARLY_PRESSED * blocking ||
    (metric.vertices <= MOST_MENDED && Math.max(released, misfit) <= NEARLY * blocking);
  // Laid once: on the table its solver has other Hessians than before.
  let onTable: RelaxedSheet | null = null;
  const laidOn = (load: Load) => {
    onTable ??= lay(load);
    return onTable;
  };
  const alike = !waves && !flatFirst;
  return {
    rimMm: sideMm * sides,
    flatnessError,
    mendable,
    found,
    laid: (load) => (load && !waves ? findingsOf(laidOn(load)) : found),
    asRelaxed: alike
      ? (load) =>
          findingsOf(load ? laidOn(load) : sheet, () => pressSheet(metric, solver ?? undefined))
      : null,
    stands: () => waves || verdictStands(report, measured, sheet, { press: () => pressed }),
    givenUp: waves && !liesFlat(found.verdict),
  };
}

/** By its rounds alone; null where the plan cannot be laid out. */
export function measurePlan(plan: Plan): MeasuredFabric | null {
  if (!canRelax(plan)) return null;
  const graph = buildStitchGraph(plan);
  const reading = readFabric(graph);
  return measuredFabric(
    layFabric(graph, reading, gaugeOf(plan, graph, reading), cableFactorOfYarn),
  );
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
