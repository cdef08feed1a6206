/** A border of moss or rib right round the rim stays what it is at every size, and the piece within is graded as without it. */
import fc from 'fast-check';
import { expect, it } from 'vitest';
import { gradePlan } from '../../src/draft/search/grade-measured.ts';
import { parsePlan } from '../../src/plan/parse.ts';
import type { Plan } from '../../src/plan/plan.ts';
import { runs } from '../runs.ts';

const UNMEASURED = { measure: () => null, relax: () => null };
const GAUGE = 'Gauge: 20 sts and 28 rounds = 10 cm in stockinette';
const BORDERS = [
  [['k1, p1', 'p1, k1'], 2],
  [['k1, p1'], 2],
  [['k2, p2', 'k2, p2', 'p2, k2', 'p2, k2'], 4],
  [['ktbl, p1'], 2],
] as const;

const names = (plan: Plan, i: number) =>
  Array.from(plan.rounds[i].works, (id) => plan.kinds[id].name);

it('over random squares and hexagons, from the rim or from the centre', () => {
  fc.assert(
    fc.property(
      fc.constantFrom(4, 6),
      fc.integer({ min: 12, max: 24 }),
      fc.constantFrom(...BORDERS),
      fc.integer({ min: 1, max: 6 }),
      fc.boolean(),
      fc.double({ min: 0.8, max: 1.6, noNaN: true }),
      (sides, each, [border, over], deep, inwards, larger) => {
        const side = 2 * Math.floor(each / 2);
        const around = `rep from * ${sides - 1} times more`;
        const edge = Array.from(
          { length: deep },
          (_, i) => `*${border[i % border.length]}; rep from * to end.`,
        );
        const shaped: string[] = [];
        for (let sts = side; sts >= 6; sts -= 2)
          shaped.push(`*ssk, k${sts - 4}, k2tog; ${around}.`, 'knit.');
        const grown: string[] = [];
        for (let sts = 4; sts < side; sts += 2)
          grown.push(`*k1, m1l, k${sts - 2}, m1r, k1; ${around}.`, 'knit.');
        const within = inwards ? shaped : grown;
        const told = (rounds: readonly string[]) =>
          parsePlan(
            [
              GAUGE,
              `Cast on ${sides * (inwards ? side : 4)} sts. Join in the round.`,
              ...rounds.map((round, i) => `Round ${i + 1}: ${round}`),
              'Bind off.',
            ].join('\n'),
          );
        const plain = told(within);
        const plan = told(inwards ? [...edge, ...within] : [...within, ...edge]);
        expect(plan.diagnostics.filter((d) => d.severity !== 'note')).toEqual([]);
        fc.pre((sides * side) % over === 0);
        const asked = { sizeMm: side * 5 * larger, stitchMm: 5, roundMm: 100 / 28, corners: sides };
        const graded = parsePlan(gradePlan(plan, asked, UNMEASURED).text);
        const without = parsePlan(gradePlan(plain, asked, UNMEASURED).text);
        expect(graded.diagnostics.filter((d) => d.severity !== 'note')).toEqual([]);
        const first = inwards ? 0 : graded.rounds.length - deep;
        const inner = inwards ? graded.rounds.slice(deep) : graded.rounds.slice(0, first);
        // A repeat that this many stitches do not divide by takes the next size that does.
        const rim = Math.max(...without.rounds.map(({ before, after }) => Math.max(before, after)));
        if (rim % over === 0)
          expect(inner.map(({ n }) => names(graded, n - 1))).toEqual(
            without.rounds.map((_, k) => names(without, k)),
          );
        const own = inwards ? 0 : within.length;
        for (let i = 0; i < deep; i++) {
          const [was, is] = [names(plan, own + i), names(graded, first + i)];
          expect(is).toEqual(is.map((_, k) => was[k % over]));
        }
      },
    ),
    { seed: 23, numRuns: runs(150) },
  );
});

it('a border that is shaped at its corners is not torn: the plan stays at its own size, and is refused at others', () => {
  const borders = [
    ['*[k2, p2] 7 times', '*ssk, [p2, k2] 6 times, k2tog', '*ssk, p1, [k2, p2] 5 times, k1, k2tog'],
    ['*[k1, p1] 14 times', '*ssk, [k1, p1] 12 times, k2tog', '*ssk, [p1, k1] 11 times, k2tog'],
  ];
  for (const border of borders) {
    const rounds = [...border];
    for (let left = 24; left >= 4; left -= 2)
      rounds.push(`*ssk, k${left - 4}, k2tog`.replace(' k0,', ''), '*k1');
    const told = rounds.map((round, i) =>
      round === '*k1'
        ? `Round ${i + 1}: knit.`
        : `Round ${i + 1}: ${round}; rep from * 3 times more.`,
    );
    const plan = parsePlan(
      [GAUGE, 'Cast on 112 sts. Join in the round.', ...told, 'Bind off.'].join('\n'),
    );
    expect(plan.diagnostics.filter((d) => d.severity === 'error')).toEqual([]);
    const at = (sizeMm: number) =>
      gradePlan(plan, { sizeMm, stitchMm: 5, roundMm: 100 / 28, corners: 4 }, UNMEASURED).text;
    expect(parsePlan(at(140)).castOn).toBe(112);
    for (const sizeMm of [90, 180, 220])
      expect(() => at(sizeMm)).toThrow(/border is shaped at its corners/);
  }
});
