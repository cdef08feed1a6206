/**
 * Squares of two fabrics, each by its own gauge: a garter border round a stockinette middle. Closed forms:
 * a square lies flat where 8·h/w stitches go in a round, in either fabric by its own h and w; and where one fabric
 * follows the other both rims are as long, n₁w₁ = n₂w₂ (plane geometry). Else the border is a share w₁/w₂ − 1 too
 * long and waves (common practice: garter borders on fewer stitches than the middle); the curvature that brings
 * adds up to nothing, for within either fabric all lies flat (Gauss–Bonnet).
 */
import { describe, expect, it } from 'vitest';
import { knit, prepare } from '../../src/knit.ts';
import { parsePlan } from '../../src/plan/parse.ts';
import { angleDeficits } from '../gauge/angle-deficit.ts';

/** Stitches and rounds to 10 cm: 8 h/w = 4 in garter, 6 in stockinette. */
const GARTER = { stitches: 18, rounds: 36 };
const STOCKINETTE = { stitches: 20, rounds: 80 / 3 };
/** Stitches a side where they meet: 18 in garter are as long as 20 in stockinette. */
const OUTER = 18;
const INNER = 20;

interface TwoFabrics {
  readonly borderShapings: number;
  /** Stitches added in one round where stockinette begins, so that both rims are as long. */
  readonly matched: boolean;
}

function squareText({ borderShapings, matched }: TwoFabrics): string {
  let side = OUTER + 2 * borderShapings;
  let round = 0;
  const lines = [
    `Gauge: ${GARTER.stitches} sts and ${GARTER.rounds} rows garter; ${STOCKINETTE.stitches} sts and ${STOCKINETTE.rounds.toFixed(6)} rows stockinette`,
    `Cast on ${4 * side} sts and join in the round.`,
  ];
  const work = (words: string) => lines.push(`Round ${++round}: ${words}.`);
  const shape = () => {
    work(`(ssk, k${side - 4}, k2tog) 4 times`);
    side -= 2;
  };
  for (let k = 0; k < borderShapings; k++) {
    work('purl');
    shape();
  }
  if (matched) {
    work(`(k${OUTER / (INNER - OUTER)}, m1) ${4 * (INNER - OUTER)} times`);
    side = INNER;
  }
  // Where it goes straight on, the middle's first round is plain, so that both lines meet at that round.
  for (let k = 1; side > 4; k++) {
    if (k % 4 === (matched ? 0 : 1)) work('knit');
    else shape();
  }
  lines.push('Draw yarn through remaining sts.');
  return lines.join('\n');
}

const DEG = 180 / Math.PI;

describe('a garter border round a stockinette middle', { timeout: 60_000 }, () => {
  it.each([3, 6, 10])(
    'of %i decreases a side turns by 360° as the middle does, where the rims are as long',
    (borderShapings) => {
      const text = squareText({ borderShapings, matched: true });
      const { measured } = prepare(parsePlan(text));
      const { coneAngleRad, perimeterMm } = measured.turning;
      // Where the fabrics meet a round is as high as half of each, half a millimetre more than garter: measured
      // 353.5, 355 and 357°, less off the larger the piece.
      for (const angle of coneAngleRad) expect(Math.abs(angle * DEG - 360)).toBeLessThan(8);
      for (let c = 1; c < perimeterMm.length; c++) {
        expect(perimeterMm[c]).toBeLessThan(perimeterMm[c - 1]);
      }
    },
  );

  it('lies flat there, or can be blocked flat', () => {
    const { knitted } = knit(squareText({ borderShapings: 3, matched: true }), { advise: false });
    expect(['flat', 'flat after blocking']).toContain(knitted?.report.verdict);
    expect(knitted?.report.misfit).toBeLessThan(0.02);
  });

  it('is too long by the stitches’ widths, and waves, where it has as many stitches as the middle', () => {
    const text = squareText({ borderShapings: 10, matched: false });
    const { measured } = prepare(parsePlan(text));
    const { coneAngleRad, perimeterMm } = measured.turning;
    const courses = perimeterMm.length;
    // Away from where they meet, both fabrics turn by 360° as before.
    for (const c of [0, 4, 8, courses - 4]) {
      expect(Math.abs(coneAngleRad[c] * DEG - 360)).toBeLessThan(8);
    }
    // Both straight lines of perimeter over depth, met at the last course of garter (the 21st).
    const line = (from: number, to: number, at: number) =>
      perimeterMm[from] +
      ((perimeterMm[to] - perimeterMm[from]) *
        (measured.layout.depthMm[at] - measured.layout.depthMm[from])) /
        (measured.layout.depthMm[to] - measured.layout.depthMm[from]);
    const border = line(0, 6, 20);
    const middle = line(courses - 5, courses - 3, 20);
    expect(Math.abs(border / middle - STOCKINETTE.stitches / GARTER.stitches)).toBeLessThan(0.03);
    const { deficitRad } = angleDeficits(measured.metric);
    const sum = deficitRad.reduce((a, b) => a + b, 0);
    expect(Math.abs(sum) * DEG).toBeLessThan(8);
    const { knitted } = knit(squareText({ borderShapings: 4, matched: false }), { advise: false });
    expect(knitted?.report.verdict).toBe('ruffles');
    expect(knitted?.report.misfit).toBeGreaterThan(0.05);
  });
});
