import fc from 'fast-check';
import { expect, it } from 'vitest';
import { draftPlan } from '../../src/draft/draft.ts';
import { turnFlat } from '../../src/draft/rework/turn-flat.ts';
import { chartText } from '../../src/paper/chart/chart-text.ts';
import { parsePlan } from '../../src/plan/parse.ts';
import { spec } from '../draft/wishes-arbitrary.ts';
import { runs } from '../runs.ts';
import { jottedSquares } from './jotted-squares.ts';

/** What a line of the chart in words says to work, by its own rules alone. */
function heard(line: string, before: number): string[] {
  const [, told] = /^(?:Round|Row) \d+[^:]*: (.*)\. \d+ stitch(?:es)?\.$/.exec(line) ?? [];
  const all = /^(knit|purl) all$/.exec(told ?? '');
  if (all) return new Array(before).fill(all[1][0]);
  return (told ?? '').split('; ').flatMap((part) => {
    const [, often, steps] =
      /^(?:repeat (twice|\d+ times): )?(.*?)(?: for the seam)?$/.exec(part) ?? [];
    const once = steps.split(/, (?![^(]*\))/).flatMap((step) => {
      const [, n, group] = /^(?:(\d+) times )?(.*)$/.exec(step) ?? [];
      const run = group.split(' and ').flatMap((one) => {
        const [, word, count] = /^(knit|purl) (\d+)$/.exec(one) ?? [];
        return word ? new Array<string>(Number(count)).fill(word[0]) : [one];
      });
      return Array.from({ length: Number(n ?? 1) }, () => run).flat();
    });
    const n = often === 'twice' ? 2 : Number.parseInt(often ?? '1', 10);
    return Array.from({ length: n }, () => once).flat();
  });
}

const drafted = spec.map((asked) => draftPlan({ ...asked, worked: 'round' }).text);

it('the chart in words, worked as it is heard, gives the stitches of the plan', () => {
  fc.assert(
    fc.property(
      fc.oneof(
        jottedSquares.map(({ text }) => text),
        drafted,
      ),
      fc.boolean(),
      (text, turned) => {
        const round = parsePlan(text);
        const plan = turned ? parsePlan(turnFlat(round).text) : round;
        const told = chartText(plan);
        const lines = told.split('\n').filter((line) => /^(?:Round|Row) \d/.test(line));
        expect(lines.length).toBe(plan.rounds.length);
        for (const [i, { works, before }] of plan.rounds.entries())
          expect(heard(lines[i], before), lines[i]).toEqual(
            Array.from(works, (id) => plan.kinds[id].name),
          );
        expect(told).not.toMatch(/[[\]*]/);
      },
    ),
    { seed: 19, numRuns: runs(100) },
  );
});

it('draws up one stitch, or those that remain', () => {
  const end = (last: string) =>
    chartText(
      parsePlan(
        `CO 3 sts. Work flat.\nRow 1: ${last}.\nCut yarn and draw it through the remaining sts.`,
      ),
    );
  expect(end('s2kp')).toContain('Draw the yarn through the last stitch.');
  expect(end('k1, k2tog')).toContain('Draw the yarn through the stitches that remain.');
});
