/**
 * A graded plan timed so that it lies flat by what its fabric measures, panels' pull-in included; the
 * flat rate alone knows the ground only. Comes with the whole core, so it is loaded when it is used.
 */
import { flatRate } from '../draft/decrease-schedule.ts';
import { retime } from '../draft/redraft.ts';
import { canRelax, prepare } from '../knit.ts';
import { parsePlan } from '../plan/parse.ts';
import type { GradedPlan } from './grading.ts';

/** Timings that are measured at most. Chosen: the third correction changes nothing any more. */
const MOST_ATTEMPTS = 4;
/** Within the verdict's band for flat. */
const FLAT_ENOUGH = 0.008;
/** A measurement further out has not understood the shaping, and is not followed. Chosen. */
const NOT_BELIEVED = 0.25;
/** Beyond this many stitches the page would stand still for seconds: the flat rate must do. Chosen. */
const MOST_STITCHES = 40_000;

export interface TimingNumbers {
  readonly stitchMm: number;
  readonly roundMm: number;
  /** Corner lines; below 3 the shaping is spread. */
  readonly corners: number;
}

export function timeFlat(
  graded: GradedPlan,
  { stitchMm, roundMm, corners }: TimingNumbers,
): string {
  const first = parsePlan(graded.text);
  const stitches = first.rounds.reduce((sum, round) => sum + round.after, 0);
  if (stitches > MOST_STITCHES) return graded.text;
  const spread = corners < 3;
  const rate = flatRate(Math.max(3, corners), spread, stitchMm, roundMm);
  let best = graded.text;
  let least = Number.POSITIVE_INFINITY;
  let factor = 1;
  let text = graded.text;
  for (let attempt = 0; attempt < MOST_ATTEMPTS; attempt++) {
    const plan = parsePlan(text);
    if (!canRelax(plan)) return best;
    const share = shareOfFlat(
      prepare(plan).measured.metric.ring.coneAngleRad,
      spread ? 0 : corners,
    );
    const miss = Math.abs(share - 1);
    if (!(miss < NOT_BELIEVED)) return best;
    if (miss < least) {
      least = miss;
      best = text;
    }
    if (miss < FLAT_ENOUGH) return best;
    factor /= share;
    const faster = rate * factor;
    text = retime(first, (change) => Math.max(1, change / faster)).text;
  }
  return best;
}

/** Rate as a share of the flat rate, from the cone angle: Θ = 2n·atan(share·tan(π/n)). */
function shareOfFlat(coneAngleRad: number, corners: number): number {
  if (corners === 0) return coneAngleRad / (2 * Math.PI);
  return Math.tan(Math.min(1.4, coneAngleRad / (2 * corners))) / Math.tan(Math.PI / corners);
}
