import fc from 'fast-check';
import { expect, it } from 'vitest';
import { draftPlan } from '../../src/draft/draft.ts';
import { turnFlat } from '../../src/draft/rework/turn-flat.ts';
import { writePattern } from '../../src/paper/pattern/written.ts';
import { parsePlan } from '../../src/plan/parse.ts';
import { runs } from '../runs.ts';

it('seed stitch is no panel in itself, and parts one from its ground where its own stitches begin', () => {
  fc.assert(
    fc.property(
      fc.integer({ min: 110, max: 220 }),
      fc.constantFrom('in' as const, 'out' as const),
      fc.boolean(),
      fc.constantFrom('paired 1' as const, 'paired 0' as const, 'centred' as const),
      fc.boolean(),
      (sizeMm, direction, cabled, corner, turned) => {
        const draft = draftPlan({
          sizeMm,
          stitchMm: 4.3,
          roundMm: 2.6,
          direction,
          ground: 'seed',
          corner,
          panels: cabled
            ? [{ stitches: 'p2 2/2RC p2', place: 'middle' as const, crossEvery: 6 }]
            : [],
        });
        const round = parsePlan(draft.text);
        const plan = turned ? parsePlan(turnFlat(round).text) : round;
        const { text } = writePattern(plan);
        const again = parsePlan(text);
        expect(again.rounds.map(({ after }) => after)).toEqual(
          plan.rounds.map(({ after }) => after),
        );
        if (!cabled) expect(text).not.toContain('edges of its panel');
        // Between the markers of a panel stands the panel, with its purl edges and no stitch of the ground.
        const marked = [...text.matchAll(/, pm, ([^*;]*?), pm[,;]/g)].map(([, part]) => part);
        const panels = marked.filter((part) => /2\/2|k4|p4/.test(part));
        for (const part of panels) expect(part).toMatch(/^[pk]2, (?:[kp]4|2\/2 RC), [pk]2$/);
        if (cabled && direction === 'in' && text.includes('edges of its panel'))
          expect(panels.length).toBeGreaterThan(0);
      },
    ),
    { seed: 9, numRuns: runs(60) },
  );
});

it('a border of moss or rib that is shaped at its corners is no panel either', () => {
  fc.assert(
    fc.property(
      fc.constantFrom('k1, p1', 'k2, p2'),
      fc.integer({ min: 9, max: 15 }),
      fc.constantFrom(3, 4, 6),
      fc.integer({ min: 3, max: 5 }),
      (repeat, times, sides, deep) => {
        const side = 4 * Math.ceil(times / 2);
        const border = Array.from({ length: deep }, (_, i) => {
          const left = side - 2 * i - 2;
          const inside = Array.from({ length: left - 2 }, (_, k) => ribbed(repeat, k + i + 2));
          return `*ssk, ${inside.join(', ')}, k2tog; rep from * ${sides - 1} times more.`;
        });
        const inner: string[] = [];
        for (let left = side - 2 * deep; left > 6; left -= 2)
          inner.push('knit.', `*ssk, k${left - 4}, k2tog; rep from * ${sides - 1} times more.`);
        const rounds = [`*${repeat}; rep from * to end.`, ...border, ...inner];
        const text = [
          'Gauge: 20 sts and 28 rounds = 10 cm in stockinette',
          `Cast on ${side * sides} sts. Join in the round.`,
          ...rounds.map((round, i) => `Round ${i + 1}: ${round}`),
          'Bind off.',
        ].join('\n');
        const plan = parsePlan(text);
        expect(plan.diagnostics.filter(({ severity }) => severity === 'error')).toEqual([]);
        expect(writePattern(plan).text).not.toContain('edges of its panel');
      },
    ),
    { seed: 31, numRuns: runs(60) },
  );
});

/** The stitch of a rib, or of knit and purl by turns, at a place of its round. */
const ribbed = (repeat: string, place: number): string => {
  const wide = Number(repeat[1]);
  return Math.floor(place / wide) % 2 === 0 ? 'k1' : 'p1';
};

it('seed is told by its figures: no single stitch of it goes to where another marker is seen', () => {
  for (const corner of ['centred', 'paired 1'] as const)
    for (const sizeMm of [110, 96])
      for (const shape of ['pentagon', 'square'] as const) {
        const text = draftPlan({ sizeMm, stitchMm: 5.26, roundMm: 3.125, ground: 'seed', shape, corner }).text;
        expect(writePattern(parsePlan(text)).text).not.toMatch(/[kp]1, [kp] to \d+ sts before marker, [kp]1,/);
      }
}); // biome-ignore format: one case a line

it('the last part of a row in seed is told as the others are, and the stitch of the seam behind it', () => {
  for (const sizeMm of [80, 100]) {
    const draft = draftPlan({ sizeMm, stitchMm: 5, roundMm: 3, ground: 'seed', shape: 'octagon', worked: 'flat' });
    const { text } = writePattern(parsePlan(draft.text));
    const rows = [...text.matchAll(/\(WS\): \*([^;]*\[[^;]*), sm; rep from \* 6 times more, (.*)\. \(/g)];
    expect(rows.length).toBeGreaterThan(0);
    for (const [, part, last] of rows)
      if (part.endsWith('times')) expect(last).toBe(`${part}, k1`);
    // Nowhere are two knits, or two purls, told one after the other.
    expect(text).not.toMatch(/\b([kp])\d+, \1\d+[,;.]/);
  }
}); // biome-ignore format: one draft a line
