/**
 * RelaxedSheet → SheetReport: verdict, reasons and advice.
 *
 * Bands (`verdict-bands.ts`) on how far the rounds are from a full turn as a whole. The sheet has the
 * last word: where the rates are mixed, by what it takes to press it flat; where its own bending stiffness
 * holds a small misfit flat, by lying flat.
 */
import type { MeasuredMetric } from '../gauge/build-metric.ts';
import { ringSize } from '../gauge/layout/rings.ts';
import { misfitOf, pressSheet } from '../relax/flatness/press-sheet.ts';
import type { RelaxedSheet } from '../relax/relaxed-sheet.ts';
import { adviseSheet } from './advice.ts';
import type { Budget } from './budget.ts';
import type { PlanReport, SheetReport, Verdict } from './report.ts';
import { DEFAULT_BANDS, type VerdictBands } from './verdict-bands.ts';

/** Rise below this share of the side counts as lying flat, whatever the angle. Chosen: 2 mm in 20 cm. */
const LEVEL = 0.01;

export interface Posture {
  readonly riseMm: number;
  /** Mean height of the rim against the centre, mm. */
  readonly cupMm: number;
  /** Spread (peak to peak) of the rim's height about its mean, mm. */
  readonly waveMm: number;
  readonly sideMm: number;
}

export function reportSheet(
  plan: PlanReport,
  measured: MeasuredMetric,
  budget: Budget,
  sheet: RelaxedSheet,
  ms: number,
  bands: VerdictBands = DEFAULT_BANDS,
): SheetReport {
  const posture = measurePosture(measured, sheet, plan.corners);
  const cone = measured.metric.ring.coneAngleRad;
  const open = !measured.layout.closed;
  const coneAngleRad = Number.isFinite(cone) ? cone : open ? 2 * Math.PI : 0;
  const excess = coneAngleRad / (2 * Math.PI) - 1;
  const uneven =
    open || !Number.isFinite(cone) ? 0 : unevenMisfit(excess, posture, bands, measured, sheet);
  const verdict = judge(excess, uneven, posture, bands);
  const rimMm = rimLengthMm(measured);
  return {
    verdict,
    reasons: explain(verdict, excess, uneven, posture, plan, open),
    coneAngleDeg: (coneAngleRad * 180) / Math.PI,
    misfit:
      open || (isLevel(posture) && Math.abs(excess) <= bands.blocking)
        ? 0
        : Math.max(Math.abs(excess), uneven),
    surplusRimMm: open ? 0 : rimMm * excess,
    sideMm: posture.sideMm,
    riseMm: posture.riseMm,
    relaxation: {
      converged: sheet.relaxation.converged,
      reason: sheet.relaxation.reason,
      iterations: sheet.relaxation.iterations,
      residual: sheet.relaxation.residual,
      energy: sheet.relaxation.energy,
      ms,
    },
    advice: adviseSheet(plan, measured, budget, verdict),
  };
}

function judge(excess: number, uneven: number, posture: Posture, bands: VerdictBands): Verdict {
  const off = Math.abs(excess);
  if (off > bands.blocking) return excess < 0 ? 'cups' : 'ruffles';
  if (isLevel(posture)) return 'flat';
  if (uneven > bands.blocking) return posture.waveMm > Math.abs(posture.cupMm) ? 'ruffles' : 'cups';
  return Math.max(off, uneven) <= bands.flat ? 'flat' : 'flat after blocking';
}

function isLevel({ riseMm, sideMm }: Posture): boolean {
  return riseMm <= LEVEL * sideMm;
}

/**
 * Where the rates are mixed the mean angle says little: what counts is how much pressing the sheet flat
 * takes beyond what it stores anyway, as the share of a full turn that a plain cone would be off.
 */
function unevenMisfit(
  excess: number,
  posture: Posture,
  bands: VerdictBands,
  measured: MeasuredMetric,
  sheet: RelaxedSheet,
): number {
  if (Math.abs(excess) > bands.blocking || isLevel(posture)) return 0;
  const pressed = pressSheet(measured.metric);
  return misfitOf(pressed.energy - sheet.relaxation.energy, measured.metric);
}

/** The widest course: cast-on of outside-in work, last round of centre-out work. */
function rimCourse(measured: MeasuredMetric): number {
  return measured.turning.outsideIn ? 0 : measured.layout.depthMm.length - 1;
}

/** The rim's stitches laid side by side, unstrained, mm. */
function rimLengthMm(measured: MeasuredMetric): number {
  const { rings } = measured.layout;
  const c = rimCourse(measured);
  let sum = 0;
  for (let j = 0; j < ringSize(rings, c); j++) sum += measured.size.stitchMm[rings.start[c] + j];
  return sum;
}

export function measurePosture(
  measured: MeasuredMetric,
  sheet: RelaxedSheet,
  corners: number,
): Posture {
  const { rings } = measured.layout;
  const { positions } = sheet;
  let low = Infinity;
  let high = -Infinity;
  for (const id of rings.ids) {
    low = Math.min(low, positions[3 * id + 2]);
    high = Math.max(high, positions[3 * id + 2]);
  }
  const rim = rimCourse(measured);
  const inner = measured.turning.outsideIn ? rings.courses - 1 : 0;
  const rimZ = heights(measured, sheet, rim);
  const innerZ = heights(measured, sheet, inner);
  const perimeterMm = rimLengthMm(measured) * rimStrain(measured, sheet, rim);
  const sides = corners >= 3 ? corners : Math.PI;
  return {
    riseMm: high - low,
    cupMm: innerZ.mean - rimZ.mean,
    waveMm: rimZ.high - rimZ.low,
    sideMm: measured.layout.closed ? perimeterMm / sides : perimeterMm,
  };
}

function heights(
  measured: MeasuredMetric,
  sheet: RelaxedSheet,
  course: number,
): { mean: number; low: number; high: number } {
  const { rings } = measured.layout;
  const n = ringSize(rings, course);
  let mean = 0;
  let low = Infinity;
  let high = -Infinity;
  for (let j = 0; j < n; j++) {
    const z = sheet.positions[3 * rings.ids[rings.start[course] + j] + 2];
    mean += z / n;
    low = Math.min(low, z);
    high = Math.max(high, z);
  }
  return { mean, low, high };
}

/** Length of the rim's course springs, relaxed over rest. */
function rimStrain(measured: MeasuredMetric, sheet: RelaxedSheet, course: number): number {
  const { rings } = measured.layout;
  const { springs, restMm } = measured.metric;
  const { positions } = sheet;
  const onRim = new Uint8Array(measured.metric.vertices);
  for (let j = 0; j < ringSize(rings, course); j++) onRim[rings.ids[rings.start[course] + j]] = 1;
  let rest = 0;
  let length = 0;
  for (let s = 0; s < restMm.length; s++) {
    const i = springs[2 * s];
    const j = springs[2 * s + 1];
    if (!onRim[i] || !onRim[j]) continue;
    rest += restMm[s];
    length += Math.hypot(
      positions[3 * i] - positions[3 * j],
      positions[3 * i + 1] - positions[3 * j + 1],
      positions[3 * i + 2] - positions[3 * j + 2],
    );
  }
  return rest > 0 ? length / rest : 1;
}

function explain(
  verdict: Verdict,
  excess: number,
  uneven: number,
  posture: Posture,
  plan: PlanReport,
  open: boolean,
): string[] {
  if (open) return ['Worked flat and left open: nothing forces it to cup or ruffle.'];
  if (plan.shape === 'tube') {
    return ['The rounds hardly change in length: this is a tube and does not close.'];
  }
  if (plan.shape === 'twisted band') {
    return ['The cast-on is twisted: this cannot be undone except by ripping back to the cast-on.'];
  }
  const percent = Math.abs(excess * 100).toFixed(1);
  const turn = `The rounds make ${(360 * (1 + excess)).toFixed(0)}° round the centre; flat is 360°.`;
  if (verdict === 'flat') {
    return isLevel(posture)
      ? [turn]
      : [turn, 'The rise is that of a sheet without weight: small misfits show.'];
  }
  if (verdict === 'flat after blocking') {
    if (uneven > Math.abs(excess))
      return [
        turn,
        `Some rounds lose a little too fast and others too slowly, as a misfit of ${(100 * uneven).toFixed(1)} % would: blocking evens that out.`,
      ];
    return [
      turn,
      `The rim is ${percent} % ${excess < 0 ? 'short' : 'long'}: blocking evens that out.`,
    ];
  }
  if (uneven > 0) {
    return [turn, 'On average that is flat, but some rounds lose too fast and others too slowly.'];
  }
  const pole = verdict === 'cups' ? 'short' : 'long';
  const why =
    verdict === 'cups'
      ? 'too few stitches are lost for its depth, so the middle stands up'
      : 'too many stitches are lost for its depth, so the rim has to wave';
  // Without lengths: they stand beside the words, in the unit that the reader chose.
  return [turn, `The rim is ${percent} % too ${pole}: ${why}.`];
}
