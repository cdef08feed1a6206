/**
 * A first gauge from yarn and needle, for those who have not knitted a swatch yet.
 *
 * Stockinette: the standard yarn weights' ranges (see `gauge/yarn-weights.ts`), the thicker the needle
 * within its range the fewer the stitches; 3 stitches to 4 rounds (common practice). Other grounds by
 * the yarn model's ratios. A starting point only: the ranges are wide, and hands differ.
 */
import type { GroundName } from '../../draft/wishes.ts';
import { YARN_WEIGHTS } from '../../gauge/yarn-weights.ts';
import { fabricRatios } from '../../yarn/fabric-ratios.ts';

export interface GaugeGuess {
  readonly stitchMm: number;
  readonly roundMm: number;
}

/** 3 stitches to 4 rounds (common practice; see `gauge/gauge.ts`). */
const STOCKINETTE_ASPECT = 0.75;

export function gaugeOfYarn(
  weightNumber: number,
  needleMm: number,
  ground: GroundName,
): GaugeGuess {
  const weight = YARN_WEIGHTS[weightNumber];
  const span = weight.needleMaxMm - weight.needleMinMm;
  const along = Math.min(1.5, Math.max(-0.5, (needleMm - weight.needleMinMm) / span));
  const stitches = weight.stitchesMax - along * (weight.stitchesMax - weight.stitchesMin);
  const stitchMm = 100 / Math.max(1, stitches);
  const roundMm = STOCKINETTE_ASPECT * stitchMm;
  if (ground === 'stockinette' || ground === 'reverse') return { stitchMm, roundMm };
  const ratio = fabricRatios(STOCKINETTE_ASPECT).use[ground];
  return { stitchMm: stitchMm * ratio.widthRatio, roundMm: roundMm * ratio.heightRatio };
}

/** Middle of the needle sizes that go with this weight, mm. */
export function usualNeedleMm(weightNumber: number): number {
  const { needleMinMm, needleMaxMm } = YARN_WEIGHTS[weightNumber];
  return Math.round(2 * (needleMinMm + needleMaxMm)) / 4;
}
