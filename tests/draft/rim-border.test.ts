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

const told = (castOn: number, rounds: readonly string[]) =>
  parsePlan(
    [
      GAUGE,
      `Cast on ${castOn} sts. Join in the round.`,
      ...rounds.map((round, i) => `Round ${i + 1}: ${round}`),
      'Bind off.',
    ].join('\n'),
  );

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

/** Stitches of one side of a border in round `r`, counted from the rim: shaped in every other round at both ends. */
function borderSide(pattern: readonly string[], length: number, r: number, shaped: string[]) {
  const column = (i: number) => pattern[(i + r) % pattern.length];
  // Every shaping round has moved the side's beginning by one column.
  const gone = (r + 1) >> 1;
  const plain = (count: number, from: number) =>
    Array.from({ length: count }, (_, i) => column(i + from));
  return r % 2 === 0
    ? [...plain(length - 1, gone), 'k1']
    : [shaped[0], ...plain(length - 5, gone + 1), shaped[1], 'k1'];
}

it('a border that is shaped at its corners is worked over whole repeats more or fewer, and what lies within as without it', () => {
  fc.assert(
    fc.property(
      fc.constantFrom(4, 6),
      fc.integer({ min: 20, max: 32 }),
      fc.constantFrom(['k1', 'p1'], ['k1', 'k1', 'p1', 'p1'], ['p1', 'k1', 'k1']),
      fc.integer({ min: 2, max: 5 }),
      fc.double({ min: 0.8, max: 1.6, noNaN: true }),
      (sides, length, pattern, deep, larger) => {
        const around = `rep from * ${sides - 1} times more`;
        const border: string[] = [];
        let left = length;
        for (let r = 0; r < deep; r++) {
          border.push(`*${borderSide(pattern, left, r, ['ssk', 'k2tog']).join(', ')}; ${around}.`);
          if (r % 2 === 1) left -= 2;
        }
        const within = (from: number) => {
          const rounds = ['knit.'];
          for (let sts = from; sts >= 6; sts -= 2)
            rounds.push(`*ssk, k${sts - 5}, k2tog, k1; ${around}.`, 'knit.');
          return rounds;
        };
        const plan = told(sides * length, [...border, ...within(left)]);
        expect(plan.diagnostics.filter((d) => d.severity === 'error')).toEqual([]);
        const asked = { sizeMm: length * 5 * larger, stitchMm: 5, roundMm: 100 / 28 };
        const graded = parsePlan(gradePlan(plan, { ...asked, corners: sides }, UNMEASURED).text);
        expect(graded.diagnostics.filter((d) => d.severity === 'error')).toEqual([]);
        const growth = (graded.castOn - plan.castOn) / sides;
        expect(Math.abs(growth) % pattern.length).toBe(0);
        expect(Math.abs(growth - length * (larger - 1))).toBeLessThan(pattern.length + 1);
        for (let r = 0; r < deep; r++) {
          const [was, is] = [plan, graded].map((one) => names(one, r));
          const [own, side] = [was, is].map((round) => round.slice(0, round.length / sides));
          expect(side.length - own.length).toBe(growth);
          expect(is).toEqual(is.map((_, k) => side[k % side.length]));
          // Both ends as they were, and the repeat between them.
          expect([side.slice(0, 4), side.slice(-4)]).toEqual([own.slice(0, 4), own.slice(-4)]);
          const middle = side.slice(3, -4);
          expect(middle).toEqual(middle.map((name, k) => middle[k - pattern.length] ?? name));
        }
        const inside = graded.rounds.slice(deep);
        expect(inside[0].before).toBe(sides * (left + growth));
        // An odd stitch a side is kept to the centre.
        for (const { before, after } of inside)
          expect([0, sides, 2 * sides]).toContain(before - after);
      },
    ),
    { seed: 23, numRuns: runs(60) },
  );
});

it('a shaped border stays with a piece grown from its centre, and is refused where the round begins inside a side', () => {
  const grown: string[] = [];
  for (let sts = 4; sts < 24; sts += 2)
    grown.push(`*k1, m1l, k${sts - 2}, m1r, k1; rep from * 3 times more.`, 'knit.');
  const moss = [
    '*k1, m1l, [p1, k1] 11 times, m1r, k1; rep from * 3 times more.',
    '*[k1, p1] 12 times, k2; rep from * 3 times more.',
    '*k1, m1l, [k1, p1] 12 times, m1r, k1; rep from * 3 times more.',
    '*k1, [k1, p1] 13 times, k1; rep from * 3 times more.',
  ];
  const plan = told(16, [...grown, ...moss]);
  expect(plan.diagnostics.filter((d) => d.severity === 'error')).toEqual([]);
  const asked = { stitchMm: 5, roundMm: 100 / 28, corners: 4 };
  const larger = parsePlan(gradePlan(plan, { ...asked, sizeMm: 190 }, UNMEASURED).text);
  // 38 stitches a side for 28: ten more, five repeats of the moss, in all four rounds.
  expect(larger.rounds.slice(-4).map(({ after }) => after)).toEqual([144, 144, 152, 152]);
  const last = ['k', ...Array.from({ length: 18 }, () => ['k', 'p']).flat(), 'k'];
  expect(names(larger, larger.rounds.length - 1)).toEqual([...last, ...last, ...last, ...last]);

  const half = [
    '*[k1, p1] 6 times, k2tog, k1, ssk, [p1, k1] 5 times, p1; rep from * 3 times more.',
    '*[p1, k1] 6 times, k1, p1, [k1, p1] 6 times; rep from * 3 times more.',
  ];
  const inside: string[] = ['knit.'];
  for (let each = 12; each > 2; each--)
    inside.push(`*k${each - 2}, k2tog, k1, ssk, k${each - 3}; rep from * 3 times more.`, 'knit.');
  const begun = told(112, [...half, ...inside]);
  expect(() => gradePlan(begun, { ...asked, sizeMm: 190 }, UNMEASURED)).toThrow(
    /border is shaped at its corners/,
  );
});
