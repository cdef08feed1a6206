/** Short rows as courses: loops are the stitches worked, what waits hangs on, and all that tells of them agrees. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { buildCells } from '../../src/fabric/build-cells.ts';
import { buildStitchGraph } from '../../src/fabric/build-graph.ts';
import { courseCount, loopAt, type StitchGraph } from '../../src/fabric/stitch-graph.ts';
import { layOutChart } from '../../src/paper/chart/chart-layout.ts';
import { writePattern } from '../../src/paper/pattern/written.ts';
import { yarnUse } from '../../src/paper/pattern/yarn-use.ts';
import { parsePlan } from '../../src/plan/parse.ts';
import { hasErrors, madeBy, type Plan } from '../../src/plan/plan.ts';
import { isUnworked } from '../../src/plan/stitches/stitch-kind.ts';
import { writePlan } from '../plan/write-plan.ts';
import { runs } from '../runs.ts';
import { flatWithShortRows, roundWithShortRows, wildShortRows } from './short-row-plans.ts';
import { expectMeasured } from './short-row-rule.ts';

const anyPlan = fc.oneof(flatWithShortRows, roundWithShortRows);
const SEED = { seed: 20, numRuns: runs(200) };

/** Stitches that the text asks for, counted from the instructions alone. */
function workedIn({ rounds, kinds }: Plan): number {
  return rounds.reduce(
    (sum, round) => sum + round.works.filter((id) => !isUnworked(kinds[id])).length,
    0,
  );
}

function consumers(graph: StitchGraph): Int32Array {
  const times = new Int32Array(graph.loops);
  for (const loop of graph.consumed) times[loop]++;
  return times;
}

describe('short rows in the stitch graph', () => {
  it('have as many loops as stitches are worked', () => {
    fc.assert(
      fc.property(anyPlan, (text) => {
        const plan = parsePlan(text);
        expect(hasErrors(plan)).toBe(false);
        const graph = buildStitchGraph(plan);
        expect(graph.loops).toBe(plan.castOn + workedIn(plan));
      }),
      SEED,
    );
  });

  it('take every loop once or leave it on the needle', () => {
    fc.assert(
      fc.property(anyPlan, (text) => {
        const graph = buildStitchGraph(parsePlan(text));
        const times = consumers(graph);
        const last = graph.courses - 1;
        for (let p = 0; p < courseCount(graph, last); p++) times[loopAt(graph, last, p)]++;
        expect(times.every((n) => n === 1)).toBe(true);
      }),
      SEED,
    );
  });

  it('stand each on the loop below it, on the same place of the needle', () => {
    fc.assert(
      fc.property(flatWithShortRows, (text) => {
        const graph = buildStitchGraph(parsePlan(text));
        for (let loop = graph.start[1]; loop < graph.loops; loop++) {
          const parent = graph.parents[graph.parentStart[loop]];
          expect(graph.position[parent]).toBe(graph.position[loop]);
          expect(graph.course[parent]).toBeLessThan(graph.course[loop]);
        }
      }),
      SEED,
    );
  });

  it('make one sheet: a disc flat, a ring in the round', () => {
    fc.assert(
      fc.property(anyPlan, (text) => {
        const plan = parsePlan(text);
        const cells = buildCells(buildStitchGraph(plan));
        expect(cells.shape).toBe(plan.worked === 'flat' ? 'disc' : 'annulus');
        expect(cells.inSurface.every((inside) => inside === 1)).toBe(true);
      }),
      SEED,
    );
  });
});

describe('short rows in any order', () => {
  it('make one sheet whose every length is known', () => {
    fc.assert(fc.property(wildShortRows, expectMeasured), { seed: 22, numRuns: runs(100) });
  });
});

describe('what is told of short rows', () => {
  it('reads back to the same stitches from the plan and from the pattern written', () => {
    fc.assert(
      fc.property(anyPlan, (text) => {
        const plan = parsePlan(text);
        for (const again of [writePlan(plan), writePattern(plan).text]) {
          const read = parsePlan(again);
          expect(hasErrors(read)).toBe(false);
          expect(namesOf(read)).toEqual(namesOf(plan));
        }
      }),
      { seed: 21, numRuns: runs(150) },
    );
  });

  it('shows a square for every stitch worked and none for one that waits', () => {
    fc.assert(
      fc.property(anyPlan, (text) => {
        const plan = parsePlan(text);
        const { rows } = layOutChart(plan, 'whole');
        rows.forEach((row, i) => {
          expect(row.symbols.length).toBe(madeBy(plan, plan.rounds[i]));
          expect(row.stitches.reduce((a, b) => a + b, 0)).toBe(row.symbols.length);
        });
      }),
      SEED,
    );
  });

  it('counts yarn for the stitches worked', () => {
    fc.assert(
      fc.property(anyPlan, (text) => {
        const plan = parsePlan(text);
        expect(yarnUse(plan, { stitchMm: 5, tex: 200 }).stitches).toBe(workedIn(plan));
      }),
      SEED,
    );
  });
});

function namesOf({ rounds, kinds }: Plan): string[] {
  return rounds.map((round) => Array.from(round.works, (id) => kinds[id].name).join(' '));
}
