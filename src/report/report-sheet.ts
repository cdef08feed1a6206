/**
 * RelaxedSheet → SheetReport: verdict, reasons and advice.
 *
 * Bands (an assumption, adjustable): a cone angle within 1 % of a full turn is flat, within 3 % flat
 * after blocking. The relaxed sheet has the last word where the rates are mixed, and where its own
 * bending stiffness holds a small misfit flat.
 */
import type { MeasuredMetric } from '../gauge/build-metric.ts';
import { ringSize } from '../gauge/rings.ts';
import type { RelaxedSheet } from '../relax/relaxed-sheet.ts';
import { adviseSheet } from './advice.ts';
import type { Budget } from './budget.ts';
import type { PlanReport, SheetReport, Verdict } from './report.ts';

export interface VerdictBands {
  /** Share of the full turn, |δ| / 2π. */
  readonly flat: number;
  readonly blocking: number;
}

export const DEFAULT_BANDS: VerdictBands = { flat: 0.01, blocking: 0.03 };

/** Rise below this share of the side counts as lying flat, whatever the angle. Chosen: 2 mm in 20 cm. */
const LEVEL = 0.01;
/** Rates are mixed where the local cone angle strays from its mean by more than this share of a full
 * turn, root mean square over the area; then the shape decides from this rise on. Chosen: a third of
 * what a plain 3 % misfit rises, cos β / 2 with sin β = 0.97. */
const MIXED = 0.05;
const MIXED_RISE = 0.04;

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
  const unevenness = open || !Number.isFinite(cone) ? 0 : measureUnevenness(measured);
  const verdict = judge(excess, unevenness, posture, bands);
  const rimMm = rimLengthMm(measured);
  return {
    verdict,
    reasons: explain(verdict, excess, posture, plan, open),
    coneAngleDeg: (coneAngleRad * 180) / Math.PI,
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

function judge(excess: number, unevenness: number, posture: Posture, bands: VerdictBands): Verdict {
  const off = Math.abs(excess);
  const rise = posture.riseMm / Math.max(posture.sideMm, 1e-9);
  if (off > bands.blocking) return excess < 0 ? 'cups' : 'ruffles';
  if (rise <= LEVEL) return 'flat';
  if (unevenness > MIXED && rise > MIXED_RISE) {
    return posture.waveMm > Math.abs(posture.cupMm) ? 'ruffles' : 'cups';
  }
  return off <= bands.flat ? 'flat' : 'flat after blocking';
}

/** How far the local cone angle strays from its mean, share of a full turn, over the area. */
export function measureUnevenness(measured: MeasuredMetric): number {
  const { coneAngleRad, fromCentreMm, meanConeAngleRad } = measured.turning;
  let sum = 0;
  let weight = 0;
  for (let c = 0; c < coneAngleRad.length; c++) {
    const stray = (coneAngleRad[c] - meanConeAngleRad) / (2 * Math.PI);
    sum += stray * stray * fromCentreMm[c];
    weight += fromCentreMm[c];
  }
  return Math.sqrt(sum / Math.max(weight, 1e-9));
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
    const level = posture.riseMm <= LEVEL * posture.sideMm;
    return level
      ? [turn]
      : [turn, 'The rise is that of a sheet without weight: small misfits show.'];
  }
  if (verdict === 'flat after blocking') {
    return [
      turn,
      `The rim is ${percent} % ${excess < 0 ? 'short' : 'long'}: blocking evens that out.`,
    ];
  }
  if (Math.abs(excess) <= 0.03) {
    return [turn, 'On average that is flat, but some rounds lose too fast and others too slowly.'];
  }
  const pole = verdict === 'cups' ? 'short' : 'long';
  const why =
    verdict === 'cups'
      ? 'too few stitches are lost for its depth, so the middle stands up'
      : 'too many stitches are lost for its depth, so the rim has to wave';
  return [
    turn,
    `The rim is ${percent} % too ${pole}: ${why} (${posture.riseMm.toFixed(0)} mm high).`,
  ];
}
