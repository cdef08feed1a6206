/** The whole flow, from text to verdict, against what must come out. */
import { describe, expect, it } from 'vitest';
import { type Knitted, knit } from '../src/knit.ts';
import { type Corner, discText, type Motif, motifText } from './gauge/motif-texts.ts';
import { whole } from './runs.ts';

const GARTER: Motif = {
  sides: 4,
  side: 20,
  every: [2],
  corner: 'paired',
  garter: true,
  stitchMm: 5,
  roundMm: 2.5,
};
/** Stockinette at three stitches to four rounds: flat at 6 decreases a round. */
const PLAIN: Motif = { ...GARTER, garter: false, roundMm: 3.75 };

function knitted(text: string): Knitted {
  const { plan, knitted: result } = knit(text);
  expect(plan.diagnostics.filter((d) => d.severity === 'error')).toEqual([]);
  if (!result) throw new Error('the plan did not relax');
  return result;
}

describe('an exactly flat garter square', () => {
  const corners: Corner[] = [
    'paired',
    'corner stitch',
    'centred',
    'offset 1',
    'offset 2',
    'offset 3',
  ];
  for (const corner of corners) {
    it(`lies flat with ${corner} decreases and keeps its side`, () => {
      const { report } = knitted(motifText({ ...GARTER, corner }));
      expect(report.verdict).toBe('flat');
      expect(report.relaxation.converged).toBe(true);
      expect(report.riseMm).toBeLessThan(0.01 * report.sideMm);
      expect(Math.abs(report.sideMm - 100)).toBeLessThan(1);
      expect(report.advice).toEqual([]);
    });
  }

  it('lies flat when its last rounds are gathered by pairs', () => {
    const text = [
      'Gauge: 20 sts and 40 rounds to 10 cm in garter stitch',
      'Cast on 96 sts, placing a marker after every 24 sts. Join.',
      'Round 1: purl.',
      'Round 2: *k1, k2tog, k to 3 sts before marker, ssk, k1, sm; rep from * around.',
      'Repeat rounds 1 and 2 until 16 sts remain.',
      'Next round: purl.',
      'Next round: k2tog around.',
      'Draw yarn through remaining sts.',
    ].join('\n');
    const { report } = knitted(text);
    expect(report.last).toBe(8);
    expect(report.corners).toBe(4);
    expect(Math.abs(report.coneAngleDeg - 360)).toBeLessThan(1);
    expect(report.riseMm).toBeLessThan(1);
  });

  it('lies flat grown from the centre out', () => {
    const text = [
      'Gauge: 20 sts and 40 rounds to 10 cm',
      'Cast on 8 sts and join in the round.',
      'Round 1: purl.',
      'Round 2: (kfb, k to last st, kfb) 4 times.',
      'Repeat rounds 1 and 2 nine more times.',
      'Bind off.',
    ].join('\n');
    const { report } = knitted(text);
    expect(report.last).toBe(88);
    expect(report.verdict).toBe('flat');
    expect(report.riseMm).toBeLessThan(1);
  });

  it('lies flat worked in rows and sewn up, and is the same piece', () => {
    const text = [
      'Gauge: 20 sts and 40 rows to 10 cm',
      'Worked: flat, with 2 seam stitches',
      'Cast on 82 sts.',
      'Row 1 (WS): knit.',
      'Row 2 (RS): k1, (ssk, k to last 2 sts, k2tog) 4 times, k1.',
      'Repeat the last 2 rows until 10 sts remain.',
      'Draw yarn through remaining sts.',
    ].join('\n');
    const { report } = knitted(text);
    expect(report.verdict).toBe('flat');
    expect(Math.abs(report.sideMm - 100)).toBeLessThan(1);
    expect(report.corners).toBe(4);
  });
});

describe('too few decreases', () => {
  const { report } = knitted(motifText({ ...PLAIN, every: [2] }));

  it('cup, by the closed form of four stacked corners', () => {
    expect(report.verdict).toBe('cups');
    const expected = (8 * Math.atan(1 / 1.5) * 180) / Math.PI;
    expect(Math.abs(report.coneAngleDeg - expected)).toBeLessThan(2);
    expect(report.surplusRimMm).toBeLessThan(0);
  });

  it('rise between the heights of the cone to the middle of a side and to a corner', () => {
    // Paper cone: sin β = Θ/2π, height = slant · cos β; the square's slants are half a side and its
    // corner distance in the panel (20 stitches: 50 mm deep to the side, 60 mm to the corner).
    const cone = (report.coneAngleDeg * Math.PI) / 180;
    const cosBeta = Math.sqrt(1 - (cone / (2 * Math.PI)) ** 2);
    // Depth from the rim to where the panels meet: 20 stitches lost at one a round of 3.75 mm.
    const apothem = 20 * 3.75;
    const corner = apothem / Math.cos(cone / 8);
    expect(report.weightlessRiseMm).toBeGreaterThan(0.85 * apothem * cosBeta);
    expect(report.weightlessRiseMm).toBeLessThan(1.1 * corner * cosBeta);
    // On the table its weight bears it down, but not flat.
    expect(report.riseMm).toBeLessThan(report.weightlessRiseMm);
    expect(report.riseMm).toBeGreaterThan(0.1 * report.sideMm);
  });

  it('are named, with the schedule that lies flat', () => {
    expect(report.advice.map((a) => a.text).join(' ')).toContain('3 rounds of every 4');
    expect(report.advice[0].every).toBeCloseTo(4 / 3, 6);
    expect(report.rounds.some((r) => r.pace === 'slow')).toBe(true);
  });
});

describe('too many decreases', () => {
  it('ruffle, with rim to spare', () => {
    const { report } = knitted(motifText({ ...PLAIN, every: [1] }));
    expect(report.verdict).toBe('ruffles');
    expect(report.surplusRimMm).toBeGreaterThan(0);
    expect(report.riseMm).toBeGreaterThan(10);
  });
});

describe('mixed rates', () => {
  it('point at the rounds that are off, and only there', () => {
    // Every second round, as garter needs, then every fourth.
    const lines = [
      'Gauge: 20 sts and 40 rounds to 10 cm',
      'Cast on 128 sts and join in the round.',
    ];
    let n = 32;
    for (let round = 1; n > 4; round++) {
      const fast = n > 16;
      const due = fast ? round % 2 === 0 : round % 4 === 0;
      lines.push(
        due ? `Round ${round}: (ssk, k to last 2 sts, k2tog) 4 times.` : `Round ${round}: knit.`,
      );
      if (due) n -= 2;
    }
    const { report } = knitted([...lines, 'Draw yarn through remaining sts.'].join('\n'));
    const slow = report.rounds.filter((r) => r.pace === 'slow').map((r) => r.n);
    expect(Math.min(...slow)).toBeGreaterThan(8);
    expect(slow).toContain(24);
    expect(report.rounds.filter((r) => r.n < 9).every((r) => r.pace === 'right')).toBe(true);
    expect(report.verdict).toBe('cups');
  });
});

describe('other pieces', () => {
  it('a disc with staggered decreases near 2π h/w lies flat', () => {
    // 6 every second round at h/w = 0.4775: 2π·0.4775 = 3.0 a round.
    const { report } = knitted(discText(6, 2, 5, 5 * 0.47746));
    expect(report.shape).toBe('disc');
    expect(report.verdict).toBe('flat');
  });

  it('a swatch is as wide as its stitches', () => {
    const { report } = knitted(
      'Gauge: 20 sts and 28 rows to 10 cm\nCast on 30 sts.\nRow 1 (RS): knit.\nRow 2: purl.\nRepeat rows 1 and 2 nine more times.\nBind off.',
    );
    expect(report.shape).toBe('flat piece');
    expect(report.sideMm).toBeCloseTo(150, 0);
    expect(report.verdict).toBe('flat');
  });

  it('a tube stays a tube', () => {
    const { report, sheet } = knitted(
      'Gauge: 20 sts and 28 rounds to 10 cm\nCast on 60 sts and join in the round.\nKnit 20 rounds.\nBind off.',
    );
    expect(report.shape).toBe('tube');
    expect(sheet.relaxation.converged).toBe(true);
  });

  it('a twisted cast-on is a Möbius band and is reported as such', () => {
    const { report, cells } = knitted(
      'Gauge: 20 sts and 28 rounds to 10 cm\nJoin: twisted by 1 half turn\nCast on 80 sts and join in the round.\nKnit 6 rounds.\nBind off.',
    );
    expect(cells.shape).toBe('moebius');
    expect(report.shape).toBe('twisted band');
    expect(report.reasons.join(' ')).toContain('cannot be undone');
  });

  it('the ends of a band with half turns meet turned over, by one and by three', () => {
    for (const turns of ['1 half turn', '3 half turns']) {
      const { graph, sheet, measured } = knitted(
        `Gauge: 20 sts and 28 rounds to 10 cm\nJoin: twisted by ${turns}\nCast on 80 sts and join in the round.\nKnit 6 rounds.\nBind off.`,
      );
      expect(sheet.relaxation.converged).toBe(true);
      // A band 25 mm high and 400 mm round takes the turns up by bending: the first loop of all lies beside the last.
      const { springs, restMm } = measured.metric;
      const at = (v: number) => sheet.positions.subarray(3 * v, 3 * v + 3);
      const apart = (a: number, b: number) => Math.hypot(...at(a).map((x, k) => x - at(b)[k]));
      const strains = Array.from(
        restMm,
        (rest, e) => apart(springs[2 * e], springs[2 * e + 1]) / rest,
      );
      expect(Math.max(...strains)).toBeLessThan(1.1);
      expect(Math.min(...strains)).toBeGreaterThan(0.9);
      expect(Math.max(...restMm)).toBeLessThan(Math.hypot(5, 100 / 28) * 1.01);
      expect(apart(0, graph.loops - 1)).toBeLessThan(5.5);
    }
  });
});

describe('units and repetition', () => {
  it('changing the unit of the gauge changes nothing else', () => {
    const metric = motifText({ ...PLAIN, every: [2], side: 12 });
    const inches = metric.replace(
      /Gauge:.*/,
      `Gauge: ${(25.4 / 5).toFixed(9)} sts and ${(25.4 / 3.75).toFixed(9)} rounds to 1 inch`,
    );
    const a = knitted(metric).report;
    const b = knitted(inches).report;
    expect(b.coneAngleDeg).toBeCloseTo(a.coneAngleDeg, 4);
    expect(b.riseMm).toBeCloseTo(a.riseMm, 2);
    expect(b.sideMm).toBeCloseTo(a.sideMm, 3);
  });

  it('two runs are equal to the last digit', () => {
    const text = motifText({ ...PLAIN, every: [1], side: 12 });
    const a = knitted(text).sheet;
    const b = knitted(text).sheet;
    expect(b.positions).toEqual(a.positions);
  });
});

describe('following the advice', () => {
  it.each([
    ['too slow', [2]],
    ['far too slow', [3]],
    ['too fast', [1]],
  ] as const)('makes a plain square that decreases %s lie flat', (_how, every) => {
    const { report } = knitted(motifText({ ...PLAIN, side: whole ? 30 : 20, every }));
    const text = report.advice[0].planText;
    expect(text).not.toBeNull();
    const followed = knitted(text ?? '').report;
    expect(followed.castOn).toBe(report.castOn);
    expect(followed.verdict).toMatch(/^flat/);
    // The band of "flat after blocking", 3 % of a full turn: whole stitches and rounds allow no better.
    expect(Math.abs(followed.coneAngleDeg - 360)).toBeLessThan(10.8);
  });
});
