/**
 * Yarn in the piece: metres and grams before any allowance.
 *
 * Yarn per stitch l = Kw · w with Kw = 4.2 for fully relaxed plain knit (Munden 1959, constants as in
 * GATE 2015 TF Q54, textiletriangle.com). No measured figure per stitch was found for other fabrics;
 * the same length is taken for them, since every stitch there is worked on the same needle.
 */
import type { FabricReading, MeasuredMetric } from '../gauge/build-metric.ts';
import type { Gauge } from '../gauge/gauge/gauge.ts';

/** Loop length over stitch width. */
export const MUNDEN_KW = 4.2;
/** Long-tail cast-on: a tail of about three times the width (common practice). */
export const CAST_ON_TIMES = 3;
/** An end to weave in, mm (common practice). */
export const TAIL_MM = 150;

export function estimateYarn(
  reading: FabricReading,
  measured: MeasuredMetric,
  gauge: Gauge,
): { lengthM: number; massG: number; origin: string } {
  const { rings } = reading;
  // A cabled or ribbed stitch is narrower but holds no less yarn: the plain width counts.
  const stitches = rings.ids.length;
  const widthMm = gauge.sizes.stockinette.stitchMm;
  const lengthM = (stitches * MUNDEN_KW * widthMm + tailMm(measured)) / 1000;
  return {
    lengthM,
    massG: (lengthM * gauge.tex) / 1000,
    origin: `each stitch takes 4.2 times its width, as published for plain knit; yarn ${gauge.texOrigin}`,
  };
}

/** Two ends, and a long-tail cast-on's strand along the rim. */
function tailMm(measured: MeasuredMetric): number {
  return 2 * TAIL_MM + CAST_ON_TIMES * measured.turning.perimeterMm[0];
}
