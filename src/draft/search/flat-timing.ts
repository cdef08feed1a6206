/**
 * A plan timed so that it lies flat by what its fabric measures, panels' pull-in included; the flat rate
 * alone knows the ground only.
 *
 * Input: plan text, its ground gauge and corners, and the measuring, handed in by `knit.ts`. Output: the
 * flattest of the timings that were tried; paces as in `rateProfile.ts`.
 */
import { parsePlan } from '../../plan/parse.ts';
import type { Plan } from '../../plan/plan.ts';
import { DEFAULT_BANDS } from '../../report/verdict-bands.ts';
import { flatRate, type RateProfile } from '../motif/decrease-schedule.ts';
import { rescheduleShaping } from '../rework/redraft.ts';
import type { MeasuredFabric, MeasureFabric } from './measured-columns.ts';
import { correctRate, perturbRate, scaleRate } from './rate-profile.ts';

/** Shares of what is off that a trial answers: the courses answer together, so less is often more. */
const GAINS = [1, 0.5, 0.75, 0.3];
/** Waves of the pace from centre to rim that are tried. Chosen. */
const WAVES = [0.1, -0.1, 0.05, -0.05].flatMap((height) =>
  [0, 1, 2, 3].map((crests) => ({ crests, height })),
);
/** Stitches measured in all trials before the best is taken. Chosen: about a second. */
const MOST_WORK = 120_000;
/** Beyond this many stitches one measuring takes too long: the flat rate must do. Chosen. */
const MOST_STITCHES = 40_000;

export interface TimingNumbers {
  readonly stitchMm: number;
  readonly roundMm: number;
  /** Corner lines; below 3 the shaping is spread. */
  readonly corners: number;
}

interface Trial {
  readonly text: string;
  readonly rateProfile: RateProfile;
  readonly fabric: MeasuredFabric;
}

export function timeFlat(
  planText: string,
  { stitchMm, roundMm, corners }: TimingNumbers,
  measure: MeasureFabric,
): string {
  const first = parsePlan(planText);
  const stitches = stitchesOf(first);
  if (stitches > MOST_STITCHES) return planText;
  const spread = corners < 3;
  const segments = spread ? 1 : corners;
  const rate = flatRate(Math.max(3, corners), spread, stitchMm, roundMm);
  const seam = first.seam ? first.seam.begin + first.seam.end : 0;
  const segment = (count: number) => Math.max(0, Math.round((count - seam) / segments));
  const most = Math.max(...countsOf(first, segment));
  const start = measure(planText);
  if (!start) return planText;
  let best: Trial = {
    text: planText,
    rateProfile: Float64Array.from({ length: most + 1 }, () => 1),
    fabric: start,
  };
  const tried = new Set([planText]);
  let work = stitches;
  for (let k = 0; k < 2 * GAINS.length + WAVES.length && work < MOST_WORK; k++) {
    if (best.fabric.flatnessError <= DEFAULT_BANDS.flat) break;
    const rateProfile = propose(
      k,
      best,
      countsOf(parsePlan(best.text), segment),
      spread ? 0 : corners,
    );
    const faster = (before: number) => rate * (rateProfile[Math.min(most, segment(before))] ?? 1);
    const { text } = rescheduleShaping(first, (change, before) =>
      Math.max(1, change / faster(before)),
    );
    if (tried.has(text)) continue;
    tried.add(text);
    const fabric = measure(text);
    work += stitches;
    if (fabric && fabric.flatnessError < best.fabric.flatnessError)
      best = { text, rateProfile, fabric };
  }
  return best.text;
}

/** First what is off is answered course by course and as a whole, then the pace is waved a little. */
function propose(
  k: number,
  { rateProfile, fabric }: Trial,
  counts: readonly number[],
  corners: number,
): RateProfile {
  const most = rateProfile.length - 1;
  if (k < 2 * GAINS.length)
    return k % 2 === 0
      ? correctRate(rateProfile, counts, fabric, corners, GAINS[k >> 1])
      : scaleRate(rateProfile, most, fabric, corners);
  const { crests, height } = WAVES[k - 2 * GAINS.length];
  return perturbRate(rateProfile, most, crests, height);
}

/** Stitches of a segment on every course, the cast-on first. */
function countsOf(plan: Plan, segment: (count: number) => number): number[] {
  return [plan.castOn, ...plan.rounds.map((round) => round.after)].map(segment);
}

function stitchesOf(plan: Plan): number {
  return plan.rounds.reduce((sum, round) => sum + round.after, plan.castOn);
}
