import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { buildCells } from '../../src/fabric/build-cells.ts';
import { buildStitchGraph } from '../../src/fabric/build-graph.ts';
import { cellEdges } from '../../src/fabric/cell-edges.ts';
import type { Cells } from '../../src/fabric/cells.ts';
import type { StitchGraph } from '../../src/fabric/stitch-graph.ts';
import { runs } from '../runs.ts';
import {
  arbitraryPlan,
  arbitraryRounds,
  flatten,
  makePlan,
  mirrorPlan,
  type PlanOptions,
  planOf,
} from './plan-maker.ts';

function cellsOf(...args: Parameters<typeof planOf>): Cells {
  return buildCells(buildStitchGraph(planOf(...args)));
}

function list(cells: Cells): number[][] {
  return Array.from({ length: cells.cellStart.length - 1 }, (_, c) => [
    ...cells.corners.subarray(cells.cellStart[c], cells.cellStart[c + 1]),
  ]);
}

function surface(plan: Parameters<typeof buildStitchGraph>[0]) {
  const graph = buildStitchGraph(plan);
  const cells = buildCells(graph);
  return { graph, cells, edges: cellEdges(cells) };
}

const SHAPES: [string, PlanOptions, Cells['shape'], number][] = [
  ['a tube or square left open', { worked: 'round' }, 'annulus', 0],
  ['a square drawn up in its centre', { worked: 'round', ending: 'drawn-up' }, 'disc', 1],
  ['a twisted tube', { worked: 'round', halfTurns: 2 }, 'annulus', 0],
  ['a crossed join', { worked: 'round', method: 'crossed' }, 'annulus', 0],
  ['a swatch', { worked: 'flat' }, 'disc', 1],
  ['a gathered swatch', { worked: 'flat', ending: 'drawn-up' }, 'disc', 1],
  ['a Möbius band', { worked: 'round', halfTurns: 1 }, 'moebius', 0],
  ['a Möbius band the other way', { worked: 'round', halfTurns: -3 }, 'moebius', 0],
];

describe.each(SHAPES)('%s', (_, options, shape, euler) => {
  it(`is a surface of shape ${shape}, whatever the stitches`, () => {
    fc.assert(
      fc.property(arbitraryPlan(options), (plan) => {
        // Cast on so small and grown so fast that the beginning counts as drawn up: another test.
        const last = plan.rounds.at(-1)!.after;
        fc.pre(options.ending === 'drawn-up' || last < 2 * plan.castOn);
        const { graph, cells, edges } = surface(plan);
        expect(edges.crowded).toBe(0);
        expect(cells.shape).toBe(shape);
        expect(cells.euler).toBe(euler);
        expect(cells.orientable).toBe(shape !== 'moebius');
        expect(cells.boundaries).toBe(shape === 'annulus' ? 2 : 1);
        expect(cells.inSurface.every((v) => v === 1)).toBe(true);
        expect(cells.vertices).toBe(graph.loops + (options.ending === 'drawn-up' ? 1 : 0));
        for (const cell of list(cells)) {
          expect([3, 4]).toContain(cell.length);
          expect(new Set(cell).size).toBe(cell.length);
        }
      }),
      { seed: 11, numRuns: runs(80) },
    );
  });
});

describe('sewn into a ring', () => {
  const seamed = fc
    .tuple(arbitraryPlan({ worked: 'round', ending: 'drawn-up' }), fc.integer({ min: 0, max: 1 }))
    .map(([plan, right]) => flatten(plan, right, 1));

  it('is a disc once drawn up, without the loops lost in the seam', () => {
    fc.assert(
      fc.property(seamed, (plan) => {
        const { graph, cells, edges } = surface(plan);
        expect(edges.crowded).toBe(0);
        expect(cells.shape).toBe('disc');
        for (let i = 0; i < graph.loops; i++) {
          const last = graph.start[graph.course[i] + 1] - graph.start[graph.course[i]] - 1;
          const lost = graph.position[i] === last || graph.position[i] < (graph.seam?.right ?? 0);
          expect(cells.inSurface[i]).toBe(lost ? 0 : 1);
        }
      }),
      { seed: 12, numRuns: runs(60) },
    );
  });

  it('has the same cells as the round, but for the column where the courses meet', () => {
    fc.assert(
      fc.property(arbitraryPlan({ worked: 'round' }), (plan) => {
        const inRound = surface(plan);
        const flat = surface(flatten(plan, 1, 1));
        expect(courseCells(flat.graph, flat.cells, 1)).toEqual(
          courseCells(inRound.graph, inRound.cells, 0),
        );
      }),
      { seed: 13, numRuns: runs(60) },
    );
  });

  it('with a half turn is a Möbius band', () => {
    const plan = makePlan(6, Array(5).fill([0, 0, 0, 0, 0, 0]), {
      worked: 'flat',
      seam: { begin: 1, end: 0 },
      halfTurns: 1,
    });
    expect(surface(plan).cells.shape).toBe('moebius');
  });
});

/**
 * Cells within the courses as sorted lists of places, leaving out those that meet the first and the
 * last column, where a helix and a ring close differently.
 */
function courseCells(graph: StitchGraph, cells: Cells, seam: number, mirror = false): string[] {
  const out: string[] = [];
  for (const cell of list(cells)) {
    const places = cell.map((v) => {
      const c = graph.course[v];
      const n = graph.start[c + 1] - graph.start[c] - 2 * seam;
      const p = graph.position[v] - seam;
      return { c, p: mirror ? n - 1 - p : p, n };
    });
    const spread = (c: number) => {
      const row = places.filter((q) => q.c === c).map((q) => q.p);
      return Math.max(...row) - Math.min(...row);
    };
    const courses = new Set(places.map((q) => q.c));
    if (courses.size > 2) continue;
    if ([...courses].some((c) => spread(c) > 1)) continue;
    if (places.some((q) => q.p === 0 || q.p === q.n - 1)) continue;
    out.push(
      places
        .map((q) => `${q.c}:${q.p}`)
        .sort()
        .join(' '),
    );
  }
  return out.sort();
}

describe('triangulation', () => {
  it('favours no side: the mirrored plan has the mirrored cells', () => {
    for (const worked of ['round', 'flat'] as const) {
      fc.assert(
        fc.property(arbitraryPlan({ worked: 'round' }), (plan) => {
          const rounds = (p: typeof plan) => p.rounds.map((r) => [...r.works]);
          const image = mirrorPlan(plan);
          // Flat here: the same stitches as rows all worked from the right side.
          const lay = (p: typeof plan) => {
            const flat = makePlan(p.castOn, rounds(p), { worked }, p.kinds);
            return { ...flat, rounds: flat.rounds.map((r) => ({ ...r, wrongSide: false })) };
          };
          const a = surface(lay(plan));
          const b = surface(lay(image));
          const cells = courseCells(a.graph, a.cells, 0);
          expect(courseCells(b.graph, b.cells, 0, true)).toEqual(cells);
          if (worked === 'flat') expect(b.cells.cellStart.length).toBe(a.cells.cellStart.length);
        }),
        { seed: 17, numRuns: runs(60) },
      );
    }
  });

  it('makes a quad between plain stitches and a triangle in a decrease', () => {
    expect(list(cellsOf(3, ['k3'], { worked: 'flat' }))).toEqual([
      [2, 3, 4, 1],
      [1, 4, 5, 0],
    ]);
    expect(list(cellsOf(4, ['k k2tog k'], { worked: 'flat' }))).toEqual([
      [3, 4, 5, 2],
      [2, 5, 1],
      [1, 5, 6, 0],
    ]);
  });

  it('makes two triangles in a double decrease and one in an increase', () => {
    expect(list(cellsOf(3, ['s2kp'], { worked: 'flat' }))).toEqual([
      [2, 3, 1],
      [1, 3, 0],
    ]);
    expect(list(cellsOf(1, ['kfb'], { worked: 'flat' }))).toEqual([[0, 1, 2]]);
  });

  it('sets a yarn over on the edge between the parents of its neighbours', () => {
    expect(list(cellsOf(2, ['k yo k'], { worked: 'flat' }))).toEqual([
      [1, 2, 3],
      [1, 3, 0],
      [0, 3, 4],
    ]);
  });

  it('keeps the columns of a crossing side by side', () => {
    expect(list(cellsOf(4, ['2/2 LC'], { worked: 'flat' }))).toEqual(
      list(cellsOf(4, ['k4'], { worked: 'flat' })),
    );
  });

  it('runs counter-clockwise as seen from the right side', () => {
    // Laid out with later rounds above and positions to the left, every cell has positive area.
    fc.assert(
      fc.property(arbitraryPlan({ worked: 'flat' }), (plan) => {
        const { graph, cells } = surface(plan);
        const x = (v: number) => {
          const c = graph.course[v];
          return 1 - (graph.position[v] + 0.5) / (graph.start[c + 1] - graph.start[c]);
        };
        for (const cell of list(cells)) {
          let area = 0;
          cell.forEach((v, i) => {
            const w = cell[(i + 1) % cell.length];
            area += x(v) * graph.course[w] - x(w) * graph.course[v];
          });
          expect(area).toBeGreaterThan(0);
        }
      }),
      { seed: 19, numRuns: runs(60) },
    );
  });
});

describe('the helix', () => {
  it('shows its jog at the two rims only', () => {
    const { cells, edges } = surface(planOf(4, ['k4', 'k4']));
    const rim: string[] = [];
    for (let e = 0; e < edges.edges; e++) {
      if (edges.sides[2 * e + 1] < 0) rim.push(`${edges.ends[2 * e]}-${edges.ends[2 * e + 1]}`);
    }
    // Cast-on 0…3, first loop of round 1 (4), down its wale to 0; likewise 7, 8…11 at the top.
    expect(rim.sort()).toEqual(
      ['0-1', '1-2', '2-3', '3-4', '0-4', '7-8', '8-9', '9-10', '10-11', '7-11'].sort(),
    );
    expect(list(cells)).toContainEqual([3, 7, 8, 4]);
  });
});

it('an extra cast-on loop leaves the shape of the surface as it is, plain, drawn up or Möbius', () => {
  const cases: [PlanOptions, Cells['shape']][] = [
    [{}, 'annulus'],
    [{ ending: 'drawn-up' }, 'disc'],
    [{ halfTurns: 1 }, 'moebius'],
  ];
  for (const [options, shape] of cases) {
    fc.assert(
      fc.property(
        fc
          .integer({ min: 13, max: 20 })
          .chain((n) => fc.tuple(fc.constant(n), arbitraryRounds(n, 4))),
        ([castOn, rounds]) => {
          const method = { method: 'extra' as const };
          const { cells, edges } = surface(makePlan(castOn, rounds, { ...options, ...method }));
          expect(edges.crowded).toBe(0);
          expect(cells.shape).toBe(shape);
          // Only the extra loop itself is not part of it.
          expect([...cells.inSurface].flatMap((v, i) => (v ? [] : [i]))).toEqual([castOn]);
        },
      ),
      { seed: 29, numRuns: runs(60) },
    );
  }
});

describe('the centre', () => {
  it('is an apex fanned out to the last loops of a drawn-up ending', () => {
    const cells = cellsOf(8, ['k8', 'k2tog4'], { ending: 'drawn-up' });
    expect(cells.centre).toBe('ending');
    expect(cells.apex).toBe(20);
    expect(list(cells).filter((c) => c.includes(20)).length).toBe(5);
  });

  it('is an apex under the cast-on where a piece grows from a few loops', () => {
    const cells = cellsOf(4, ['kfb4', 'kfb8']);
    expect([cells.centre, cells.shape]).toEqual(['cast-on', 'disc']);
    // The same when it is worked flat and sewn up.
    const flat = cellsOf(5, ['k kfb4', 'kfb8 p'], { worked: 'flat', seam: { begin: 1, end: 0 } });
    expect([flat.centre, flat.shape]).toEqual(['cast-on', 'disc']);
  });

  it('stays open in a narrow tube and under a wide cast-on', () => {
    expect(cellsOf(8, ['k8', 'k8']).centre).toBe(null);
    expect(cellsOf(16, ['kfb16', 'k32']).centre).toBe(null);
    expect(cellsOf(16, ['kpk16', 'kpk48']).centre).toBe('cast-on');
  });

  it('closes of itself where the last round is a single loop', () => {
    const cells = cellsOf(6, ['k2tog3', 's2kp'], { ending: 'drawn-up' });
    expect([cells.shape, cells.apex]).toEqual(['disc', -1]);
  });
});

describe('odd pieces', () => {
  it('a buttonhole is a hole', () => {
    const cells = cellsOf(8, ['k8', 'k3 bo3 k2', 'k3 yo3 k2', 'k8'], { worked: 'flat' });
    expect([cells.euler, cells.boundaries, cells.orientable]).toEqual([0, 2, true]);
  });

  it('loops bound off at an edge leave a step, not a cell', () => {
    const cells = cellsOf(6, ['bo2 k4', 'k4'], { worked: 'flat' });
    expect(cells.shape).toBe('disc');
    expect(list(cells).length).toBe(6);
  });

  it('few loops or none make no surface and no crash', () => {
    for (const worked of ['round', 'flat'] as const) {
      for (const ending of ['drawn-up', 'live'] as const) {
        const options = { worked, ending };
        for (const rounds of [[], ['k'], ['k', 'k', 'k'], ['kfb', 'k2tog'], ['bo']]) {
          const { cells, edges } = surface(planOf(1, rounds, options));
          expect(cells.euler).toBeTypeOf('number');
          expect(edges.crowded).toBe(0);
        }
        const two = surface(planOf(2, ['k2', 'k2', 'k2'], options));
        expect(two.edges.crowded).toBe(0);
      }
    }
    expect(buildCells(buildStitchGraph(makePlan(0, []))).shape).toBe('other');
  });

  it('narrow rings never put three cells on an edge', () => {
    for (const options of [
      { worked: 'round' },
      { worked: 'round', ending: 'drawn-up' },
      { worked: 'flat', seam: { begin: 1, end: 0 }, ending: 'drawn-up' },
      { worked: 'flat', seam: { begin: 1, end: 1 } },
    ] as const) {
      fc.assert(
        fc.property(arbitraryPlan(options, 2), (plan) => {
          expect(surface(plan).edges.crowded).toBe(0);
        }),
        { seed: 23, numRuns: runs(100) },
      );
    }
  });
});

it('builds graph and cells of 100,000 loops', () => {
  const { cells } = surface(
    makePlan(
      400,
      Array.from({ length: 250 }, () => Array(400).fill(0)),
    ),
  );
  expect(cells.shape).toBe('annulus');
});
