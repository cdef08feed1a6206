/**
 * The standard yarn weight table: weight number to gauge, needle and typical linear density.
 *
 * Source of gauges and needles: Craft Yarn Council, Standard Yarn Weight System (stockinette stitches
 * to 4 in / 10 cm; the council calls every range a guideline), as reproduced at
 * https://craftyarncouncil.com/blog/ydkwydk-guide-yarn-weights (0–3), hertzoffjo.blogspot.com (0–5)
 * and cherylmoreo.com (6, 7). Metres to 100 g: https://craftys.uk/info-downloads/Yarn-Weight-Wpi
 * (middle of its ranges; open ranges taken at their bound).
 */

export interface YarnWeight {
  readonly number: number;
  readonly name: string;
  /** Stockinette stitches to 10 cm. */
  readonly stitchesMin: number;
  readonly stitchesMax: number;
  /** Needle diameter, mm. */
  readonly needleMinMm: number;
  readonly needleMaxMm: number;
  /** Metres to 100 g, middle of the published range. */
  readonly metresPer100g: number;
}

export const YARN_WEIGHTS: readonly YarnWeight[] = [
  weight(0, 'lace', 33, 40, 1.5, 2.25, 700),
  weight(1, 'super fine', 27, 32, 2.25, 3.25, 400),
  weight(2, 'fine', 23, 26, 3.25, 3.75, 300),
  weight(3, 'light', 21, 24, 3.75, 4.5, 225),
  weight(4, 'medium', 16, 20, 4.5, 5.5, 160),
  weight(5, 'bulky', 12, 15, 5.5, 8, 115),
  weight(6, 'super bulky', 7, 11, 8, 12.75, 80),
  weight(7, 'jumbo', 1, 6, 12.75, 25, 50),
];

function weight(
  number: number,
  name: string,
  stitchesMin: number,
  stitchesMax: number,
  needleMinMm: number,
  needleMaxMm: number,
  metresPer100g: number,
): YarnWeight {
  return { number, name, stitchesMin, stitchesMax, needleMinMm, needleMaxMm, metresPer100g };
}

/**
 * Weight whose gauge range holds the given stockinette gauge. Ranges of 2 and 3 overlap at 23–24
 * stitches: the thicker yarn is taken. Between ranges (16.5, say) the nearest one.
 */
export function weightOfGauge(stitchesPer10cm: number): YarnWeight {
  let best = YARN_WEIGHTS[0];
  let bestMiss = Infinity;
  for (const w of YARN_WEIGHTS) {
    const miss = Math.max(w.stitchesMin - stitchesPer10cm, stitchesPer10cm - w.stitchesMax, 0);
    if (miss <= bestMiss) {
      best = w;
      bestMiss = miss;
    }
  }
  return best;
}
