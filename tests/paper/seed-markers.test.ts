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
