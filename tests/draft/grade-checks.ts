/** What every grading promises, whatever the plan: shared by the tests and the soak. */
import fc from 'fast-check';
import { expect } from 'vitest';
import { run } from '../../src/cli/run.ts';
import { draftPlan } from '../../src/draft/draft.ts';
import { type ColumnFabric, fabricStitch, readPanel } from '../../src/draft/motif/side-pattern.ts';
import type { GradeSpec } from '../../src/draft/rework/grade.ts';
import { rightSideRounds } from '../../src/draft/rework/turn-flat.ts';
import { gradePlan } from '../../src/draft/search/grade-measured.ts';
import { type SpecInput, segmentsOf } from '../../src/draft/spec/draft-spec.ts';
import { knit, prepare } from '../../src/knit.ts';
import { parsePlan } from '../../src/plan/parse.ts';
import type { Plan } from '../../src/plan/plan.ts';
import { lengthWords } from '../../src/report/words/length.ts';
import { liesFlat } from '../../src/report/words/verdict-words.ts';
import { memoryIo } from '../cli/memory-io.ts';
import { smallSpecs } from './wishes-arbitrary.ts';

export interface GradeCase {
  readonly spec: SpecInput;
  /** New size over the old one, and new gauge over the old one. */
  readonly larger: number;
  readonly finer: number;
}

export const gradeCases: fc.Arbitrary<GradeCase> = fc.record({
  spec: smallSpecs,
  larger: fc.constantFrom(0.5, 0.6, 0.75, 0.9, 1.2, 1.5),
  finer: fc.constantFrom(1, 1, 0.85),
});

export interface GradeTally {
  graded: number;
  refused: number;
  flat: number;
  blocked: number;
  /** Within half a stitch a side, and within one. */
  near: number;
  within: number;
}

export const newGradeTally = (): GradeTally => ({
  graded: 0,
  refused: 0,
  flat: 0,
  blocked: 0,
  near: 0,
  within: 0,
});

const REFUSAL = /too small for the plan|no shaping|cannot be graded|reaches over/;

/** By stitches alone: panels whole, or refused with words. Returns whether it was graded. */
export function checkPanelsKept({ spec, larger, finer }: GradeCase): boolean {
  const text = draftPlan(spec).text;
  const plan = parsePlan(text);
  const to: GradeSpec = {
    sizeMm: spec.sizeMm * larger,
    stitchMm: spec.stitchMm * finer,
    roundMm: spec.roundMm * finer,
    corners:
      spec.shape === 'disc' ? 0 : segmentsOf({ ground: 'garter', shape: spec.shape ?? 'square' }),
  };
  let graded: Plan;
  try {
    graded = parsePlan(gradePlan(plan, to, { measure: () => null, relax: () => null }).text);
  } catch (error) {
    expect((error as Error).message).toMatch(REFUSAL);
    return false;
  }
  expect(graded.diagnostics.filter((d) => d.severity !== 'note')).toEqual([]);
  expectPanels(spec, plan, graded);
  return true;
}

/** Every panel that the plan has on its rim is on the graded one, with its edges; every cable still crosses. */
export function expectPanels(spec: SpecInput, plan: Plan, graded: Plan): void {
  const [before, after] = [plan, graded].map((p) => rims(p, spec.direction ?? 'in'));
  for (const { stitches } of spec.panels ?? []) {
    const columns = readPanel({ stitches, crossEvery: null, place: 'middle' }).columns;
    const words = [1, 2].map((round) =>
      columns.map((fabric, wale) => fabricStitch(fabric, wale, round)).join(' '),
    );
    const shown = (rim: readonly string[]) =>
      words.some((w) => rim.some((line) => line.includes(` ${w} `)));
    // A panel like its ground shows nowhere.
    if (isGround(columns, spec)) continue;
    if (shown(before)) expect(shown(after), `${stitches}: ${JSON.stringify(spec)}`).toBe(true);
  }
  for (const name of crossings(plan)) expect(crossings(graded)).toContain(name);
}

function isGround(
  columns: readonly ColumnFabric[],
  { ground = 'stockinette' }: SpecInput,
): boolean {
  return columns.every(
    (fabric) => fabric === ground || (fabric === 'k' && ground === 'stockinette'),
  );
}

/** The rim's first three rounds, right side, twice over so that a side may begin anywhere. */
function rims(plan: Plan, direction: 'in' | 'out'): string[] {
  const rounds = rightSideRounds(plan);
  const near = direction === 'in' ? rounds.slice(0, 3) : rounds.slice(-3);
  const { begin, end } = plan.seam ?? { begin: 0, end: 0 };
  return near.map((names) => {
    const inside = names.slice(begin, names.length - end);
    return ` ${[...inside, ...inside].join(' ')} `;
  });
}

function crossings(plan: Plan): Set<string> {
  return new Set(plan.kinds.filter((kind) => kind.crossing !== null).map((kind) => kind.name));
}

/** Through the command line: what it prints is what its fabric is, and so is its exit code. */
export async function checkGrade(
  { spec, larger, finer }: GradeCase,
  tally: GradeTally,
): Promise<void> {
  const text = draftPlan(spec).text;
  const io = memoryIo({ p: text });
  const sideCm = (spec.sizeMm * larger) / 10;
  const gauge = `${100 / (spec.stitchMm * finer)}x${100 / (spec.roundMm * finer)}`;
  const code = await run(
    ['grade', 'p', '--side-cm', String(sideCm), '--gauge', gauge, '--json'],
    io,
  );
  if (code === 2) {
    expect(io.written.err).toMatch(REFUSAL);
    expect(JSON.parse(io.written.out).exitCode).toBe(2);
    tally.refused++;
    return;
  }
  const graded = JSON.parse(io.written.out);
  const { plan, knitted } = knit(graded.text, { advise: false });
  if (!knitted) throw new Error(`cannot be relaxed: ${JSON.stringify(plan.diagnostics)}`);
  const { report } = knitted;
  expect(graded.verdict).toBe(report.verdict);
  // The size is told as it was asked for: by the corners of the plan, whatever the fabric shows.
  const asked = prepare(parsePlan(text)).report.corners;
  const parts = (corners: number) => (corners >= 3 ? corners : Math.PI);
  expect(graded.sizeMm * parts(asked)).toBeCloseTo(report.sideMm * parts(report.corners), 6);
  expect(graded.notes.some((note: string) => note.includes('read as a'))).toBe(
    parts(asked) !== parts(report.corners),
  );
  const [told, wished] = [graded.sizeMm, 10 * sideCm].map((mm) => lengthWords(mm, 'cm'));
  expect(graded.notes.some((note: string) => note.includes(`${told} instead of ${wished}`))).toBe(
    told !== wished,
  );
  expect(code).toBe(liesFlat(report.verdict) ? 0 : 1);
  expectPanels(spec, parsePlan(text), plan);
  tally.graded++;
  if (report.verdict === 'flat') tally.flat++;
  else if (liesFlat(report.verdict)) tally.blocked++;
  const off = Math.abs(graded.sizeMm - 10 * sideCm) / (spec.stitchMm * finer);
  if (off <= 0.5) tally.near++;
  if (off <= 1) tally.within++;
}
