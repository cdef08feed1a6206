import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { draftPlan } from '../../src/draft/draft.ts';
import { divideNeedles, leastCordMm, type NeedleWay } from '../../src/draft/needles.ts';
import { needleAdvice } from '../../src/paper/pattern/needle-words.ts';
import { parsePlan } from '../../src/plan/parse.ts';
import { runs } from '../runs.ts';
import { spec } from './wishes-arbitrary.ts';

const SQUARE = parsePlan(draftPlan({ sizeMm: 200, stitchMm: 5, roundMm: 3.5 }).text);
const FIVE: NeedleWay = { kind: 'double-pointed', hold: 4 };

describe('stitches on the needles', () => {
  it('a square has one side on each of four needles, from the first round to the last', () => {
    const table = divideNeedles(SQUARE, FIVE, 4);
    expect(table.castOn).toEqual([40, 40, 40, 40]);
    for (const { counts } of table.rounds) expect(new Set(counts).size).toBe(1);
    expect(table.straddles).toEqual([]);
  });

  it('a magic loop takes a cord of 80 cm or more, longer for a wide piece', () => {
    expect(leastCordMm(400)).toBe(800);
    // 300 stitches of 5 mm bunch on a metre, and the loops take 20 cm.
    expect(leastCordMm(1500)).toBe(1200);
    expect(divideNeedles(SQUARE, { kind: 'magic loop' }, 4).castOn).toEqual([80, 80]);
  });

  it('finds a cable that straddles two needles and which stitches to move', () => {
    const plan = parsePlan(
      'CO 40 sts. Join in the round.\nRound 1: knit.\nRound 2: k8, 2/2 LC, k28.\nRound 3: knit.\n',
    );
    const table = divideNeedles(plan, FIVE);
    expect(table.straddles).toHaveLength(1);
    expect(table.straddles[0]).toMatchObject({ round: 2, needle: 1, stitch: '2/2 LC', move: 2 });
    expect(table.rounds[1].counts).toEqual([8, 12, 10, 10]);
  });

  it('moves the single stitch of a decrease', () => {
    const plan = parsePlan(
      'CO 12 sts. Join in the round.\nRound 1: k2, k2tog, k8.\nRound 2: knit.\n',
    );
    const [straddle] = divideNeedles(plan, FIVE).straddles;
    expect(straddle.words).toBe(
      'Before round 1 move 1 stitch from needle 1 to needle 2: k2tog would be worked across both.',
    );
  });

  it('warns of a twist before the join, always', () => {
    expect(needleAdvice(SQUARE, [])[0]).toContain('twist');
  });

  it('refuses flat work', () => {
    const flat = parsePlan('Worked: flat, no seam\nCO 6 sts.\nRow 1 (RS): k6.\n');
    expect(() => divideNeedles(flat, FIVE)).toThrow(/one needle/);
  });

  it('gives every needle whole sides of any motif, so that nothing straddles two', () => {
    fc.assert(
      fc.property(
        fc.constantFrom(...(['triangle', 'square', 'pentagon', 'hexagon', 'octagon'] as const)),
        fc.integer({ min: 60, max: 260 }),
        fc.constantFrom('in' as const, 'out' as const),
        fc.constantFrom(3 as const, 4 as const),
        (shape, sizeMm, direction, hold) => {
          const sides = { triangle: 3, square: 4, pentagon: 5, hexagon: 6, octagon: 8 }[shape];
          fc.pre(sides >= hold);
          const asked = { shape, sizeMm, direction, stitchMm: 4.5, roundMm: 3.3 };
          const plan = parsePlan(draftPlan(asked).text);
          const table = divideNeedles(plan, { kind: 'double-pointed', hold }, sides);
          expect(table.straddles).toEqual([]);
          for (const { n, counts } of [{ n: 0, counts: table.castOn }, ...table.rounds]) {
            const total = n === 0 ? plan.castOn : plan.rounds[n - 1].after;
            expect(counts.reduce((sum, one) => sum + one, 0)).toBe(total);
            const wholes = counts.map((count) => count / (total / sides));
            for (const whole of wholes) expect([1, 2, 3]).toContain(whole);
            expect(Math.max(...wholes) - Math.min(...wholes)).toBeLessThanOrEqual(1);
          }
        },
      ),
      { seed: 4, numRuns: runs(100) },
    );
  });

  it('never loses a stitch between needles', () => {
    fc.assert(
      fc.property(
        spec,
        fc.constantFrom<NeedleWay>(
          FIVE,
          { kind: 'double-pointed', hold: 3 },
          { kind: 'magic loop' },
        ),
        (asked, way) => {
          const plan = parsePlan(draftPlan({ ...asked, worked: 'round' }).text);
          const table = divideNeedles(plan, way);
          table.rounds.forEach(({ counts }, i) => {
            expect(counts.reduce((sum, n) => sum + n, 0)).toBe(plan.rounds[i].after);
            expect(Math.min(...counts)).toBeGreaterThanOrEqual(0);
          });
        },
      ),
      { seed: 2, numRuns: runs(100) },
    );
  }, 30_000);
});
