import fc from 'fast-check';
import { expect, it } from 'vitest';
import { draftPlan } from '../../src/draft/draft.ts';
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
      // Two more part a panel in every side.
      const named = Number(/Also: (\d+) stitch marker/.exec(written)?.[1]);
      expect([sides, 3 * sides], written).toContain(turned ? named + 1 : named);
      // They are placed once the sides are alike: odd ones are not in a border of two stitches.
      const most = Math.max(...again.rounds.map((_, i) => onNeedle(again, i)));
      expect(most, written).toBe(turned ? named : named - 1);
      // They are hung where they are needed, not rounds before.
      const hung = lines.findIndex((line) => /\bpm\b/.test(line));
      if (/: \*?[kp]\d+, pm/.test(lines[hung]))
        expect(lines[hung + 1], written).not.toMatch(/slipping the markers/);
      // Those that are on the needle at the close come off there, and only those.
      const left = onNeedle(again, plan.rounds.length - 2) + (turned ? 0 : 1);
      const off = /, removing the (markers?)\.$/.exec(lines.at(-1) ?? '')?.[1] ?? '';
      expect(off, written).toBe(left === 0 ? '' : left === 1 ? 'marker' : 'markers');
    }),
    { seed: 71, numRuns: runs(120) },
  );
});

/** What a pattern says reads back as its plan, without a word about it. */
function reads(plan: Plan, written: string): Plan {
  const again = parsePlan(written);
  const said = again.diagnostics.filter((d) => d.severity !== 'note');
  expect(said, written).toEqual([]);
  expect(loops(again), written).toEqual(loops(plan));
  return again;
}

it('sides shaped about their middle are told by marked stitches, in repeats', () => {
  const middles = fc.constantFrom(
    ['s2kp', 1, -2],
    ['sk2p', 1, -2],
    ['k2tog, k1, ssk', 2, -2],
    ['m1r, k1, m1l', 0, 2],
    ['yo, k1, yo', 0, 2],
  );
  fc.assert(
    fc.property(
      fc.integer({ min: 3, max: 8 }),
      middles,
      fc.integer({ min: 0, max: 2 }),
      fc.integer({ min: 3, max: 9 }),
      fc.constantFrom('knit', 'purl'),
      (sides, [middle, own, change], every, shapings, plain) => {
        let half = change < 0 ? shapings + 2 + own : 4;
        const lines = [
          `Cast on ${sides * (2 * half + 1)} sts. Join in the round.`,
          'Round 1: knit.',
        ];
        for (let i = 0; i < shapings; i++) {
          lines.push(
            `Next round: *k${half - own}, ${middle}, k${half - own}; rep from * to end.`,
            ...Array<string>(every).fill(`Next round: ${plain}.`),
          );
          half += change / 2;
        }
        const plan = parsePlan([...lines, 'Bind off.'].join('\n'));
        const { text, sections } = writePattern(plan);
        const again = reads(plan, text);
        const told = sections.find(({ heading }) => heading === 'Pattern')?.lines ?? [];
        expect(told.length, text).toBeLessThanOrEqual(6 + every);
        expect(text).toMatch(/marked st, /);
        expect(text).toContain(`${sides} stitch markers that open`);
        // No other marker is on the needle than that of the start.
        expect(Math.max(...again.rounds.map((_, i) => onNeedle(again, i)))).toBe(0);
      },
    ),
    { seed: 9, numRuns: runs(60) },
  );
});

it('sides shaped about a stitch beside their middle are told by it too, round or flat', () => {
  fc.assert(
    fc.property(
      fc.integer({ min: 3, max: 6 }),
      fc.constantFrom('p1, k2, p1', 'p2, 2/2 RC, p2', 'p1, k1, p1'),
      fc.integer({ min: 3, max: 7 }),
      fc.integer({ min: 0, max: 3 }),
      fc.boolean(),
      (sides, panel, shapings, more, turned) => {
        const wide = { 'p1, k2, p1': 4, 'p2, 2/2 RC, p2': 8, 'p1, k1, p1': 3 }[panel] as number;
        let [before, behind] = [shapings + 3 + more, shapings + 3];
        const lines = [
          `Cast on ${sides * (wide + before + 1 + behind)} sts. Join in the round.`,
          'Round 1: knit.',
        ];
        const plain = panel.replace('2/2 RC', 'k4');
        for (let i = 0; i < shapings; i++) {
          lines.push(
            `Next round: *k1, ${plain}, k${before - 2}, s2kp, k${behind - 1}; rep from * to end.`,
            `Next round: *k1, ${panel}, k${before + behind - 2}; rep from * to end.`,
          );
          before--;
          behind--;
        }
        const round = parsePlan([...lines, 'Bind off.'].join('\n'));
        expect(round.diagnostics.filter((d) => d.severity !== 'note')).toEqual([]);
        const plan = turned ? parsePlan(turnFlat(round).text) : round;
        const { text } = writePattern(plan);
        reads(plan, text);
        expect(text).toMatch(/before marked st, s2[kp]p, /);
        expect(text).toContain(`${sides} stitch markers that open`);
      },
    ),
    { seed: 29, numRuns: runs(80) },
  );
});

it('a panel has markers for as long as they tell more than figures: not one of a border beside corner stitches', () => {
  fc.assert(
    fc.property(
      fc.integer({ min: 1, max: 4 }),
      fc.integer({ min: 1, max: 4 }),
      fc.integer({ min: 4, max: 9 }),
      fc.boolean(),
      fc.boolean(),
      (edge, borderRounds, pairs, panelled, turned) => {
        const side = 2 * edge + 2 * pairs + 1;
        const lines = [`Cast on ${4 * side} sts. Join in the round.`];
        const round = (block: string) => lines.push(`Next round: *${block}; rep from * to end.`);
        for (let i = 0; i < borderRounds; i++)
          round(
            i % 2 === 0
              ? `k${edge}, [p1, k1] ${pairs} times, p1, k${edge}`
              : `k${edge + 1}, [p1, k1] ${pairs - 1} times, p1, k${edge + 1}`,
          );
        const [panel, wide] = panelled ? ['p1, k1, p1', 3] : ['k3', 3];
        for (let ground = (side - wide) / 2; ground >= 3; ground--) {
          round(`ssk, k${ground - 2}, ${panel}, k${ground - 2}, k2tog`);
          round(`k${ground - 1}, ${panel}, k${ground - 1}`);
        }
        const inRound = parsePlan([...lines, 'Bind off.'].join('\n'));
        expect(inRound.diagnostics.filter((d) => d.severity !== 'note')).toEqual([]);
        const plan = turned ? parsePlan(turnFlat(inRound).text) : inRound;
        const again = reads(plan, writePattern(plan).text);
        const shaped = again.rounds.filter(
          ({ before, after }, i) => before !== after && onNeedle(again, i - 1) > 4,
        ).length;
        expect(shaped === 0 || shaped >= 3).toBe(true);
        if (!panelled) expect(shaped).toBe(0);
        const shapings = (side - wide) / 2 - 2;
        if (panelled && shapings > 4) expect(shaped).toBeGreaterThanOrEqual(3);
      },
    ),
    { seed: 17, numRuns: runs(100) },
  );
});

it('markers are off before a cable crosses over them', () => {
  const panels = [
    { stitches: 'p2 k12 p2', crossEvery: 8, place: 24 },
    { stitches: 'p1 k4 p1', crossEvery: 6, place: 8 },
  ];
  const gauge = { stitchMm: 3.767, roundMm: 2.63 };
  const worked = { shape: 'octagon', corner: 'centred', ground: 'garter' } as const;
  const plan = parsePlan(draftPlan({ ...worked, ...gauge, panels, sizeMm: 173 }).text);
  expect(plan.kinds.some(({ name }) => name === '6/6 LC')).toBe(true);
  reads(plan, writePattern(plan).text);
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

it('a few stitches with a panel behind them are counted, not told by the stitches that are left', () => {
  const panels = [
    { stitches: 'p1 k2 p1', crossEvery: null, place: { share: 0.3 } },
    { stitches: 'seed5', crossEvery: null, place: { share: 0.65 } },
  ];
  for (const direction of ['in', 'out'] as const) {
    const wish = { sizeMm: 120, stitchMm: 4.76, roundMm: 3.45, direction, panels };
    const { text } = writePattern(parsePlan(draftPlan(wish).text));
    expect(text).not.toMatch(/[kp] to \d+ sts before marker, [kp]\d+, /);
    expect(text).toMatch(/k5, p1, k1, p1/);
  }
});
