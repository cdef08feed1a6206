/**
 * A first gauge from yarn and needle, for those who have not knitted a swatch yet.
 *
 * Stockinette: the standard yarn weights' ranges (see `yarn-weights.ts`, which names their source), the
 * thicker the needle within its range the fewer the stitches (linear between the ends: chosen); 3 stitches
 * to 4 rounds (common practice). Other grounds by the yarn model's ratios, handed in as for `resolveGauge`.
 * A starting point only: the ranges are guidelines, and hands differ.
 */
import { needleMm, yarnWeightNamed } from '../../plan/lexicon/yarn-names.ts';
import type { FabricRatioSource } from './gauge.ts';
import { YARN_WEIGHTS, type YarnWeight } from './yarn-weights.ts';

export interface GaugeGuess {
  readonly stitchMm: number;
  readonly roundMm: number;
}

export type GuessedGround = 'stockinette' | 'reverse' | 'garter' | 'seed';

/** 3 stitches to 4 rounds (common practice; see `gauge.ts`). */
const STOCKINETTE_ASPECT = 0.75;
/** How far beyond its range a needle still changes the gauge, as a share of the range. Chosen. */
const BEYOND = 0.5;

export function guessGauge(
  weightNumber: number,
  needle: number,
  ground: GuessedGround,
  ratiosOf: FabricRatioSource,
): GaugeGuess {
  const weight = YARN_WEIGHTS[weightNumber];
  const span = weight.needleMaxMm - weight.needleMinMm;
  const along = Math.min(1 + BEYOND, Math.max(-BEYOND, (needle - weight.needleMinMm) / span));
  const stitches = weight.stitchesMax - along * (weight.stitchesMax - weight.stitchesMin);
  const stitchMm = 100 / Math.max(1, stitches);
  if (ground !== 'garter' && ground !== 'seed')
    return rounded(stitchMm, STOCKINETTE_ASPECT * stitchMm);
  const { width, aspect } = ratiosOf(STOCKINETTE_ASPECT)[ground];
  return rounded(stitchMm * width, stitchMm * width * aspect);
}

/** A guess says no more than half stitches and rounds to 10 cm. */
function rounded(stitchMm: number, roundMm: number): GaugeGuess {
  const half = (mm: number) => 200 / Math.max(1, Math.round(200 / mm));
  return { stitchMm: half(stitchMm), roundMm: half(roundMm) };
}

/** Middle of the needle sizes that go with this weight, mm. */
export function usualNeedleMm(weightNumber: number): number {
  const { needleMinMm, needleMaxMm } = YARN_WEIGHTS[weightNumber];
  return Math.round(2 * (needleMinMm + needleMaxMm)) / 4;
}

export interface YarnAndNeedle {
  readonly weight: YarnWeight;
  readonly needleMm: number;
  /** The needle was not given: it is the usual one. */
  readonly usual: boolean;
}

/**
 * What a yarn line (`light`, `DK wool`, `weight 3`) and a needle line (`4 mm`, `US 6`) mean. Throws a
 * RangeError that names the line where it cannot be read.
 */
export function readYarnAndNeedle(yarn: string, needles: string): YarnAndNeedle {
  const number = yarnWeightNamed(yarn.toLowerCase());
  if (number === null)
    throw new RangeError(
      `The yarn "${yarn}" names no standard weight. Say one of ${YARN_WEIGHTS.map(({ name }) => name).join(', ')}, or its number as in "weight 3".`,
    );
  const weight = YARN_WEIGHTS[number];
  if (needles.trim() === '') return { weight, needleMm: usualNeedleMm(number), usual: true };
  const size = needleMm(needles.toLowerCase());
  if (size === null)
    throw new RangeError(`The needles "${needles}" name no size. Say it as in "4 mm" or "US 6".`);
  return { weight, needleMm: size, usual: false };
}
