import { describe, expect, it } from 'vitest';
import { prepare } from '../../src/knit.ts';
import { parsePlan } from '../../src/plan/parse.ts';

describe('the fabric around shaping', () => {
  it('is read as the ground: a seed square keeps its round height to the centre', () => {
    const lines = [
      'Gauge: 20 sts and 40 rounds to 10 cm in seed stitch',
      'Cast on 100 sts (25 sts each side). Join in the round.',
    ];
    // One knit stitch at each corner; purls over knits between.
    for (let side = 25, round = 1; side >= 5; round++) {
      const pairs = (from: string, n: number): string => {
        const other = from === 'k1' ? 'p1' : 'k1';
        return Array.from({ length: n }, (_, i) => (i % 2 ? other : from)).join(', ');
      };
      const shift = round % 2 ? 'p1' : 'k1';
      if (round % 2) lines.push(`Round ${round}: (k1, ${pairs(shift, side - 1)}) 4 times.`);
      else {
        lines.push(`Round ${round}: (k1, ssk, ${pairs(shift, side - 5)}, k2tog) 4 times.`);
        side -= 2;
      }
    }
    lines.push('Draw yarn through remaining sts.');
    const plan = parsePlan(lines.join('\n'));
    expect(plan.diagnostics.filter((d) => d.severity === 'error')).toEqual([]);
    const { measured, gauge } = prepare(plan);
    expect(gauge.ground).toBe('seed');
    const { courseMm } = measured.size;
    for (let c = 1; c < courseMm.length - 3; c++) {
      expect(Math.abs(courseMm[c] / courseMm[1] - 1)).toBeLessThan(0.02);
    }
  });
});
