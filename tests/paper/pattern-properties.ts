/**
 * What every written pattern and chart owes its plan: read back it gives the same loops, every count printed is the
 * plan's, the chart has the plan's stitches, nothing is called blocked that does not lie flat, and round → flat →
 * round is the same fabric. In: wishes and how to write. Out: nothing; it expects.
 */
import fc from 'fast-check';
import { expect } from 'vitest';
import { draftPlan } from '../../src/draft/draft.ts';
import { retimedText } from '../../src/draft/rework/redraft.ts';
import { turnFlat, turnRound } from '../../src/draft/rework/turn-flat.ts';
import type { SpecInput } from '../../src/draft/spec/draft-spec.ts';
import { drawChart } from '../../src/paper/chart/chart.ts';
import { layOutChart } from '../../src/paper/chart/chart-layout.ts';
import { chartText } from '../../src/paper/chart/chart-text.ts';
import { writePattern } from '../../src/paper/pattern/written.ts';
import { parsePlan } from '../../src/plan/parse.ts';
import type { Plan } from '../../src/plan/plan.ts';
import { colourLabel, colourMarks, coloursOf } from '../../src/plan/write/colours.ts';
import type { Verdict } from '../../src/report/verdict.ts';
import { liesFlat } from '../../src/report/words/verdict-words.ts';
import { spec } from '../draft/wishes-arbitrary.ts';
import { planMeaning } from '../plan/meaning.ts';

export interface PatternCase {
  readonly asked: SpecInput;
  readonly turned: boolean;
  readonly seam: 1 | 2;
  readonly terms: 'american' | 'british';
  readonly units: 'cm' | 'inch';
  readonly hand: 'right' | 'left';
  readonly verdict: Verdict;
  readonly colours: Colouring | null;
}

/** Colours of the rounds in turn, over and over, each for so many; the edges in colours of their own. */
export interface Colouring {
  readonly runs: readonly { readonly colour: string; readonly rounds: number }[];
  readonly castOn: string | null;
  readonly ending: string | null;
}

const aColour = fc.constantFrom(
  'MC',
  'CC',
  'CC2',
  'CC B',
  'colour A',
  'colour B',
  'colour 3',
  'navy',
  'dark red',
  'pale grey',
);

export const colouring: fc.Arbitrary<Colouring> = fc.record({
  runs: fc.array(fc.record({ colour: aColour, rounds: fc.integer({ min: 1, max: 12 }) }), {
    minLength: 1,
    maxLength: 4,
  }),
  castOn: fc.option(aColour),
  ending: fc.option(aColour),
});

/** The plan with its rounds in these colours, told in its text as a designer's is. */
export function inColours(plan: Plan, { runs, castOn, ending }: Colouring): Plan {
  const cycle = runs.flatMap(({ colour, rounds }) => new Array<string>(rounds).fill(colour));
  const rounds = plan.rounds.map((round, i) => ({ ...round, colour: cycle[i % cycle.length] }));
  const last = rounds[rounds.length - 1].colour;
  const colours = {
    castOn: castOn ?? rounds[0].colour,
    ending: (plan.ending === 'bound-off' ? ending : null) ?? last,
    words: {},
  };
  const coloured = { ...plan, rounds, colours };
  const read = parsePlan(retimedText(coloured));
  expect(coloursIn(read), retimedText(coloured)).toEqual(coloursIn(coloured));
  return read;
}

/** What a text says of colours. */
export const coloursIn = ({ rounds, colours }: Plan) => ({
  rounds: rounds.map((round) => round.colour),
  colours,
});

export const patternCases: fc.Arbitrary<PatternCase> = fc.record({
  asked: spec,
  turned: fc.boolean(),
  seam: fc.constantFrom(1 as const, 2 as const),
  terms: fc.constantFrom('american' as const, 'british' as const),
  units: fc.constantFrom('cm' as const, 'inch' as const),
  hand: fc.constantFrom('right' as const, 'left' as const),
  verdict: fc.constantFrom<Verdict>('flat', 'flat after blocking', 'cups', 'ruffles', 'saddle'),
  colours: fc.option(colouring),
});

export function checkPattern(one: PatternCase): void {
  const { asked, turned, seam, terms, units, hand, verdict, colours } = one;
  const drafted = parsePlan(draftPlan({ ...asked, worked: 'round' }).text);
  const round = colours ? inColours(drafted, colours) : drafted;
  const plan = turned ? parsePlan(turnFlat(round, seam).text) : round;
  const { text } = writePattern(plan, {
    terms,
    units,
    hand,
    verdict,
    sizeMm: asked.sizeMm,
    rimMm: 4 * asked.sizeMm,
    cut: asked.panels?.some(({ place }) => place === 'corner'),
    shape: asked.shape ?? 'square',
    stitchMm: asked.stitchMm,
  });
  checkWritten(plan, text);
  if (!liesFlat(verdict)) expect(text).not.toMatch(/blocked|ease it/);
  if (plan.ending === 'bound-off') {
    const { works } = plan.rounds[plan.rounds.length - 1];
    const faces = new Set(
      Array.from(works, (id) => /^[kp](?=$|tbl$)/.exec(plan.kinds[id].name)?.[0]),
    );
    const mixed = faces.has('k') && faces.has('p');
    expect(/(?:Bind|Cast) off all sts loosely in pattern/.test(text), text).toBe(mixed);
  }
  namesKept(coloursOf(plan), [text, chartText(plan, { terms })]);
  // The chart has the rounds, not the edges.
  const charted = plan.rounds.flatMap((one) => one.colour ?? []);
  namesKept(charted, [drawChart(plan, { terms })]);
  if (terms === 'british')
    expect(text).not.toMatch(/stockinette|[Bb]ind off|\b[Gg]auge\b|\bseed\b/);
  chartAgrees(plan);
  chartInColours(plan);
  if (turned) {
    expect(coloursIn(plan)).toEqual(coloursIn(round));
    const back = parsePlan(turnRound(plan).text);
    expect(back.rounds.map((r) => r.after)).toEqual(round.rounds.map((r) => r.after));
  }
}

/** A pattern of an open piece, shaped about its middle or at its edges. */
export function checkWritten(plan: Plan, text: string): void {
  readsBack(plan, text);
  countsAgree(plan, text);
  referencesStand(text);
  sectionsApart(text);
}

/** What the designer named keeps its name, in whichever terms. */
function namesKept(colours: readonly string[], printed: readonly string[]): void {
  for (const colour of colours.filter((name) => / /.test(name) && !/^(?:CC|colour) /.test(name)))
    for (const text of printed)
      expect(text.replace(/<[^>]*>|\s+/g, ' ').replace(/ +/g, ' ')).toContain(colour);
}

function readsBack(plan: Plan, text: string): void {
  const again = parsePlan(text);
  expect(again.diagnostics.filter((d) => d.severity !== 'note')).toEqual([]);
  const loops = (p: Plan) => {
    const { castOn, ending, rounds, seam, join } = planMeaning(p);
    const works = rounds.map(({ works, before, after, wrongSide }) => ({
      works,
      before,
      after,
      wrongSide,
    }));
    return { castOn, ending, works, seam, join };
  };
  expect(loops(again)).toEqual(loops(plan));
  expect(coloursIn(again), text).toEqual(coloursIn(plan));
}

/** The count behind a line is that of the last round it names; the list has them all. */
function countsAgree(plan: Plan, text: string): void {
  const said = new Map<number, number>();
  for (const [, , last, first, count] of text.matchAll(
    /^(?:Rounds?|Rows?) (?:(\d+)(?:-| and )(\d+)|(\d+))[^:\n]*:.*\((\d+) sts?\)$/gm,
  ))
    said.set(Number(last ?? first), Number(count));
  expect(said.size).toBeGreaterThan(0);
  for (const [n, count] of said) expect(count).toBe(plan.rounds[n - 1].after);
  expect(said.has(plan.rounds.length)).toBe(true);
  const listed = [
    ...text.matchAll(
      /^(?:- )?(?:Stitch counts: )?(?:Rounds?|Rows?) [\d-]+ ends? with ([\d, ]+) sts\.$/gm,
    ),
  ];
  if (listed.length > 0)
    expect(listed.flatMap((m) => m[1].split(', ').map(Number))).toEqual(
      plan.rounds.map((r) => r.after),
    );
}

function chartAgrees(plan: Plan): void {
  const seam = plan.seam ? plan.seam.begin + plan.seam.end : 0;
  for (const part of ['side', 'whole'] as const) {
    const chart = layOutChart(plan, part);
    chart.rows.forEach((row, i) => {
      const stitches = row.stitches.reduce((sum, s) => sum + s, 0);
      expect((stitches - seam) * chart.repeats + seam).toBe(plan.rounds[i].after);
    });
  }
  const lines = chartText(plan)
    .split('\n')
    .filter((line) => /^(Round|Row) \d/.test(line));
  expect(lines.map((line) => Number(/ (\d+) stitch(?:es)?\.$/.exec(line)?.[1]))).toEqual(
    plan.rounds.map((r) => r.after),
  );
}

/** Every row of the chart has its colour's letters beside it, the key has each once, and so has the chart in words. */
function chartInColours(plan: Plan): void {
  const names = coloursOf(plan);
  const marks = colourMarks(names);
  const rows = plan.rounds.map(({ colour }) => marks.get(colour ?? '') ?? '');
  for (const hand of ['right', 'left'] as const) {
    const svg = drawChart(plan, { hand });
    const [strip = ''] = /<g data-part="colours">.*?<\/g>/.exec(svg) ?? [];
    const told = [...strip.matchAll(/>([^<>]+)<\/text>/g)].map((m) => m[1]);
    expect(told).toEqual(plan.colours ? rows : []);
    const key = svg.slice(svg.indexOf('>Key<'));
    for (const mark of new Set(rows)) if (mark) expect(key).toContain(`>${mark}</text>`);
    expect([...key.matchAll(/>(?:round|row) worked in /g)].length).toBe(
      plan.colours ? new Set(rows).size : 0,
    );
  }
  const lines = chartText(plan, { terms: 'british' }).split('\n');
  for (const { n, colour } of plan.rounds) {
    const line = lines.find((one) => new RegExp(`^(Round|Row) ${n}[,:]`).test(one));
    expect(line?.split(':')[0].endsWith(colourLabel(colour)), line).toBe(true);
  }
}

/** A round told by another is told by one that is told in full. */
function referencesStand(text: string): void {
  for (const [said, n] of text.matchAll(/^.*: as (?:round|row) (\d+)\./gm))
    expect(text, said).not.toMatch(new RegExp(`^(?:Round|Row) ${n}\\b[^:]*: as `, 'm'));
}

/** Beside a repeat nothing is told that the repeat could have told: `k3, sm, *k3, sm; rep from * once more`. */
function sectionsApart(text: string): void {
  expect(text).not.toMatch(/: (.+, sm), \*\1; rep/);
}
