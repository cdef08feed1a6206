import { describe, expect, it } from 'vitest';
import { SPRING_WALE } from '../../src/gauge/metric.ts';
import { prepare } from '../../src/knit.ts';
import { parsePlan } from '../../src/plan/parse.ts';
import { angleDeficits } from './angle-deficit.ts';
import { type Corner, discText, type Motif, motifText } from './motif-texts.ts';

const FLAT_GARTER: Motif = {
  sides: 4,
  side: 24,
  every: [2],
  corner: 'paired',
  garter: true,
  stitchMm: 5,
  roundMm: 2.5,
};
const CORNERS: Corner[] = [
  'paired',
  'corner stitch',
  'centred',
  'offset 1',
  'offset 2',
  'offset 3',
];
const DEG = 180 / Math.PI;

function prepared(text: string) {
  const plan = parsePlan(text);
  expect(plan.diagnostics.filter((d) => d.severity === 'error')).toEqual([]);
  return prepare(plan);
}

describe('metric of an exactly flat garter square', () => {
  for (const corner of CORNERS) {
    it(`has no curvature with ${corner} decreases`, () => {
      const { measured, graph, cells } = prepared(motifText({ ...FLAT_GARTER, corner }));
      const { deficitRad } = angleDeficits(measured.metric);
      let worst = 0;
      for (let v = 0; v < graph.loops; v++) {
        // The drawn-up centre (last two courses) may pucker.
        if (graph.course[v] >= graph.courses - 2 || v === cells.apex) continue;
        worst = Math.max(worst, Math.abs(deficitRad[v]));
      }
      expect(worst * DEG).toBeLessThan(1e-4);
    });
  }

  it('would be curved if decreases came every third round', () => {
    const { measured } = prepared(motifText({ ...FLAT_GARTER, every: [3] }));
    expect(measured.metric.ring.coneAngleRad * DEG).toBeLessThan(300);
  });
});

describe('cone angle from the graph', () => {
  // Closed form for s equal corners losing d a side and round: Θ = 2 s atan(d w / 2 h).
  for (const sides of [3, 4, 5, 6, 8]) {
    for (const ratio of [0.45, 0.6, 0.75, 1]) {
      it(`of ${sides} corners at h/w = ${ratio} is the closed form`, () => {
        const text = motifText({
          sides,
          side: 20,
          every: [2],
          corner: 'paired',
          garter: false,
          stitchMm: 5,
          roundMm: 5 * ratio,
        });
        const { measured } = prepared(text);
        const expected = 2 * sides * Math.atan(1 / (2 * ratio)) * DEG;
        expect(Math.abs(measured.metric.ring.coneAngleRad * DEG - expected)).toBeLessThan(1);
      });
    }
  }

  // Spread shaping: Θ = dC/dr = stitches a round × w/h.
  for (const [each, every, ratio] of [
    [6, 2, 0.5],
    [8, 2, 0.75],
    [5, 1, 1],
  ]) {
    it(`of ${each} staggered decreases every ${every} rounds at h/w = ${ratio} is the spread form`, () => {
      const { measured, report } = prepared(discText(each, every, 5, 5 * ratio));
      expect(report.corners).toBe(0);
      const expected = (each / every / ratio) * DEG;
      expect(Math.abs(measured.metric.ring.coneAngleRad * DEG - expected)).toBeLessThan(1);
    });
  }
});

describe('Gauss–Bonnet', () => {
  // Curvature enclosed by the rim = 2π − Θ: all of it sits where the rate is off, none on the lines.
  for (const every of [1, 2, 3, 4]) {
    it(`holds for a square decreased every ${every} rounds`, () => {
      const { measured, report } = prepared(
        motifText({ ...FLAT_GARTER, garter: false, every: [every] }),
      );
      const { deficitRad } = angleDeficits(measured.metric);
      const curvature = deficitRad.reduce((a, b) => a + b, 0);
      const ratio = report.metric.roundMm / report.metric.stitchMm;
      const cone = 8 * Math.atan(1 / (every * ratio));
      expect(Math.abs(curvature - (2 * Math.PI - cone)) * DEG).toBeLessThan(2);
    });
  }
});

describe('a round that gathers between the corners', () => {
  it('leaves the corners where they are: no wale leads round one', () => {
    const { measured, graph } = prepared(
      `Gauge: 21 sts and 28 rounds to 10 cm
Cast on 40 sts and join in the round.
Round 1: (k7, s2kp) 4 times. (32 sts)
Round 2: (k5, s2kp) 4 times. (24 sts)
Round 3: (ssk, k1, k2tog, k1) 4 times. (16 sts)
Round 4: (s2kp, k1) 4 times. (8 sts)
Draw yarn through remaining sts.`,
    );
    const { springs, restMm, springKind } = measured.metric;
    let longest = 0;
    springKind.forEach((kind, s) => {
      const [i, j] = [springs[2 * s], springs[2 * s + 1]];
      if (kind === SPRING_WALE && Math.max(i, j) < graph.loops)
        longest = Math.max(longest, restMm[s]);
    });
    // A wale at a corner of a square that loses 8 a round: √2 of a round's height or a little more.
    expect(longest).toBeLessThan(1.7 * measured.metric.roundMm[0]);
  });
});

describe('a panel whose share grows towards the centre', () => {
  it('changes the mean stitch slowly and is no second fabric: courses keep their own lengths', () => {
    const rounds: string[] = [];
    for (let n = 12, r = 1; n > 2; n--, r++) {
      rounds.push(`Round ${r}: (p1, k1, p1, k1, p1, k${n - 1}, s2kp, k${n - 1}) 4 times.`);
    }
    const { measured } = prepared(
      `Gauge: 21 sts and 28 rounds to 10 cm in stockinette
Cast on 120 sts and join in the round.
${rounds.join('\n')}
Draw yarn through remaining sts.`,
    );
    const { perimeterMm } = measured.turning;
    const { rings } = measured.layout;
    for (let c = 0; c < rings.courses; c++) {
      let raw = 0;
      for (let i = rings.start[c]; i < rings.start[c + 1]; i++) raw += measured.size.stitchMm[i];
      expect(Math.abs(perimeterMm[c] / raw - 1)).toBeLessThan(0.03);
    }
  });
});
