/**
 * Yarn for one piece: metres, grams and balls, with an allowance over what it holds (`report/yarn-estimate.ts`).
 *
 * A loop length from the yarn model can be given instead of the published one.
 */
import { madeBy, type Plan } from '../../plan/plan.ts';
import { type YarnParts, type YarnSizes, yarnParts } from '../../report/yarn-estimate.ts';

export interface YarnWishes extends YarnSizes {
  /** Linear density, tex = g/km. */
  readonly tex: number;
  /** Share added for swatching, joins and tension. Default 0.1 (common practice). */
  readonly allowance?: number;
  readonly ballGrams?: number | null;
  readonly ballMetres?: number | null;
}

/** Yarn of one colour, its share of the allowance included. */
export interface ColourUse {
  readonly colour: string;
  readonly lengthM: number;
  readonly massG: number;
  readonly balls: number | null;
}

export interface YarnUse extends YarnParts {
  readonly allowanceM: number;
  /** Everything together. */
  readonly lengthM: number;
  readonly massG: number;
  /** By colour where there are several: together all of it. */
  readonly colours: readonly ColourUse[];
  /** Balls to buy, of every colour its own; null where the ball is unknown. */
  readonly balls: number | null;
  readonly origin: string;
}

export function yarnUse(plan: Plan, wishes: YarnWishes): YarnUse {
  const parts = yarnParts(plan, wishes);
  const allowance = wishes.allowance ?? 0.1;
  const allowanceM = parts.lengthM * allowance;
  const lengthM = parts.lengthM + allowanceM;
  const massG = (lengthM * wishes.tex) / 1000;
  const toBuy = (ofM: number, ofG: number) =>
    ballsFor(ofM, ofG, wishes.ballGrams ?? null, wishes.ballMetres ?? null);
  const colours = parts.colours.map(({ colour, lengthM: bareM }): ColourUse => {
    const ofM = bareM * (1 + allowance);
    const ofG = (ofM * wishes.tex) / 1000;
    return { colour, lengthM: ofM, massG: ofG, balls: toBuy(ofM, ofG) };
  });
  const balls = colours.reduce<number | null>(
    (sum, one) => (sum === null || one.balls === null ? null : sum + one.balls),
    0,
  );
  return {
    ...parts,
    allowanceM,
    lengthM,
    massG,
    colours,
    balls: colours.length > 0 ? balls : toBuy(lengthM, massG),
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
  for (const round of plan.rounds) {
    const made = madeBy(plan, round);
    all += made;
    if (Math.floor(round.n / stripeRounds) % 2 === 1) second += made;
  }
  return all > 0 ? second / all : 0;
}
