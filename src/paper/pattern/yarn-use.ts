/**
 * Yarn for one piece: metres, grams and balls, with allowance, tails and seam.
 *
 * Yarn per stitch l = Kw·w: fully relaxed plain knit Kw = 4.2 (Munden 1959; constants as in GATE 2015
 * TF Q54, textiletriangle.com). No measured figure per stitch was found for other fabrics; a loop
 * length from the yarn model can be given instead.
 */
import type { Plan } from '../../plan/plan.ts';
import { CAST_ON_TIMES, MUNDEN_KW, TAIL_MM } from '../../report/yarn-estimate.ts';

export interface YarnWishes {
  /** Width of a stockinette stitch of this yarn and needle, mm: narrower fabrics hold no less yarn. */
  readonly stitchMm: number;
  /** Linear density, tex = g/km. */
  readonly tex: number;
  /** Yarn in one loop, mm; null takes the published constant. */
  readonly loopMm?: number | null;
  /** Share added for swatching, joins and tension. Default 0.1 (common practice). */
  readonly allowance?: number;
  /** Length of the seams, mm: flat work sewn up, or this piece's share of a blanket's seams. */
  readonly seamMm?: number;
  readonly ballGrams?: number | null;
  readonly ballMetres?: number | null;
}

export interface YarnUse {
  readonly stitches: number;
  /** Parts of the length, m. */
  readonly fabricM: number;
  readonly castOnM: number;
  readonly tailsM: number;
  readonly seamM: number;
  readonly allowanceM: number;
  /** Everything together. */
  readonly lengthM: number;
  readonly massG: number;
  /** Balls to buy; null where the ball is unknown. */
  readonly balls: number | null;
  readonly origin: string;
}

/** Bound-off edge: as much again as three widths (common practice). */
const BIND_OFF_TIMES = 3;
/** Yarn for sewing up: about one and a half times the seam (from memory, common practice). */
const SEAM_TIMES = 1.5;

export function yarnUse(plan: Plan, wishes: YarnWishes): YarnUse {
  const loopMm = wishes.loopMm ?? MUNDEN_KW * wishes.stitchMm;
  const stitches = plan.rounds.reduce((sum, round) => sum + round.after, 0);
  const last = plan.rounds.length > 0 ? plan.rounds[plan.rounds.length - 1].after : plan.castOn;
  const fabricM = (stitches * loopMm) / 1000;
  const boundOff = plan.ending === 'bound-off' ? BIND_OFF_TIMES * last * wishes.stitchMm : 0;
  // The tail lies under a loop of working yarn for each stitch.
  const castOn = plan.castOn * (CAST_ON_TIMES * wishes.stitchMm + loopMm);
  const castOnM = (castOn + boundOff) / 1000;
  const tailsM = (2 * TAIL_MM) / 1000;
  const seamM = (SEAM_TIMES * (wishes.seamMm ?? 0)) / 1000;
  const bare = fabricM + castOnM + tailsM + seamM;
  const allowanceM = bare * (wishes.allowance ?? 0.1);
  const lengthM = bare + allowanceM;
  const massG = (lengthM * wishes.tex) / 1000;
  return {
    stitches,
    fabricM,
    castOnM,
    tailsM,
    seamM,
    allowanceM,
    lengthM,
    massG,
    balls: ballsFor(lengthM, massG, wishes.ballGrams ?? null, wishes.ballMetres ?? null),
    origin: wishes.loopMm
      ? 'Loop length from the yarn model'
      : 'Each stitch takes 4.2 times its width, as published for plain knit',
  };
}

/** Whole balls by length where the band gives metres, else by weight; null where it gives neither. */
export function ballsFor(
  lengthM: number,
  massG: number,
  ballGrams: number | null,
  ballMetres: number | null,
): number | null {
  if (ballMetres !== null && ballMetres > 0) return Math.ceil(lengthM / ballMetres - 1e-9);
  if (ballGrams !== null && ballGrams > 0) return Math.ceil(massG / ballGrams - 1e-9);
  return null;
}

/** Share of the stitches that the second yarn works, in stripes of so many rounds as on the fabric. */
export function stripeShare(plan: Plan, stripeRounds: number): number {
  if (stripeRounds <= 0) return 0;
  let second = 0;
  let all = 0;
  for (const { n, after } of plan.rounds) {
    all += after;
    if (Math.floor(n / stripeRounds) % 2 === 1) second += after;
  }
  return all > 0 ? second / all : 0;
}
