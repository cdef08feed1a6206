import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { buildStitchGraph } from '../../src/fabric/build-graph.ts';
import {
  FLAG_SEAM,
  FLAG_SLIPPED,
  loopAt,
  type StitchGraph,
} from '../../src/fabric/stitch-graph.ts';
import type { Plan } from '../../src/plan/plan.ts';
import { runs } from '../runs.ts';
import { arbitraryPlan, flatten, makePlan, mirrorPlan, planOf } from './plan-maker.ts';

const SETUPS = {
  'in the round': { worked: 'round' },
  flat: { worked: 'flat' },
  'flat, first row from the wrong side': { worked: 'flat', firstWrong: true },
  seamed: { worked: 'flat', seam: { begin: 1, end: 1 } },
  'Möbius band': { worked: 'round', halfTurns: 1 },
  'crossed join': { worked: 'round', method: 'crossed' },
} as const;

const parentsOf = (g: StitchGraph, loop: number) => [
  ...g.parents.subarray(g.parentStart[loop], g.parentStart[loop + 1]),
];
const childrenOf = (g: StitchGraph, loop: number) => [
  ...g.children.subarray(g.childStart[loop], g.childStart[loop + 1]),
];

/** Everything about a loop that does not depend on loop numbers, keyed by course and position. */
function portrait(g: StitchGraph, mirror = false, drop = { right: 0, left: 0 }) {
  const place = (loop: number) => {
    const c = g.course[loop];
    const n = g.start[c + 1] - g.start[c] - drop.right - drop.left;
    const p = g.position[loop] - drop.right;
    return `${c}:${mirror ? n - 1 - p : p}`;
  };
  const seen: Record<string, unknown> = {};
  for (let i = 0; i < g.loops; i++) {
    if (g.flags[i] & FLAG_SEAM) continue;
    seen[place(i)] = {
      parents: parentsOf(g, i).map(place),
      children: childrenOf(g, i).map(place).sort(),
      face: g.face[i],
      layer: g.layer[i],
      flags: g.flags[i],
    };
  }
  return seen;
}

describe.each(Object.entries(SETUPS))('the graph of a plan worked %s', (_, options) => {
  const plans = arbitraryPlan(options);
  const check = (test: (plan: Plan, graph: StitchGraph) => void) =>
    fc.assert(
      fc.property(plans, (plan) => test(plan, buildStitchGraph(plan))),
      { seed: 7, numRuns: runs(60) },
    );

  it('takes every loop off the needle once or leaves it live', () => {
    check((_, g) => {
      const times = new Int32Array(g.loops);
      for (const loop of g.consumed) times[loop]++;
      for (let i = 0; i < g.loops; i++) {
        expect(times[i]).toBe(i < g.start[g.courses - 1] ? 1 : 0);
        expect(childrenOf(g, i).length > 0).toBe(times[i] === 1);
      }
    });
  });

  it('has as many loops in every course as the plan states', () => {
    check((plan, g) => {
      expect(g.courses).toBe(plan.rounds.length + 1);
      expect(g.start[1]).toBe(plan.castOn);
      plan.rounds.forEach((r, i) => {
        expect(g.start[i + 2] - g.start[i + 1]).toBe(r.after);
        expect(g.stitchStart[i + 2] - g.stitchStart[i + 1]).toBe(r.works.length);
      });
      expect(g.start[g.courses]).toBe(g.loops);
    });
  });

  it('is one yarn: stitches and courses follow one another without gap', () => {
    check((_, g) => {
      for (let i = 1; i < g.loops; i++) {
        expect([0, 1]).toContain(g.course[i] - g.course[i - 1]);
        expect([0, 1]).toContain(g.stitch[i] - g.stitch[i - 1]);
      }
      for (let s = 0; s < g.stitches; s++) {
        for (let i = g.madeStart[s]; i < g.madeStart[s + 1]; i++) expect(g.stitch[i]).toBe(s);
      }
    });
  });

  it('hangs loops on the course below, children mirroring parents', () => {
    check((_, g) => {
      for (let i = 0; i < g.loops; i++) {
        for (const p of parentsOf(g, i)) {
          expect(g.course[p]).toBe(g.course[i] - 1);
          expect(childrenOf(g, p)).toContain(i);
        }
        const places = childrenOf(g, i).map((c) => g.position[c]);
        expect(places).toEqual(places.toSorted((a, b) => a - b));
      }
      expect(g.children.length).toBe(g.parents.length);
    });
  });

  it('finds every loop at its place', () => {
    check((_, g) => {
      for (let i = 0; i < g.loops; i++) expect(loopAt(g, g.course[i], g.position[i])).toBe(i);
    });
  });
});

describe('seen from the right side', () => {
  it('a knit from the wrong side is a purl, worked from left to right', () => {
    const g = buildStitchGraph(planOf(3, ['k3', 'k p k'], { worked: 'flat' }));
    expect([...g.wrongSide]).toEqual([1, 0, 1]);
    expect([0, 1, 2].map((p) => g.face[loopAt(g, 2, p)])).toEqual([-1, 1, -1]);
    expect(g.position[6]).toBe(2);
    expect(parentsOf(g, 6)).toEqual([5]);
  });

  it('the loop cast on last is worked first in a row, last in a round', () => {
    const flat = buildStitchGraph(planOf(3, ['k3'], { worked: 'flat' }));
    expect(parentsOf(flat, 3)).toEqual([2]);
    const round = buildStitchGraph(planOf(3, ['k3']));
    expect(parentsOf(round, 3)).toEqual([0]);
  });

  it('k2tog has its left loop in front, ssk its right loop', () => {
    const g = buildStitchGraph(planOf(6, ['k k2tog ssk k']));
    expect(parentsOf(g, 7)).toEqual([2, 1]);
    expect(parentsOf(g, 8)).toEqual([3, 4]);
  });

  it('a decrease worked from the wrong side shows its back loop in front', () => {
    // Seen from behind, k2tog leans right with loop 1 in front; from the RS loop 0 is in front.
    const g = buildStitchGraph(planOf(2, ['k2tog'], { worked: 'flat', firstWrong: true }));
    expect(parentsOf(g, 2).map((p) => g.position[p])).toEqual([1, 0]);
  });

  it('a left cross carries its first loops over to the left, in front', () => {
    const g = buildStitchGraph(planOf(4, ['2/2 LC']));
    expect([4, 5, 6, 7].map((i) => parentsOf(g, i)[0])).toEqual([2, 3, 0, 1]);
    expect([...g.layer.subarray(4)]).toEqual([-1, -1, 1, 1]);
    const r = buildStitchGraph(planOf(4, ['2/2 RC']));
    expect([...r.layer.subarray(4)]).toEqual([1, 1, -1, -1]);
    expect(r.crossings).toBe(1);
    expect([...r.crossing]).toEqual([-1, -1, -1, -1, 0, 0, 0, 0]);
  });

  it('a crossing keeps its hand when the fabric is turned', () => {
    // Worked from either side a left cross is the same helix: in front it leans to the left.
    const g = buildStitchGraph(planOf(4, ['2/2 LC'], { worked: 'flat', firstWrong: true }));
    for (let i = 4; i < 8; i++) {
      const move = g.position[i] - g.position[parentsOf(g, i)[0]];
      expect(Math.sign(move)).toBe(g.layer[i]);
    }
  });

  it('a slipped loop stands on the loop that it is', () => {
    const g = buildStitchGraph(planOf(3, ['k sl k']));
    expect(parentsOf(g, 4)).toEqual([1]);
    expect(g.flags[4]).toBe(FLAG_SLIPPED);
  });
});

describe('joins', () => {
  it('crossed: the first and the last cast-on loop change places under round 1', () => {
    const g = buildStitchGraph(planOf(5, ['k5', 'k5'], { method: 'crossed' }));
    expect([5, 6, 7, 8, 9].map((i) => parentsOf(g, i)[0])).toEqual([4, 1, 2, 3, 0]);
    expect(parentsOf(g, 10)).toEqual([5]);
  });

  it('extra: one more loop is cast on and hangs behind the first stitch of round 1', () => {
    const g = buildStitchGraph(planOf(4, ['k4', 'k4'], { method: 'extra' }));
    expect([...g.start]).toEqual([0, 5, 9, 13]);
    expect(parentsOf(g, 5)).toEqual([0, 4]);
    expect([...g.consumed.subarray(0, 3)]).toEqual([4, 0, 1]);
    expect(childrenOf(g, 4)).toEqual([5]);
    expect([...g.flags].map((f) => f & FLAG_SEAM).indexOf(FLAG_SEAM)).toBe(4);
  });
});

it('a round that does not fit the needle is refused with both counts', () => {
  expect(() => buildStitchGraph(makePlan(4, [[0, 0, 0]]))).toThrow(/works 3 loops but 4/);
});

it('loops bound off within a row have no children and are not live', () => {
  const g = buildStitchGraph(planOf(6, ['k2 bo2 k2', 'k4'], { worked: 'flat' }));
  expect(g.loops).toBe(14);
  expect(g.consumed.length).toBe(10);
});

it('a round is shared out evenly over four needles, a row lies on one', () => {
  const g = buildStitchGraph(planOf(8, ['k8']));
  expect([...g.needle.subarray(8)]).toEqual([0, 0, 1, 1, 2, 2, 3, 3]);
  expect(new Set(buildStitchGraph(planOf(8, ['k8'], { worked: 'flat' })).needle)).toEqual(
    new Set([0]),
  );
});

it('the mirrored plan gives the mirrored graph', () => {
  fc.assert(
    fc.property(arbitraryPlan({ worked: 'round' }), (plan) => {
      expect(portrait(buildStitchGraph(mirrorPlan(plan)), true)).toEqual(
        portrait(buildStitchGraph(plan)),
      );
    }),
    { seed: 3, numRuns: runs(60) },
  );
});

it('worked flat with seam stitches gives the same loops as worked in the round', () => {
  fc.assert(
    fc.property(
      arbitraryPlan({ worked: 'round' }),
      fc.integer({ min: 0, max: 2 }),
      fc.integer({ min: 1, max: 2 }),
      (plan, right, left) => {
        const flat = buildStitchGraph(flatten(plan, right, left));
        expect(flat.seam).toEqual({ right, left });
        expect(portrait(flat, false, { right, left })).toEqual(portrait(buildStitchGraph(plan)));
      },
    ),
    { seed: 5, numRuns: runs(60) },
  );
});
