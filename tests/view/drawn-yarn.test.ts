import { describe, expect, it } from 'vitest';
import { buildCells } from '../../src/fabric/build-cells.ts';
import { buildStitchGraph } from '../../src/fabric/build-graph.ts';
import { courseCount } from '../../src/fabric/stitch-graph.ts';
import type { Plan } from '../../src/plan/plan.ts';
import { buildStitchPatches } from '../../src/view/fabric/stitch-quads.ts';
import { drawYarn } from '../../src/view/yarn/drawn-yarn.ts';
import { markedPoints } from '../../src/view/yarn/strands-in-view.ts';
import type { PlacedPatches } from '../../src/view/yarn/yarn-pen.ts';
import { planOf } from '../fabric/plan-maker.ts';

const WIDTH = 4;
const HEIGHT = 3;
const YARN = 1;

/** Loops laid out flat on a lattice, rounds upwards, right to left as worked. */
function flatPiece(plan: Plan): PlacedPatches {
  const graph = buildStitchGraph(plan);
  const cells = buildCells(graph);
  const patches = buildStitchPatches(graph, cells, new Int32Array(0));
  const places = new Float64Array(3 * cells.vertices);
  for (let loop = 0; loop < graph.loops; loop++) {
    const middle = courseCount(graph, graph.course[loop]) / 2;
    places[3 * loop] = -WIDTH * (graph.position[loop] - middle);
    places[3 * loop + 1] = HEIGHT * graph.course[loop];
  }
  const positions = new Float32Array(3 * patches.vertices);
  const normals = new Float32Array(3 * patches.vertices);
  for (let v = 0; v < patches.vertices; v++) {
    for (let t = patches.rowStart[v]; t < patches.rowStart[v + 1]; t++) {
      const from = 3 * (patches.loop[t] % patches.eased);
      for (let c = 0; c < 3; c++) positions[3 * v + c] += patches.weight[t] * places[from + c];
    }
    positions[3 * v + 2] += patches.lift[v] * WIDTH;
    normals[3 * v + 2] = 1;
  }
  return { graph, patches, positions, normals, yarnMm: YARN };
}

const gaps = ({ points, strand, centre }: ReturnType<typeof drawYarn>) =>
  Array.from({ length: points - 1 }, (_, i) =>
    strand[i] === strand[i + 1]
      ? Math.hypot(...[0, 1, 2].map((c) => centre[4 * i + 4 + c] - centre[4 * i + c]))
      : 0,
  );

describe('the yarn of stitches near by', () => {
  it('is one unbroken strand through plain rows, to and fro', () => {
    const piece = flatPiece(
      planOf(8, ['k8', 'p8', 'k8', 'p8'], { worked: 'flat', ending: 'live' }),
    );
    const drawn = drawYarn(piece, () => true);
    const body = drawn.strand.filter((_, i) => piece.graph.course[drawn.loop[i]] > 0);
    expect(new Set(body).size).toBe(1);
    // No piece is longer than the way to the next row, and the loops' own are short.
    const all = gaps(drawn);
    expect(Math.max(...all)).toBeLessThan(1.6 * WIDTH);
    expect(all.filter((gap) => gap > 0.6 * WIDTH).length).toBeLessThanOrEqual(4);
  });

  it('draws every loop, and only those that are wanted', () => {
    const piece = flatPiece(planOf(6, ['k6', 'k2tog k4'], { worked: 'flat', ending: 'bound-off' }));
    const all = drawYarn(piece, () => true);
    expect(new Set(all.loop).size).toBe(piece.graph.loops);
    const some = drawYarn(piece, (loop) => loop % 2 === 0);
    expect([...new Set(some.loop)].every((loop) => loop % 2 === 0)).toBe(true);
    expect(some.points).toBeLessThan(all.points);
  });

  it('keeps a bound-off edge within its chain, and leaves out the ground of cables where it is baked', () => {
    const piece = flatPiece(planOf(6, ['k6', 'p6'], { worked: 'flat', ending: 'bound-off' }));
    const { centre, points } = drawYarn(piece, () => true);
    const top = Math.max(...Array.from(piece.positions).filter((_, i) => i % 3 === 1));
    for (let i = 0; i < points; i++) expect(centre[4 * i + 1]).toBeLessThan(top + 0.2 * YARN);
    const cabled = flatPiece(
      planOf(8, ['k8', '2/2 LC k4', 'k8'], { worked: 'round', ending: 'live' }),
    );
    const whole = drawYarn(cabled, () => true);
    expect(drawYarn(cabled, () => true, false).points).toBeLessThan(whole.points);
  });

  it('leaves heads to the baked stitches that cover them', () => {
    const piece = flatPiece(planOf(6, ['k6', 'k6', 'k6'], { worked: 'round', ending: 'live' }));
    const upTo = (loop: number) => piece.graph.course[loop] <= 2;
    const topOf = ({ points, centre }: ReturnType<typeof drawYarn>) =>
      Math.max(...Array.from({ length: points }, (_, i) => centre[4 * i + 1]));
    const bare = topOf(drawYarn(piece, upTo, false));
    const covered = drawYarn(piece, upTo, false, (loop) => piece.graph.course[loop] === 2);
    // A head reaches into the stitch above by its yarn; legs end where that stitch begins.
    expect(topOf(covered)).toBeLessThan(bare - 0.5 * YARN);
    expect(new Set(covered.loop)).toEqual(new Set(drawYarn(piece, upTo, false).loop));
    // No bar lies where a head was.
    const within = gaps(covered).filter(
      (_, i) =>
        covered.loop[i] === covered.loop[i + 1] && piece.graph.course[covered.loop[i]] === 2,
    );
    expect(Math.max(...within)).toBeLessThan(0.6 * WIDTH);
  });

  it('brings ridges of garter towards the eye', () => {
    const piece = flatPiece(
      planOf(8, ['k8', 'k8', 'k8', 'k8', 'k8', 'k8'], { worked: 'flat', ending: 'live' }),
    );
    const drawn = drawYarn(piece, () => true);
    const heights = [...drawn.loop].flatMap((loop, i) =>
      piece.graph.course[loop] === 3 ? [drawn.centre[4 * i + 2]] : [],
    );
    expect(Math.max(...heights)).toBeGreaterThan(1.2 * YARN);
    expect(Math.min(...heights)).toBeLessThan(-1.2 * YARN);
  });

  it('lifts a cable’s front strand over the one behind', () => {
    const piece = flatPiece(
      planOf(8, ['k8', 'k8', '2/2 LC k4', 'k8', 'k8'], { worked: 'round', ending: 'live' }),
    );
    const { graph } = piece;
    const drawn = drawYarn(piece, () => true);
    const mean = (layer: number) => {
      const z = [...drawn.loop].flatMap((loop, i) =>
        graph.layer[loop] === layer ? [drawn.centre[4 * i + 2]] : [],
      );
      return z.reduce((sum, value) => sum + value, 0) / z.length;
    };
    // Most of a crossed loop lies above the crossing, where its strand is on its way back to the sheet (cable-strands.ts).
    expect(mean(1) - mean(-1)).toBeGreaterThan(0.3 * YARN);
  });

  it('lays loops under a crossing and beside it, behind the strands, and none where nothing crosses', () => {
    const plain = planOf(12, ['k12', 'k12', 'k12', 'k12'], { worked: 'round', ending: 'live' });
    expect(flatPiece(plain).patches.ground.every((patch) => patch < 0)).toBe(true);
    const piece = flatPiece(
      planOf(12, ['k12', 'k12', 'k4 2/2 LC k4', 'k12'], { worked: 'round', ending: 'live' }),
    );
    const { graph, patches } = piece;
    const drawn = drawYarn(piece, () => true);
    const withGround = [...patches.ground.keys()].filter((loop) => patches.ground[loop] >= 0);
    expect(withGround.length).toBeGreaterThanOrEqual(12);
    for (const loop of withGround) {
      const beside = graph.layer[loop] === 0;
      const z = [...drawn.loop].flatMap((of, i) => (of === loop ? [drawn.centre[4 * i + 2]] : []));
      // A loop's own yarn, and that of the ground behind it.
      expect(z.length).toBeGreaterThan(24);
      if (beside) expect(Math.min(...z)).toBeLessThan(-1.2 * YARN);
    }
    // A marked round ends where the next begins, not at what lies behind it.
    const [first, end] = markedPoints(drawn, graph.course, { from: 3, to: 3 });
    const marked = [...drawn.loop.subarray(first, end)].map((loop) => graph.course[loop]);
    expect(new Set(marked)).toEqual(new Set([3]));
    expect(new Set(drawn.loop.subarray(first, end)).size).toBe(12);
    expect(markedPoints(drawn, graph.course, null)).toEqual([-1, -1]);
  });
});
