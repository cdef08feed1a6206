/** What every grading promises, whatever the plan: shared by the tests and the soak. */
import fc from 'fast-check';
import { expect } from 'vitest';
import { run } from '../../src/cli/run.ts';
import { draftPlan } from '../../src/draft/draft.ts';
import { type ColumnFabric, fabricStitch, readPanel } from '../../src/draft/motif/side-pattern.ts';
import type { GradeSpec } from '../../src/draft/rework/grade-spec.ts';
import { readPieceStructure } from '../../src/draft/rework/piece-structure.ts';
import { groundGauge, sideDeficitOf } from '../../src/draft/rework/rim-stitches.ts';
import { rightSideRounds } from '../../src/draft/rework/turn-flat.ts';
import { gradePlan } from '../../src/draft/search/grade-measured.ts';
import { type SpecInput, segmentsOf } from '../../src/draft/spec/draft-spec.ts';
import { draftMeasured, gradeToSize, knit, prepare, relax } from '../../src/knit.ts';
import { parsePlan } from '../../src/plan/parse.ts';
import type { Plan } from '../../src/plan/plan.ts';
import { lengthWords } from '../../src/report/words/length.ts';
import { UNRESTED_SPREAD } from '../../src/report/words/size-told.ts';
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
  expectAlikeSides(spec, plan, graded);
  expectLeans(spec, plan, graded);
  expectFaces(spec, plan, graded);
  return true;
}

/** Where all decreases of garter are knit in knit rounds and purled in purl ones, those of its gradings are. */
function expectFaces(spec: SpecInput, plan: Plan, graded: Plan): void {
  if (spec.ground !== 'garter' || astray(plan).length > 0) return;
  expect(astray(graded), JSON.stringify(spec)).toEqual([]);
}

/** Decreases of the other face than their round, in rounds that are nearly all of one. */
function astray(plan: Plan): string[] {
  return rightSideRounds(plan).flatMap((names, i) => {
    const share = (face: string) => names.filter((name) => name === face).length / names.length;
    const others = share('k') > 0.75 ? /^(p[23]tog|ss+p)/ : /^(k[23]tog|ss+k)/;
    if (Math.max(share('k'), share('p')) <= 0.75) return [];
    return names.filter((name) => others.test(name)).map((name) => `${name} in ${i + 1}`);
  });
}

/** Increases keep their lean, so that corners mirror each other: none is made without one where the plan tells it. */
function expectLeans(spec: SpecInput, plan: Plan, graded: Plan): void {
  const [before, after] = [plan, graded].map(({ kinds }) => kinds.map(({ name }) => name));
  const plain = ['m1', 'm1p'];
  if (before.some((name) => plain.includes(name))) return;
  expect(
    after.filter((name) => plain.includes(name)),
    JSON.stringify(spec),
  ).toEqual([]);
}

export const cornerCases: fc.Arbitrary<SpecInput> = smallSpecs.filter(
  ({ shape, panels = [] }) => shape !== 'disc' && panels.some(({ place }) => place === 'corner'),
);

/** A panel on the corner, be it wider than the side, is found there: once on every corner, without the seam's stitches. */
export function checkCornerPanels(spec: SpecInput): void {
  const plan = parsePlan(draftPlan(spec).text);
  const corners = segmentsOf(specOf(spec));
  const { structure, fabric, rimColumns } = readPieceStructure(plan, corners);
  const said = JSON.stringify(spec);
  // A round may begin inside a side.
  expect([corners, corners + 1], said).toContain(structure?.sides.length);
  const onSides = new Set(structure?.sides.flat());
  const atCorners = fabric.panels.filter(({ columns }) => !onSides.has(columns[0]));
  const { begin, end } = plan.seam ?? { begin: 0, end: 0 };
  const sewn = [...rimColumns.slice(0, begin), ...rimColumns.slice(rimColumns.length - end)];
  for (const { columns } of fabric.panels)
    expect(plan.seam ? columns.filter((column) => sewn.includes(column)) : [], said).toEqual([]);
  expect([0, corners], said).toContain(atCorners.length);
  expect(new Set(atCorners.map(({ columns }) => columns.length)).size, said).toBeLessThan(2);
}

/** A plain round at the rim that is the same on every side of the plan is so on every side of the graded one. */
function expectAlikeSides(spec: SpecInput, plan: Plan, graded: Plan): void {
  const direction = spec.direction ?? 'in';
  const sides = segmentsOf(specOf(spec));
  const repeats = (line: readonly string[]) =>
    line.length % sides === 0 &&
    line.every((name, i) => name === line[(i + line.length / sides) % line.length]);
  const [before, after] = [plan, graded].map((p) => rim(p, direction).last);
  if (before && after && repeats(before))
    expect(repeats(after), `sides alike: ${JSON.stringify(spec)}`).toBe(true);
}

/**
 * Every panel that the plan has on its rim is on every side of the graded one, with its edges; every cable still
 * crosses, on as many sides at once.
 */
export function expectPanels(spec: SpecInput, plan: Plan, graded: Plan): void {
  const direction = spec.direction ?? 'in';
  const [before, after] = [plan, graded].map((p) => rim(p, direction));
  const { compromises } = draftPlan(spec);
  const panels = spec.panels ?? [];
  const [, ...otherCorners] = panels.filter((panel) => panel.place === 'corner');
  for (const { stitches } of panels) {
    // Only one panel can run along a corner: the draft takes the first and says so.
    if (spec.shape !== 'disc' && otherCorners.some((panel) => panel.stitches === stitches))
      continue;
    const columns = withoutGround(
      readPanel({ stitches, crossEvery: null, place: 'middle' }).columns,
      spec,
    );
    // A panel like its ground shows nowhere.
    if (columns.length === 0) continue;
    // A knit panel runs on in the ground beside it where that is knit in this round.
    const beside = besideOf(spec);
    const words = [1, 2].map((round) =>
      columns.map((fabric, wale) => fabricStitch(fabric, wale, round)),
    );
    const drafted =
      panels.filter((panel) => panel.stitches === stitches).length -
      compromises.filter((c) => c.includes(`"${stitches}"`) && c.includes('was left out')).length;
    const asked = Math.max(0, drafted) * segmentsOf(specOf(spec));
    const most = (line: readonly string[]) =>
      Math.min(asked, Math.max(...words.map((word) => timesShown(line, word, beside))));
    const said = `${stitches}: ${JSON.stringify(spec)}`;
    const shown = Math.max(0, ...before.near.map(most));
    expect(Math.max(0, ...after.near.map(most)), said).toBeGreaterThanOrEqual(shown);
    if (before.last && after.last)
      expect(most(after.last), `at the rim, ${said}`).toBeGreaterThanOrEqual(most(before.last));
  }
  const crossed = crossingsAtOnce(graded);
  for (const [name, times] of crossingsAtOnce(plan))
    expect(crossed.get(name) ?? 0, `${name}: ${JSON.stringify(spec)}`).toBeGreaterThanOrEqual(
      times,
    );
}

const specOf = ({ shape = 'square', ground = 'stockinette' }: SpecInput) => ({ shape, ground });

/** Columns at the ends of a panel that are worked as its ground are ground: the ends of odd seed are garter. */
function withoutGround(
  columns: readonly ColumnFabric[],
  { ground = 'stockinette' }: SpecInput,
): readonly ColumnFabric[] {
  const like = { stockinette: 'k', reverse: 'p', garter: 'garter', seed: 'seed' }[ground];
  const own = (fabric: ColumnFabric, wale: number) =>
    fabric !== like && !(ground === 'garter' && fabric === 'seed' && wale % 2 === 0);
  return columns.slice(columns.findIndex(own), columns.findLastIndex(own) + 1);
}

interface Rim {
  /** Right-side stitches of the three rounds nearest to the rim, without the seam's. */
  readonly near: readonly (readonly string[])[];
  /** The round at the rim, where it is plain; grown outwards the last plain one of the three. */
  readonly last: readonly string[] | undefined;
}

const PLAIN = ['k', 'p', 'ktbl'];

function rim(plan: Plan, direction: 'in' | 'out'): Rim {
  const rounds = rightSideRounds(plan);
  const { begin, end } = plan.seam ?? { begin: 0, end: 0 };
  const inside = (names: readonly string[]) =>
    names.slice(begin, names.length - end).flatMap(uncrossed);
  const isPlain = (names: readonly string[]) => names.every((name) => PLAIN.includes(name));
  // A round that is alike all along shows no panel.
  const near = (direction === 'in' ? rounds.slice(0, 3) : rounds.slice(-3))
    .map(inside)
    .filter((names) => new Set(names).size > 1);
  const last = (direction === 'in' ? near.slice(0, 1) : near).findLast(isPlain);
  return { near, last };
}

/** The stitches of a cable as they are worked in the rounds between. */
function uncrossed(name: string): string[] {
  const cable = /^(\d+)\/(\d+) [LR]C$/.exec(name);
  return cable ? new Array<string>(Number(cable[1]) + Number(cable[2])).fill('k') : [name];
}

/** Stitches beside a panel that may be like it: a corner, in seed one of the ground at each end and behind that corner. */
const besideOf = ({ ground }: SpecInput) => (ground === 'seed' ? 4 : 1);

/**
 * How often the stitches stand in a round, which closes, without sharing any. A panel of one stitch throughout ends
 * where another begins.
 */
function timesShown(round: readonly string[], word: readonly string[], beside: number): number {
  const at = (i: number) => round[i % round.length];
  if (new Set(word).size === 1) {
    const from = round.findIndex((name) => name !== word[0]);
    let run = 0;
    let times = 0;
    for (let i = 1; i <= round.length; i++) {
      if (at(from + i) === word[0]) run++;
      else {
        if (run >= word.length && run <= word.length + beside) times++;
        run = 0;
      }
    }
    return times;
  }
  let most = 0;
  for (let from = 0; from < Math.min(word.length, round.length); from++) {
    let times = 0;
    for (let i = from; i + word.length <= round.length + from; )
      if (word.every((name, k) => at(i + k) === name)) {
        times++;
        i += word.length;
      } else i++;
    most = Math.max(most, times);
  }
  return most;
}

/** For every crossing of the plan the most that are worked in one round. */
function crossingsAtOnce(plan: Plan): Map<string, number> {
  const most = new Map<string, number>();
  for (const { works } of plan.rounds) {
    const times = new Map<string, number>();
    for (const id of works) {
      const { name, crossing } = plan.kinds[id];
      if (crossing) times.set(name, (times.get(name) ?? 0) + 1);
    }
    for (const [name, count] of times) most.set(name, Math.max(count, most.get(name) ?? 0));
  }
  return most;
}

/** A draft within half a stitch a side of a size is the same text when it is graded to that size. */
export function checkOwnSize(spec: SpecInput): void {
  const draft = draftMeasured(spec);
  const plan = parsePlan(draft.text);
  const { report } = relax(prepare(plan), { advise: false });
  const asked = spec.shape === 'disc' ? 0 : segmentsOf(specOf(spec));
  if (!liesFlat(report.verdict) || report.corners !== asked) return;
  const own = groundGauge(plan, report.metric);
  const sideDeficit = sideDeficitOf(plan, report, own.stitchMm);
  const to = { sizeMm: draft.sizeMm, ...own, corners: asked, sideDeficit };
  expect(gradeToSize(plan, to).text, JSON.stringify(spec)).toBe(draft.text);
}

/** As in `flow/draft-measured.ts`. */
export const SAME_REST = 4e-4;

/** Wherever a plan's size is told, it is told in the same words. */
export function expectSameWords(toldMm: number, restsMm: number): void {
  for (const unit of ['cm', 'inch'] as const)
    expect(lengthWords(toldMm, unit)).toBe(lengthWords(restsMm, unit));
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
  const rimMm = report.sideMm * parts(report.corners);
  const offMm = Math.abs(graded.sizeMm * parts(asked) - rimMm);
  // What stands up and is too big to be brought to rest has its size told within a spread.
  expect(offMm).toBeLessThan((graded.riseMm === null ? UNRESTED_SPREAD : SAME_REST) * rimMm);
  if (graded.riseMm !== null) expectSameWords(graded.sizeMm, rimMm / parts(asked));
  expect(graded.notes.some((note: string) => note.includes('read as a'))).toBe(
    parts(asked) !== parts(report.corners),
  );
  const [told, wished] = [graded.sizeMm, 10 * sideCm].map((mm) => lengthWords(mm, 'cm'));
  expect(graded.notes.some((note: string) => note.includes(`${told} instead of ${wished}`))).toBe(
    told !== wished,
  );
  // Sizes are told of stitches that lie as the verdict has it, or of stitches alone.
  const lie = /that (lie flat[a-z ]*):/.exec(graded.notes.join())?.[1];
  if (lie) expect(`lie ${report.verdict}`).toBe(lie);
  if (graded.otherMm !== null)
    expect((graded.otherMm - 10 * sideCm) * (graded.sizeMm - 10 * sideCm)).toBeLessThan(0);
  expect(code).toBe(liesFlat(report.verdict) ? 0 : 1);
  expectPanels(spec, parsePlan(text), plan);
  tally.graded++;
  if (report.verdict === 'flat') tally.flat++;
  else if (liesFlat(report.verdict)) tally.blocked++;
  const off = Math.abs(graded.sizeMm - 10 * sideCm) / (spec.stitchMm * finer);
  if (off <= 0.5) tally.near++;
  if (off <= 1) tally.within++;
}
