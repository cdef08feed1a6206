/** Short rows in the metric: height where they were worked, round pieces, and drawing steps as ramps. */
import { describe, expect, it } from 'vitest';
import { rampSteps } from '../../src/gauge/layout/ramp-steps.ts';
import { type Knitted, prepare, relax } from '../../src/knit.ts';
import { parsePlan } from '../../src/plan/parse.ts';

/** A square that lies flat (8 h/w = 4 stitches a round), with rounds of short rows or others put in at its rim. */
function square(extra: readonly string[], every = 2): Knitted {
  const plain = Array.from({ length: every - 1 }, () => 'knit');
  const rounds = ['knit', ...extra];
  for (let side = 16; side > 2; side -= 2) {
    rounds.push(`*ssk, k${side - 4}, k2tog; rep from * 3 times more`, ...plain);
  }
  const list = rounds.map((round, i) => `Round ${i + 1}: ${round}`).join('\n');
  const text = `Gauge: 20 sts and 40 rounds to 10 cm\nCast on 64 sts and join in the round\n${list}\nDraw yarn through remaining sts.\n`;
  return relax(prepare(parsePlan(text)), { advise: false, load: null });
}

/** Three rows over every quarter in turn: together as much as three rounds. */
const QUARTERS = [
  'k16, turn',
  'p16, turn',
  'k32, turn',
  'p16, turn',
  'k32, turn',
  'p16, turn',
  'k32, turn',
  'p16, turn',
  'k16',
];

describe('short rows in the round', () => {
  it('that cover the whole round make it as deep as whole rounds would', () => {
    const parts = square(QUARTERS);
    const whole = square(['knit', 'knit', 'knit']);
    expect(parts.graph.loops).toBe(whole.graph.loops);
    expect(parts.report.verdict).toBe('cups');
    expect(parts.report.reasons.join(' ')).toContain('as whole rounds would');
    const { weightlessRiseMm: rise, coneAngleDeg } = whole.report;
    expect(Math.abs(parts.report.weightlessRiseMm / rise - 1)).toBeLessThan(0.02);
    expect(Math.abs(parts.report.coneAngleDeg / coneAngleDeg - 1)).toBeLessThan(0.002);
  });

  it('cup a piece that was flat, and calm one that ruffles', () => {
    const flat = square([]);
    expect(flat.report.verdict).toBe('flat');
    const raised = square(['k22, turn', 'p16, turn', 'k12, turn', 'p8, turn', 'k to end']);
    expect(raised.report.verdict).not.toBe('flat');
    expect(raised.report.surplusRimMm).toBeLessThan(flat.report.surplusRimMm - 5);
    const ruffled = square([], 1);
    const calmed = square(QUARTERS, 1);
    expect(ruffled.report.verdict).toBe('ruffles');
    expect(calmed.report.surplusRimMm).toBeLessThan(ruffled.report.surplusRimMm);
  });

  it('stand unevenly where they are worked on one side', () => {
    const one = square([
      'k20, turn',
      'p20, turn',
      'k16, turn',
      'p12, turn',
      'k8, turn',
      'p4, turn',
      'k to end',
    ]);
    const { shortRows } = one.report;
    // Six rows at the middle of the wedge: the ramps round off its tip.
    expect(shortRows?.deeperMm).toBeLessThanOrEqual(6 * 2.5 + 1e-6);
    expect(shortRows?.deeperMm).toBeGreaterThan(4 * 2.5);
    expect(one.report.reasons.join(' ')).toContain('short rows');
  });

  it('bend a tube away from the side that they lengthen', () => {
    const rows = [
      'k12, turn',
      'p24, turn',
      'k22, turn',
      'p20, turn',
      'k18, turn',
      'p16, turn',
      'k to end',
    ];
    const rounds = [...Array(14).fill('knit'), ...rows, ...Array(14).fill('knit')];
    const list = rounds.map((round, i) => `Round ${i + 1}: ${round}`).join('\n');
    const tube = relax(
      prepare(
        parsePlan(
          `Gauge: 20 sts and 28 rounds to 10 cm\nCast on 48 sts and join in the round\n${list}\nBind off.\n`,
        ),
      ),
      { advise: false, load: null },
    );
    expect(tube.report.verdict).toBe('tube');
    expect(tube.report.reasons.join(' ')).toContain('the tube bends');
    const { rings } = tube.measured.layout;
    const x = tube.sheet.positions;
    const top = rings.courses - 1;
    const between = (at: number) => {
      const [a, b] = [0, top].map((c) => 3 * rings.ids[rings.start[c] + at]);
      return Math.hypot(x[a] - x[b], x[a + 1] - x[b + 1], x[a + 2] - x[b + 2]);
    };
    // At the beginning of the round it has six rows more than half way round.
    expect(between(0) - between(24)).toBeGreaterThan(8);
  });
});

describe('steps drawn as ramps', () => {
  it('come out straight where they are even', () => {
    const even = Array.from({ length: 24 }, (_, j) => 2 * Math.floor(j / 4));
    const drawn = rampSteps(even, false);
    for (let j = 0; j < 24; j++) expect(drawn[j]).toBeCloseTo(0.5 * (j - 1.5), 9);
  });

  it('keep whole treads whole and single steps near their place', () => {
    const drawn = rampSteps([...Array(20).fill(1), ...Array(20).fill(3)], false);
    expect(drawn[0]).toBe(1);
    expect(drawn[39]).toBe(3);
    expect(drawn[14]).toBe(1);
    expect(drawn[25]).toBe(3);
    expect((drawn[19] + drawn[20]) / 2).toBeCloseTo(2, 9);
  });

  it('favour neither side, nor where a ring begins', () => {
    const ring = [1, 1, 1, 1, 3, 3, 5, 5, 5, 3, 3, 1, 1, 1, 1, 1];
    const drawn = Array.from(rampSteps(ring, true));
    const mirrored = Array.from(rampSteps(ring.toReversed(), true)).toReversed();
    const turned = rampSteps([...ring.slice(5), ...ring.slice(0, 5)], true);
    drawn.forEach((value, j) => {
      expect(mirrored[j]).toBeCloseTo(value, 9);
      expect(turned[(j + 11) % 16]).toBeCloseTo(value, 9);
    });
  });
});
