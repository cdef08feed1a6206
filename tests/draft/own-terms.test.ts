import { expect, it } from 'vitest';
import { draftPlan } from '../../src/draft/draft.ts';
import { redraft } from '../../src/draft/rework/redraft.ts';
import { turnFlat, turnRound } from '../../src/draft/rework/turn-flat.ts';
import { gradePlan } from '../../src/draft/search/grade-measured.ts';
import { parsePlan } from '../../src/plan/parse.ts';
import { inTerms, termsOf } from '../../src/report/words/terms.ts';

const WORDS = ['Gauge', 'stockinette', 'Bind off', 'seed stitch'];
const byStitches = { measure: () => null, relax: () => null };

it('what is made anew of a plan in British terms is told in them, and reads back alike', () => {
  for (const ground of ['stockinette', 'garter', 'reverse', 'seed'] as const)
    for (const direction of ['in', 'out'] as const) {
      const gauge = { stitchMm: 4.6, roundMm: ground === 'garter' ? 2.3 : 3.2 };
      const { text } = draftPlan({ sizeMm: 110, ...gauge, ground, direction });
      const [plan, told] = [text, inTerms(text, 'british')].map((words) => parsePlan(words));
      expect(told.diagnostics).toEqual(plan.diagnostics);
      expect(told.rounds.map(({ after }) => after)).toEqual(plan.rounds.map(({ after }) => after));
      const sizes = ({ gauges }: typeof plan) => gauges.map(({ at: _, ...gauge }) => gauge);
      expect(sizes(told)).toEqual(sizes(plan));
      expect([termsOf(plan), termsOf(told)]).toEqual(['american', 'british']);
      const to = { sizeMm: 150, ...gauge, corners: 4 };
      const flat = turnFlat(told, 1).text;
      const anew = [
        gradePlan(told, to, byStitches).text,
        redraft(told, 2).text,
        flat,
        turnRound(parsePlan(flat)).text,
      ];
      for (const words of anew) {
        expect(WORDS.filter((word) => words.includes(word))).toEqual([]);
        expect(parsePlan(words).diagnostics).toEqual([]);
      }
    }
});

it('terms are those of most words, colours and centres deciding where no other word does', () => {
  const terms = (text: string) => termsOf({ text });
  expect(terms('Tension: 22 sts.\nRound 1: *Skpo, k20; rep from * to end.\nBind off.')).toBe(
    'british',
  );
  expect(terms('Gauge: 22 sts\nRound 5, contrast colour A: knit.\nBind off.')).toBe('american');
  expect(terms('Cast on 80 sts in the main colour.')).toBe('british');
  expect(terms('Cast on 80 sts in the main color.')).toBe('american');
  expect(terms('Cast on 80 sts.')).toBe('american');
});
