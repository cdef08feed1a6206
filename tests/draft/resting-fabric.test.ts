import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { loadOf, weightOf } from '../../src/flow/prepare.ts';
import { restingFabric } from '../../src/flow/resting-fabric.ts';
import { judgeFabric, knit, prepare, relax } from '../../src/knit.ts';
import { parsePlan } from '../../src/plan/parse.ts';
import { measureRimAngle } from '../../src/report/rim-angle.ts';
import { roundsDecide, wordOfRounds } from '../../src/report/verdict.ts';
import { DEFAULT_BANDS } from '../../src/report/verdict-bands.ts';
import { randomPlans } from '../report/random-plans.ts';

/** A square decreased in so many of every four rounds. */
function square(stitches: number, decreases: number): string {
  const lines = [
    'Gauge: 22 sts and 30 rounds = 10 cm',
    `CO ${4 * stitches} sts. Join in the round.`,
  ];
  let side = stitches;
  for (let round = 1; side > 3; round++) {
    if (round % 4 >= decreases) lines.push(`Rnd ${round}: k`);
    else {
      lines.push(`Rnd ${round}: [ssk, k${side - 4}, k2tog] 4 times`);
      side -= 2;
    }
  }
  return [...lines, 'Break yarn, draw through remaining sts.'].join('\n');
}

describe('a fabric given up because it stands up for certain', () => {
  it.each([
    ['cups', 2],
    ['ruffles', 4],
  ])('gets the word that it has at rest: %s', (word, decreases) => {
    const text = square(19, decreases);
    const rested = restingFabric(prepare(parsePlan(text)));
    expect(rested.givenUp).toBe(true);
    expect(rested.found.verdict).toBe(word);
    const { knitted } = knit(text, { advise: false });
    expect(knitted?.report.verdict).toBe(word);
    expect(knitted?.report.relaxation.converged).toBe(true);
  });

  it('gets that word whatever the plan, where the rounds alone decide it', () => {
    let givenUp = 0;
    for (const text of fc.sample(randomPlans, { seed: 7, numRuns: 10 })) {
      const prepared = prepare(parsePlan(text));
      const rested = restingFabric(prepared);
      const certain = roundsDecide(measureRimAngle(prepared.measured), DEFAULT_BANDS);
      if (!rested.givenUp || !certain) continue;
      givenUp++;
      expect(knit(text, { advise: false }).knitted?.report.verdict).toBe(rested.found.verdict);
    }
    expect(givenUp).toBeGreaterThan(4);
  });

  it('is never one that lies flat', () => {
    const { givenUp, asRelaxed } = restingFabric(prepare(parsePlan(square(19, 3))));
    expect(givenUp).toBe(false);
    // It started from the sheet pressed flat, which is another way to rest.
    expect(asRelaxed).toBe(null);
  });
});

/** A panel on each corner is decreased away within a few rows: it can be blocked flat, but its rings are far from a plane. */
const UNEVEN = `Gauge: 18.112 sts and 18.112 rows = 10 cm in stockinette
Worked: flat, seam stitches 1 + 1 (beginning + end of RS rows)

Cast on 62 sts.
Row 1 (RS): k1, [ssk, k6, k2tog, p1, k3, p1] 4 times, k1.
Row 2 (WS): p1, [k1, p3, k1, p2tog, p4, ssp] 4 times, p1.
Row 3 (RS): k1, [ssk, k2, k2tog, p1, k3, p1] 4 times, k1.
Row 4 (WS): p1, [k1, p3, k1, p2tog, ssp] 4 times, p1.
Row 5 (RS): k3, [p1, k2tog, ssk, k2] 3 times, p1, k2tog, ssk, k1.
Row 6 (WS): p2, [p2tog] 2 times, p1, [p2tog] 2 times, p1, [p2tog] 2 times, p1, [p2tog] 2 times, p1.
Cut the yarn and draw it through the remaining sts.`;

describe('a fabric whose starts are no plane', () => {
  it('rests as it is relaxed without a search, to the last bit', () => {
    const prepared = prepare(parsePlan(UNEVEN));
    const { asRelaxed, givenUp } = restingFabric(prepared);
    expect(givenUp).toBe(false);
    const { verdict, misfit, sideMm, riseMm } = relax(prepared, { advise: false }).report;
    expect(asRelaxed?.(loadOf(prepared, weightOf(prepared)))).toMatchObject({
      verdict,
      misfit,
      sideMm,
      riseMm,
    });
  });
});

describe('the verdict alone', () => {
  it('is that of the fabric laid on its table, whatever the plan', () => {
    for (const text of fc.sample(randomPlans, { seed: 8, numRuns: 3 }))
      expect(judgeFabric(prepare(parsePlan(text))).verdict, text).toBe(
        knit(text, { advise: false }).knitted?.report.verdict,
      );
  });

  it('is told by its rounds where a large piece is far off, as it rests', () => {
    const text = square(34, 2);
    const { graph, measured } = prepare(parsePlan(text));
    const word = wordOfRounds(measureRimAngle(measured), graph.loops, DEFAULT_BANDS);
    expect(word).toBe('cups');
    expect(knit(text, { advise: false }).knitted?.report.verdict).toBe(word);
  });
});
