/**
 * RelaxedSheet → SheetReport: the verdict (`verdict.ts`) with its reasons and figures.
 * In: plan report, metric, sheet; milliseconds spent. Out: lengths mm, angles degrees.
 */
import type { MeasuredMetric } from '../gauge/build-metric.ts';
import type { FabricWeight } from '../gauge/gauge/fabric-weight.ts';
import { pressedRings } from '../relax/flatness/press-rings.ts';
import { misfitOf, type PressedSheet, pressSheet } from '../relax/flatness/press-sheet.ts';
import type { RelaxedSheet } from '../relax/relaxed-sheet.ts';
import { measurePosture, type Posture } from './posture.ts';
import { explain } from './reasons.ts';
import type { Blocked, PlanReport, SheetReport } from './report.ts';
import { measureRimAngle } from './rim-angle.ts';
import { judge, stands } from './verdict.ts';
import { DEFAULT_BANDS, type VerdictBands } from './verdict-bands.ts';
import { halfStitches } from './words/counts.ts';
import { shortRowWords } from './words/short-row-words.ts';

/** The report but for its advice, which takes other plans to be measured (`advice.ts`), and the sizes of `outline.ts`. */
export type SheetFindings = Omit<SheetReport, 'advice' | 'extents' | 'tube' | 'acrossMm'>;

export interface ReportSettings {
  readonly bands?: VerdictBands;
  /** The sheet pressed flat; for callers that have it already. */
  readonly press?: () => PressedSheet;
}

export function reportSheet(
  plan: PlanReport,
  measured: MeasuredMetric,
  sheet: RelaxedSheet,
  weight: FabricWeight,
  ms: number,
  { bands = DEFAULT_BANDS, press = () => pressSheet(measured.metric) }: ReportSettings = {},
): SheetFindings {
  const { metric } = measured;
  const angle = measureRimAngle(measured);
  const posture = measurePosture(measured, sheet.positions, plan.corners, angle.rimMm);
  const placed = sheet.lying && {
    ...sheet.lying,
    posture: measurePosture(measured, sheet.lying.positions, plan.corners, angle.rimMm),
  };
  const lying = placed && tumbles(placed, posture, metric.vertices) ? null : placed;
  const laid = lying?.posture ?? null;
  const pressed = () => misfitOf(press().energy - sheet.relaxation.energy, metric);
  const judged = judge({ shape: plan.shape, angle, posture, laid, pressed }, bands);
  const { converged, reason, iterations, residual, energy } = sheet.relaxation;
  return {
    verdict: judged.verdict,
    reasons: [
      ...explain(judged, angle, posture, laid, plan),
      ...shortRowWords(plan),
      ...cornerWords(plan),
      ...cableWords(plan),
    ],
    coneAngleDeg: (angle.coneAngleRad * 180) / Math.PI,
    misfit: judged.misfit,
    surplusRimMm: angle.rimMm * angle.surplus,
    sideMm: posture.sideMm,
    riseMm: (laid ?? posture).riseMm,
    weightlessRiseMm: posture.riseMm,
    lying: lying && {
      touching: lying.touching,
      converged: lying.converged,
      gramsPerM2: gramsPerM2(measured, weight),
      stiffnessNPerM: 1000 * weight.stiffnessNPerMm,
    },
    blocked: angle.round ? blockedOf(measured, angle.rimMm, plan.corners) : null,
    relaxation: { converged, reason, iterations, residual, energy, ms },
  };
}

/** Whether the verdict of a sheet at rest in the air holds however it comes to lie on its table. */
export function verdictStands(
  plan: PlanReport,
  measured: MeasuredMetric,
  sheet: RelaxedSheet,
  { bands = DEFAULT_BANDS, press = () => pressSheet(measured.metric) }: ReportSettings = {},
): boolean {
  const angle = measureRimAngle(measured);
  const posture = measurePosture(measured, sheet.positions, plan.corners, angle.rimMm);
  const pressed = () => misfitOf(press().energy - sheet.relaxation.energy, measured.metric);
  return stands({ shape: plan.shape, angle, posture, laid: null, pressed }, bands);
}

/** Higher on the table than in the air by more than this, and still moving or poised: it lies nowhere yet. Chosen. */
const TUMBLES = { share: 1.3, mm: 1 };
/** On fewer points nothing stands still. */
const TRIPOD = 3;

function tumbles(
  lying: { readonly converged: boolean; readonly touching: number; readonly posture: Posture },
  air: Posture,
  vertices: number,
): boolean {
  const points = Math.round(lying.touching * vertices);
  const { riseMm } = lying.posture;
  // Poised on three points it moves so slowly that it may pass for settled: at rest its weight holds a piece down.
  if (lying.converged) return points <= TRIPOD && riseMm > air.riseMm + TUMBLES.mm;
  return points < TRIPOD || riseMm > TUMBLES.share * air.riseMm + TUMBLES.mm;
}

function gramsPerM2({ layout, metric }: MeasuredMetric, { loopMassG }: FabricWeight): number {
  const areaMm2 = metric.areaMm2.reduce((sum, area) => sum + area, 0);
  return areaMm2 > 0 ? (1e6 * loopMassG * layout.rings.loops) / areaMm2 : 0;
}

function blockedOf(measured: MeasuredMetric, rimMm: number, corners: number): Blocked {
  const { rimStrain, mostStrain } = pressedRings(measured.turning);
  return {
    sideMm: (rimMm * (1 + rimStrain)) / (corners >= 3 ? corners : Math.PI),
    rimStretchPercent: 100 * rimStrain,
    mostStrainPercent: 100 * mostStrain,
  };
}

/** Where panels along the corners cut them off: what its sides are then. */
function cornerWords({ cutStitches, shape }: PlanReport): string[] {
  if (cutStitches === 0) return [];
  return [
    `The panel along each corner cuts it off by ${cutStitches} stitches: the side told is that of the ${shape} with its panel, an equal part of the rim.`,
  ];
}

/** What the cables take, where it is half a stitch or more: the size told has it in it already. */
function cableWords({ pullIn, corners, metric, rounds }: PlanReport): string[] {
  if (!pullIn || pullIn.stitches === 0) return [];
  const what = corners >= 3 ? 'every side' : 'the piece';
  const by = (percent: number, mm: number) =>
    `by ${percent.toFixed(percent < 9.95 ? 1 : 0)} %, the width of ${halfStitches(mm / metric.stitchMm)}`;
  const atRim = Math.round((2 * pullIn.rimMm) / metric.stitchMm) > 0;
  if (atRim)
    return [
      `The cables pull the edge of ${what} in ${by(pullIn.rimPercent, pullIn.rimMm)}: the size has that in it.`,
    ];
  const { label, n } = rounds[pullIn.round - 1] ?? { label: 'the cast-on', n: 0 };
  return [
    `The cables pull ${what} in ${by(pullIn.percent, pullIn.sideMm)}, ${n === 0 ? 'at the cast-on' : `at ${label.toLowerCase()}`}; the edge keeps its width.`,
  ];
}
