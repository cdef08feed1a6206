/** Gauges of several fabrics in one line: each fabric has the figures that stand with it. */
import { describe, expect, it } from 'vitest';
import { parsePlan } from '../../src/plan/parse.ts';

function gaugesOf(line: string): string[] {
  return parsePlan(`${line}\nCast on 4 sts.\nRow 1: knit.`).gauges.map(
    (g) => `${g.fabric} ${(100 / g.stitchMm).toFixed(1)}x${(100 / (g.roundMm ?? 1)).toFixed(1)}`,
  );
}

describe('gauges in one line', () => {
  it.each([
    'Gauge: 18 sts and 36 rows garter; 20 sts and 28 rows stockinette',
    'Gauge: 18 sts and 36 rows = 10 cm in garter stitch; 20 sts and 28 rows = 10 cm in st st',
    'Tension: 18 stitches and 36 rows over garter stitch, 20 stitches and 28 rows over stocking stitch, to 10 cm',
    'Gauge: in garter stitch 18 sts and 36 rows, in stockinette 20 sts and 28 rows, both over 10 cm',
    'Gauge: 9 sts and 18 rows garter and 10 sts and 14 rows stockinette, to 5 cm',
  ])('%s', (line) => {
    expect(gaugesOf(line)).toEqual(['garter 18.0x36.0', 'stockinette 20.0x28.0']);
  });

  it('of one fabric stay one', () => {
    expect(gaugesOf('Gauge: 20 sts and 28 rows = 10 cm in stockinette, 22 sts blocked')).toEqual([
      'stockinette 20.0x28.0',
    ]);
  });
});
