/** A patch of the piece, held to its sheet: at rest, measured on its own yarn, and drawn in by its cables. */
import { describe, expect, it, vi } from 'vitest';
import { MOST_PATCH_STITCHES, patchOverStarts, relaxHeldPatch } from '../../src/cell/yarn-patch.ts';
import { patchLoops } from '../../src/fabric/region-loops.ts';
import { prepare, relax } from '../../src/knit.ts';
import { parsePlan } from '../../src/plan/parse.ts';
import { uncrossPlan } from '../../src/plan/stitches/without-crossings.ts';
import { whole } from '../runs.ts';

// Each relaxation takes a second or so, more on a busy machine.
vi.setConfig({ testTimeout: 60_000, hookTimeout: 60_000 });

const CABLE = parsePlan(`Worked: in the round
Gauge: 22 sts and 30 rounds = 10 cm
Cast on 24 sts.
Rounds 1-3: *p1, k4, p1; rep from * to end.
Round 4: *p1, 2/2 LC, p1; rep from * to end.
Rounds 5-7: *p1, k4, p1; rep from * to end.
Round 8: *p1, 2/2 LC, p1; rep from * to end.
Round 9: *p1, k2tog, ssk, p1; rep from * to end. (16 sts)
`);

const ROUNDS = { from: 3, to: 8 };
const STITCHES = { from: 1, to: 6 };

function patchOf(plan: typeof CABLE, stitches = STITCHES) {
  const { graph, cells, sheet } = relax(prepare(plan));
  const courses = patchLoops(graph, ROUNDS, stitches);
  return { graph, courses, held: relaxHeldPatch(graph, cells, sheet.positions, courses) };
}

describe('a plan with its cables worked straight', () => {
  it('has no crossing, and every loop hangs on the one below it', () => {
    const { graph } = prepare(uncrossPlan(CABLE));
    expect(prepare(CABLE).graph.crossings).toBe(8);
    expect(graph.crossings).toBe(0);
    for (let i = graph.start[4]; i < graph.start[5]; i++) {
      expect(graph.position[graph.parents[graph.parentStart[i]]]).toBe(graph.position[i]);
    }
  });
});

describe('the loops of a patch', () => {
  it('follow their columns up, through crossings and decreases', () => {
    const { graph } = prepare(CABLE);
    const courses = patchLoops(graph, { from: 7, to: 9 }, { from: 7, to: 12 });
    expect(courses.map((course) => course.length)).toEqual([6, 6, 4]);
    expect(courses[1].map((loop) => graph.position[loop])).toEqual([6, 7, 8, 9, 10, 11]);
    expect(courses[2].map((loop) => graph.position[loop])).toEqual([4, 5, 6, 7]);
  });
});

describe('a patch held to its sheet', () => {
  const crossed = patchOf(CABLE);
  const straight = patchOf(uncrossPlan(CABLE));

  it('comes to rest, its yarn pressed by less than a sixth of its thickness', () => {
    for (const { held } of [crossed, straight]) {
      expect(held.relaxation.converged).toBe(true);
      expect(held.linksWrong).toBe(0);
      expect(held.minCentreDistanceMm).toBeGreaterThan((5 / 6) * held.yarnMm);
      expect(held.minCentreDistanceMm).toBeLessThanOrEqual(1.0001 * held.yarnMm);
    }
  });

  it('is as wide as its stitches where nothing crosses, and drawn in where cables do', () => {
    // 22 stitches in 10 cm.
    expect(straight.held.widthMm).toBeCloseTo((6 * 100) / 22, -1);
    const pull = 1 - crossed.held.widthMm / straight.held.widthMm;
    expect(pull).toBeGreaterThan(0.05);
    expect(pull).toBeLessThan(0.35);
    for (const width of crossed.held.courseWidthsMm) {
      expect(width).toBeLessThan(straight.held.courseWidthsMm[0]);
    }
  });

  it('has its largest gap in the patch, wider than the usual one', () => {
    const { gaps } = crossed.held;
    expect(crossed.courses.flat()).toContain(gaps.largestLoop);
    expect(gaps.largestMm).toBeGreaterThan(gaps.usualMm);
    expect(gaps.usualMm).toBeGreaterThan(0.2);
    expect(gaps.largestMm).toBeLessThan(5);
  });

  it.runIf(whole)('is measured the same from three starts', () => {
    const { graph, cells, sheet } = relax(prepare(CABLE));
    const courses = patchLoops(graph, ROUNDS, STITCHES);
    const held = patchOverStarts(graph, cells, sheet.positions, courses, 3);
    expect(held.starts).toBe(3);
    expect(held.spreadMm.largestGap).toBeGreaterThan(0);
    expect(held.spreadMm.largestGap).toBeLessThan(0.02 * held.gaps.largestMm);
    expect(held.spreadMm.width).toBeLessThan(0.001 * held.widthMm);
  });

  it('is measured the same whichever repeat of a tube it is cut from', () => {
    const { held } = patchOf(CABLE, { from: 13, to: 18 });
    expect(held.widthMm / crossed.held.widthMm).toBeCloseTo(1, 1);
  });

  it('of too many stitches, or none, is refused with the limit', () => {
    const { graph, cells } = prepare(CABLE);
    const many = [new Array<number>(MOST_PATCH_STITCHES + 1).fill(0)];
    expect(() => relaxHeldPatch(graph, cells, [], many)).toThrow(/1500 stitches at most/);
    expect(() => relaxHeldPatch(graph, cells, [], [])).toThrow(/no stitch/);
  });
});
