/** A pattern for several sizes: one text that reads back as each of them. */
import fc from 'fast-check';
import { expect, it } from 'vitest';
import { draftPlan } from '../../src/draft/draft.ts';
import { type WrittenPattern, writePattern } from '../../src/paper/pattern/written.ts';
import { writeSizes } from '../../src/paper/pattern/written-sizes.ts';
import { parsePlan } from '../../src/plan/parse.ts';
import type { Plan } from '../../src/plan/plan.ts';
import type { Verdict } from '../../src/report/verdict.ts';
import { smallSpecs } from '../draft/wishes-arbitrary.ts';
import { planMeaning } from '../plan/meaning.ts';
import { whole } from '../runs.ts';
import { colouring, coloursIn, inColours } from './pattern-properties.ts';

const NAMES = ['12 cm', '16 cm', '22 cm'];
const VERDICTS: Verdict[] = ['flat', 'flat after blocking', 'cups'];

function loops(plan: Plan) {
  const { castOn, ending, rounds, seam } = planMeaning(plan);
  const works = rounds.map(({ works, after, wrongSide }) => ({ works, after, wrongSide }));
  return { castOn, ending, works, seam };
}

it('any draft at three sizes is written in one text that reads back as each of them', () => {
  fc.assert(
    fc.property(
      smallSpecs,
      fc.constantFrom('american' as const, 'british' as const),
      fc.boolean(),
      fc.option(colouring),
      (asked, terms, finer, colours) => {
        const sizes = [0.8, 1, 1.3].map((factor, k) => {
          const sizeMm = asked.sizeMm * factor;
          // The last one in a finer yarn: its gauge stands beside the others'.
          const fine = finer && k === 2 ? 0.9 : 1;
          const at = { stitchMm: asked.stitchMm * fine, roundMm: asked.roundMm * fine };
          const drafted = parsePlan(draftPlan({ ...asked, ...at, sizeMm, title: 'Gale' }).text);
          const plan = colours ? inColours(drafted, colours) : drafted;
          const { stitchMm } = at;
          const options = { terms, sizeMm, shape: 'square', verdict: VERDICTS[k], stitchMm };
          return { name: NAMES[k], plan, options };
        });
        // Seams that differ make different pieces: such drafts are written apart.
        fc.pre(new Set(sizes.map(({ plan }) => JSON.stringify(plan.seam))).size === 1);
        const written = writeSizes(sizes);
        const { text } = written;
        sizes.forEach(({ plan }, k) => {
          const read = parsePlan(text, k);
          expect(
            read.diagnostics.filter((d) => d.severity === 'error'),
            text,
          ).toEqual([]);
          expect(read.sizes?.names).toEqual(NAMES);
          expect(loops(read), text).toEqual(loops(plan));
          expect(coloursIn(read), text).toEqual(coloursIn(plan));
          expect(read.gauges[0].stitchMm / plan.gauges[0].stitchMm).toBeCloseTo(1, 1);
        });
        // Told together they take no more lines than each by itself does.
        const told = (one: WrittenPattern) =>
          one.sections.find(({ heading }) => heading === 'Pattern')?.lines.length ?? 0;
        const alone = sizes.map(({ plan, options }) => told(writePattern(plan, options)));
        expect(told(written), text).toBeLessThanOrEqual(alone.reduce((a, b) => a + b));
        // Only the sizes that lie flat are called blocked.
        expect(text).toMatch(/For 16 cm: .*blocked/);
        expect(text).not.toMatch(/For 22 cm: .*, blocked/);
      },
    ),
    { seed: 6, numRuns: whole ? 30 : 3 },
  );
});
