/** The page's pattern of a plan for several sizes. */
import { expect, it } from 'vitest';
import { textAtSize } from '../../src/app/panes/size-verdicts.tsx';
import { chartSheets } from '../../src/app/pattern/chart-view.tsx';
import { usePattern } from '../../src/app/pattern/pattern-choices.ts';
import { readPattern } from '../../src/app/pattern/pattern-facts.ts';
import { draftPlan } from '../../src/draft/draft.ts';
import { mergeSizes } from '../../src/draft/motif/merge-sizes.ts';
import { knit } from '../../src/knit.ts';
import { parsePlan } from '../../src/plan/parse.ts';
import type { Report } from '../../src/report/report.ts';

const SIZES = [100, 140].map(
  (sizeMm) => draftPlan({ sizeMm, stitchMm: 5, roundMm: 3.6, title: 'Gale' }).text,
);
const MERGED = mergeSizes(SIZES, ['10 cm', '14 cm']);

it('a text that follows another size is that size, whatever the plan itself follows', () => {
  for (const text of [MERGED, `Size: 1\n${MERGED}`, `Size: 14 cm\n${MERGED}`])
    SIZES.forEach((alone, k) => {
      const plan = parsePlan(textAtSize(text, k));
      expect(plan.sizes?.chosen).toBe(k);
      expect(plan.castOn).toBe(parsePlan(alone).castOn);
      expect(plan.rounds.length).toBe(parsePlan(alone).rounds.length);
    });
});

it.each(['round', 'flat'] as const)(
  'tells all sizes in one, worked %s, and which one is shown',
  (worked) => {
    const choices = { ...usePattern.getState(), worked };
    const nothing = { laid: null, knitted: null, terms: 'american', units: 'cm' } as const;
    const { facts } = readPattern({ plan: parsePlan(MERGED), choices, ...nothing });
    SIZES.forEach((text, k) => {
      const alone = readPattern({ plan: parsePlan(text), choices, ...nothing }).facts;
      const read = parsePlan(facts?.written.text ?? '', k);
      expect(read.diagnostics.filter((d) => d.severity === 'error')).toEqual([]);
      expect(read.castOn).toBe(alone?.plan.castOn);
      expect(read.rounds.map(({ after }) => after)).toEqual(
        alone?.plan.rounds.map(({ after }) => after),
      );
    });
    const sheets = facts ? chartSheets(facts, choices) : [];
    for (const name of ['10 cm', '14 cm'])
      expect(sheets.some((svg) => svg.includes(`<title>Gale, ${name}: chart</title>`))).toBe(true);
    expect(facts?.followed).toBe('10 cm');
    // On the page only: no knitter has a plan to change.
    expect(facts?.notes.join()).not.toMatch(/plan follows/);
    expect(facts?.aside.join()).toMatch(/are those of 10 cm, the size that the plan follows/);
  },
);

it('names the size of every size whose fabric is known, and says of the page what is of one alone', () => {
  const plan = parsePlan(MERGED);
  const choices = usePattern.getState();
  const nothing = { laid: null, knitted: null, terms: 'american', units: 'cm' } as const;
  const reportOf = (text: string) => knit(text, { advise: false }).knitted?.report ?? null;
  const written = (sizeReports: readonly (Report | null)[]) =>
    readPattern({ plan, choices, ...nothing, sizeReports }).facts;
  expect(written([null, null])?.aside.join()).toMatch(/^Size and verdict are those of 10 cm/);
  const known = written([null, reportOf(SIZES[1])]);
  expect(known?.written.text).toMatch(/For 14 cm: 14(?:\.\d)? cm .* square/);
  expect(known?.aside.join()).toMatch(/^Schematic, needles and yarn are those of 10 cm/);
});
