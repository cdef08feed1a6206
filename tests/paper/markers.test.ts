import fc from 'fast-check';
import { expect, it } from 'vitest';
import { turnFlat } from '../../src/draft/rework/turn-flat.ts';
import { writePattern } from '../../src/paper/pattern/written.ts';
import { parsePlan } from '../../src/plan/parse.ts';
import type { Plan } from '../../src/plan/plan.ts';
import { runs } from '../runs.ts';
import { jottedSquares } from './jotted-squares.ts';

const loops = ({ castOn, ending, rounds, kinds }: Plan) => ({
  castOn,
  ending,
  rounds: rounds.map(({ works, after }) => [
    Array.from(works, (id) => kinds[id].name).join(' '),
    after,
  ]),
});

/** Markers between the first stitch and the last after a round, 0-based. */
const onNeedle = ({ rounds }: Plan, i: number) =>
  Array.from(rounds[i]?.markers ?? []).filter((at) => at > 0).length;

it('sides are marked as they are shaped, whatever border runs over the corners or round gathers what is left', () => {
  fc.assert(
    fc.property(jottedSquares, fc.boolean(), ({ text, sides }, turned) => {
      const round = parsePlan(text);
      expect(round.diagnostics.filter((d) => d.severity !== 'note')).toEqual([]);
      const plan = turned ? parsePlan(turnFlat(round).text) : round;
      const { text: written, sections } = writePattern(plan, {
        stitchMm: 5,
        ground: { fabric: 'stockinette', stitchMm: 5, roundMm: 3.6 },
      });
      const lines = sections.find(({ heading }) => heading === 'Pattern')?.lines ?? [];
      const again = parsePlan(written);
      // A marker slipped where none is, or worked across, would be told of here.
      expect(
        again.diagnostics.filter((d) => d.severity !== 'note'),
        written,
      ).toEqual([]);
      expect(loops(again), written).toEqual(loops(plan));
      // What no gauge stands in the plan for was laid out by one: the pattern tells it, and its swatch.
      expect(again.gauges.map(({ fabric, stitchMm }) => [fabric, stitchMm])).toEqual([
        ['stockinette', 5],
      ]);
      expect(written).toContain('stitches wide in stockinette');
      // In the round two more part a panel in every side.
      const named = Number(/Also: (\d+) stitch marker/.exec(written)?.[1]);
      expect(turned ? [sides - 1] : [sides, 3 * sides], written).toContain(named);
      expect(onNeedle(again, 0), written).toBe(turned ? named : named - 1);
      // Those that are on the needle at the close come off there, and only those.
      const left = onNeedle(again, plan.rounds.length - 2) + (turned ? 0 : 1);
      const off = /, removing the (markers?)\.$/.exec(lines.at(-1) ?? '')?.[1] ?? '';
      expect(off, written).toBe(left === 0 ? '' : left === 1 ? 'marker' : 'markers');
    }),
    { seed: 71, numRuns: runs(120) },
  );
});

it('needs no marker to part a round that is the same all round', () => {
  for (const sts of [24, 48, 96]) {
    const rib = `CO ${sts} sts. Join in the round.\nRounds 1-9: *k2, p2; rep from * to end.\nRounds 10-12: knit.\nRound 13: *k2, p2; rep from * to end.\nBind off.`;
    const { text } = writePattern(parsePlan(rib));
    expect(text).toContain('Also: a stitch marker for the start of the round');
    expect(text).toMatch(/Bind off all sts loosely in pattern, removing the marker\./);
  }
});

it('counts one marker as one', () => {
  const two = parsePlan(
    'CO 40 sts. Join in the round.\nRound 1: knit.\nRounds 2-4: *ssk, k to last 2 sts of half, k2tog; rep from * once more.\nBind off.'
      .replace('k to last 2 sts of half', 'k16')
      .replace('Rounds 2-4', 'Round 2'),
  );
  expect(writePattern(parsePlan(turnFlat(two).text)).text).toContain('Also: 1 stitch marker,');
});

it('sides shaped alike are marked though they are not as long, as those of a border round an oblong are', () => {
  const corners = fc.constantFrom(
    ['k1, m1l', 'm1r', 1, 0, 2],
    ['ssk', 'k2tog', 2, 2, -2],
    ['k1, yo', 'yo, k1', 1, 1, 2],
    ['', 's2kp', 0, 3, -2],
  );
  fc.assert(
    fc.property(
      fc.array(fc.integer({ min: 24, max: 60 }), { minLength: 3, maxLength: 6 }),
      corners,
      fc.integer({ min: 2, max: 5 }),
      fc.constantFrom('purl', 'knit'),
      (lengths, [right, left, first, last, change], shapings, plain) => {
        fc.pre(new Set(lengths).size > 1);
        const sides = [...lengths];
        const lines = [
          `Pick up and knit ${sides.reduce((a, b) => a + b)} sts round the edge. Join in the round.`,
        ];
        for (let i = 0; i < shapings; i++) {
          lines.push(`Next round: ${plain}.`);
          const told = sides.map((side) =>
            [right, `k${side - first - last}`, left].filter(Boolean).join(', '),
          );
          lines.push(`Next round: ${told.join(', ')}.`);
          sides.forEach((side, k) => {
            sides[k] = side + change;
          });
        }
        const plan = parsePlan([...lines, 'Bind off.'].join('\n'));
        expect(plan.diagnostics.filter((d) => d.severity !== 'note')).toEqual([]);
        const { text: written, sections } = writePattern(plan);
        const again = parsePlan(written);
        expect(
          again.diagnostics.filter((d) => d.severity !== 'note'),
          written,
        ).toEqual([]);
        expect(loops(again), written).toEqual(loops(plan));
        const used = Number(/Also: (\d+) stitch marker/.exec(written)?.[1]);
        expect(onNeedle(again, 0), written).toBe(used - 1);
        // Every shaped round is told once for all its sides, and the rounds in repeats.
        const told = sections.find(({ heading }) => heading === 'Pattern')?.lines ?? [];
        expect(told.length, written).toBeLessThanOrEqual(7);
        expect(used % lengths.length === 0 || lengths.length % used === 0, written).toBe(true);
      },
    ),
    { seed: 13, numRuns: runs(100) },
  );
});
