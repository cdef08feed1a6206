/** Sizes of one text: shaped in step where that costs nothing. */
import { expect, it } from 'vitest';
import { draftPlan } from '../../src/draft/draft.ts';
import { rightSideRounds } from '../../src/draft/rework/turn-flat.ts';
import { gradePlan } from '../../src/draft/search/grade-measured.ts';
import { segmentsOf } from '../../src/draft/spec/draft-spec.ts';
import { draftMeasured, gradeToSize, shareSchedule } from '../../src/knit.ts';
import { parsePlan } from '../../src/plan/parse.ts';
import type { Plan } from '../../src/plan/plan.ts';
import { runs } from '../runs.ts';

const gauge = (stitches: number, rounds: number) => ({
  stitchMm: 100 / stitches,
  roundMm: 100 / rounds,
});

it('a cabled size shaped in step with a longer one shares its lines, and is no worse for it', () => {
  const own = gauge(22, 30);
  const panels = [{ stitches: 'p1 k4 p1', crossEvery: 6, place: 'middle' as const }];
  const plan = parsePlan(draftMeasured({ sizeMm: 90, ...own, panels }).text);
  const specs = [90, 110].map((sizeMm) => ({ sizeMm, ...own, corners: 4 }));
  const alone = specs.map((spec) => gradeToSize(plan, spec));
  const inStep = shareSchedule(plan, specs, alone);
  expect(inStep[1]).toBe(alone[1]);
  inStep.forEach((one, k) => {
    if (one === alone[k]) return;
    expect(one.verdict === 'flat' || one.verdict === alone[k].verdict).toBe(true);
    const off = (size: number) => Math.abs(size - specs[k].sizeMm) / own.stitchMm;
    expect(off(one.sizeMm)).toBeLessThanOrEqual(Math.max(0.5, off(alone[k].sizeMm) + 1e-6));
    expect(one.spacing).not.toEqual(alone[k].spacing);
  });
});

const shapedRounds = (plan: Plan) =>
  rightSideRounds(plan).flatMap((_, i) =>
    plan.rounds[i].after === plan.rounds[i].before ? [] : [i],
  );

it.each(
  [
    [20, 40, 90],
    [16, 32, 100],
    [19, 38, 110],
  ].slice(0, runs(2)),
)(
  'garter of %i by %i worked flat is graded on right-side rows, as it is drafted',
  (stitches, rows, sizeMm) => {
    const own = gauge(stitches, rows);
    const plan = parsePlan(
      draftMeasured({ sizeMm: 80, ...own, ground: 'garter', worked: 'flat' }).text,
    );
    const graded = parsePlan(gradeToSize(plan, { sizeMm, ...own, corners: 4 }).text);
    const wrong = shapedRounds(graded).filter((i) => graded.rounds[i].wrongSide);
    expect(shapedRounds(graded).length).toBeGreaterThan(5);
    expect(wrong.length).toBeLessThanOrEqual(1);
  },
);

it('seed grown from its centre begins alike at every size', () => {
  let compared = 0;
  for (const shape of ['square', 'hexagon', 'octagon'] as const) {
    const wish = { shape, ground: 'seed', direction: 'out', stitchMm: 6, roundMm: 3.4 } as const;
    const plan = parsePlan(draftPlan({ ...wish, sizeMm: 90 }).text);
    const corners = segmentsOf({ ground: 'seed', shape });
    for (const sizeMm of [66, 78, 96, 120, 150]) {
      const to = { sizeMm, stitchMm: 6, roundMm: 3.4, corners };
      const { text } = gradePlan(plan, to, { measure: () => null, relax: () => null });
      const graded = parsePlan(text);
      // As far as both are shaped in the same rounds.
      const alike = graded.rounds.findIndex((round, i) => round.after !== plan.rounds[i]?.after);
      const begins = ({ rounds, kinds }: Plan) =>
        rounds.slice(0, alike).map(({ works }) => Array.from(works, (id) => kinds[id].name));
      if (graded.castOn === plan.castOn) expect(begins(graded), text).toEqual(begins(plan));
      if (graded.castOn === plan.castOn && alike > 0) compared++;
    }
  }
  expect(compared).toBeGreaterThan(5);
});
