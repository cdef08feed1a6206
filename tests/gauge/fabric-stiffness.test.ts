/** Fabrics that share a course: the stiff ones have their way, and a piece of one fabric is as it was. */
import { describe, expect, it } from 'vitest';
import { prepare } from '../../src/knit.ts';
import { parsePlan } from '../../src/plan/parse.ts';

/** Garter with a column of stockinette eight stitches wide, flat pieces of even height. */
const panel = (wide: number) => `Gauge: 20 sts and 28 rows = 10 cm in stockinette
Gauge: 20 sts and 40 rows = 10 cm in garter
Worked: flat, no seam
Cast on 40 sts.
Row 1 (RS): knit.
Row 2 (WS): k${20 - wide / 2}, p${wide}, k${20 - wide / 2}.
Repeat rows 1 and 2 fourteen more times.
Bind off.
`;
const heightOf = (text: string) => {
  const { layout } = prepare(parsePlan(text)).measured;
  return layout.depthMm[20] - layout.depthMm[10];
};

describe('stiffness in the metric', () => {
  it('lets a stockinette panel stretch the garter beside it beyond their mean by count', () => {
    const [garter, mixed] = [2.5 * 10, heightOf(panel(8))];
    const stockinette = (100 / 28) * 10;
    const share = (mixed - garter) / (stockinette - garter);
    expect(share).toBeGreaterThan(0.4);
    expect(share).toBeLessThan(1);
  });

  it('leaves stockinette alone as it was: springs by their shape', () => {
    const text =
      'Gauge: 20 sts and 25 rows = 10 cm\nWorked: flat, no seam\nCast on 20 sts.\nRow 1 (RS): knit.\nRow 2 (WS): purl.\nRepeat rows 1 and 2 nine more times.\nBind off.\n';
    const { metric } = prepare(parsePlan(text)).measured;
    const expected = [4 / 5, 5 / 4];
    for (const kind of [0, 1])
      metric.springKind.forEach((own, s) => {
        if (own === kind) expect(metric.stiffness[s]).toBeCloseTo(expected[kind], 9);
      });
  });
});
