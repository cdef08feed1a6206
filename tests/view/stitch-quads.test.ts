import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { buildCells } from '../../src/fabric/build-cells.ts';
import { buildStitchGraph } from '../../src/fabric/build-graph.ts';
import type { Plan } from '../../src/plan/plan.ts';
import type { StitchPatches } from '../../src/view/fabric/stitch-patches.ts';
import { PATCH_BEHIND, PATCH_GATHERED } from '../../src/view/fabric/stitch-patches.ts';
import { buildStitchPatches } from '../../src/view/fabric/stitch-quads.ts';
import { arbitraryPlan, planOf } from '../fabric/plan-maker.ts';

/** Triangles of the cells as fans; enough for what lies behind the stitches. */
function draw(plan: Plan): { patches: StitchPatches; loops: number; courses: number } {
  const graph = buildStitchGraph(plan);
  const cells = buildCells(graph);
  const fans: number[] = [];
  for (let c = 0; c + 1 < cells.cellStart.length; c++) {
    for (let k = cells.cellStart[c] + 1; k + 1 < cells.cellStart[c + 1]; k++) {
      fans.push(cells.corners[cells.cellStart[c]], cells.corners[k], cells.corners[k + 1]);
    }
  }
  const patches = buildStitchPatches(graph, cells, Int32Array.from(fans));
  return { patches, loops: graph.loops, courses: graph.courses };
}

const SETUPS = [
  { worked: 'round', ending: 'drawn-up' },
  { worked: 'round', ending: 'live' },
  { worked: 'flat' },
] as const;

describe('stitch patches', () => {
  it('move with the fabric: every draw vertex is a mean of loops, its weights sum to 1', () => {
    for (const setup of SETUPS) {
      fc.assert(
        fc.property(arbitraryPlan(setup), (plan) => {
          const { patches } = draw(plan);
          const wrong: number[] = [];
          for (let v = 0; v < patches.vertices; v++) {
            let sum = 0;
            for (let t = patches.rowStart[v]; t < patches.rowStart[v + 1]; t++) {
              sum += patches.loop[t] < 2 * patches.eased ? patches.weight[t] : Number.NaN;
            }
            if (!(Math.abs(sum - 1) < 1e-5)) wrong.push(v);
          }
          expect(wrong).toEqual([]);
        }),
        { seed: 11, numRuns: 40 },
      );
    }
  });

  it('lay the bare sheet on under the bands of both edges, half of the way to their rims', () => {
    const plan = planOf(8, ['k8', 'k8'], { worked: 'round', ending: 'bound-off' });
    const { patches } = draw(plan);
    const beyond = new Set<number>();
    for (let v = 0; v < patches.vertices; v++) {
      const weights = patches.weight.subarray(patches.rowStart[v], patches.rowStart[v + 1]);
      // Beyond the loops a place is reached by taking from those within.
      const reaches = weights.some((weight) => weight < 0);
      if (patches.kind[v] === PATCH_BEHIND && reaches) beyond.add(patches.owner[v]);
    }
    expect(beyond.size).toBe(16);
  });

  it('draw every loop of a plain tube once, and only loops that are there yet', () => {
    const { patches, loops, courses } = draw(planOf(8, ['k8', 'p8', 'k8'], { worked: 'round' }));
    const drawn = new Set<number>();
    let previous = 0;
    for (let c = 0; c < courses; c++) {
      for (let k = previous; k < patches.indexEnd[c]; k++) {
        const v = patches.indices[k];
        expect(patches.course[v]).toBeLessThanOrEqual(c);
        if (patches.kind[v] >= PATCH_BEHIND) continue;
        expect(patches.course[v]).toBe(c);
        drawn.add(patches.owner[v]);
      }
      previous = patches.indexEnd[c];
    }
    expect(drawn.size).toBe(loops);
    expect(previous).toBe(patches.indices.length);
  });

  it('lift the strand in front of a crossing above the one behind', () => {
    const { patches } = draw(
      planOf(8, ['k8', 'k8', '2/2 LC k4', 'k8', 'k8'], { worked: 'round', ending: 'live' }),
    );
    const { strands } = patches;
    const lifts = [...strands.lift].filter((_, loop) => strands.inStrand[loop]);
    // By half a yarn and more, as at rest (settled-cables.ts); a stitch is four and a half yarns wide.
    expect(Math.max(...lifts)).toBeGreaterThan(0.5 / 4.5);
    expect(Math.min(...lifts)).toBeLessThan(-0.5 / 4.5);
    // Two wales of two strands, and nothing of the plain stitches.
    expect(strands.pathStart.length - 1).toBe(4);
  });

  it('gather the cast-on of centre-out work, and the last round of outside-in work', () => {
    const gatheredCourses = (plan: Plan) => {
      const { patches } = draw(plan);
      const found = new Set<number>();
      for (let v = 0; v < patches.vertices; v++) {
        if (patches.kind[v] === PATCH_GATHERED) found.add(patches.course[v]);
      }
      return [...found];
    };
    const out = ['kfb kfb kfb kfb', 'k8', 'kfb k1 kfb k1 kfb k1 kfb k1', 'k12'];
    expect(gatheredCourses(planOf(4, out, { worked: 'round', ending: 'bound-off' }))).toEqual([0]);
    const inwards = ['k2tog k1 k2tog k1 k2tog k1 k2tog k1', 'k8', 'k2tog k2tog k2tog k2tog'];
    expect(gatheredCourses(planOf(12, inwards, { worked: 'round', ending: 'drawn-up' }))).toEqual([
      3,
    ]);
  });

  it('draw a decrease from each of its parents, the front one last', () => {
    const { patches } = draw(planOf(6, ['k6', 'k2tog k4'], { worked: 'flat', ending: 'live' }));
    const legs = [...patches.owner].filter(
      (owner, v) => owner === 12 && patches.kind[v] < PATCH_BEHIND,
    );
    // Two parents, three rows of two vertices each.
    expect(legs.length).toBe(12);
  });

  it('opens a hole under a yarn over, with nothing behind it, and none under a lifted strand', () => {
    const patchesOf = (increase: string) =>
      draw(planOf(6, ['k6', `k3 ${increase} k3`, 'k7'], { worked: 'flat', ending: 'live' }))
        .patches;
    const eyelet = patchesOf('yo');
    const lifted = patchesOf('m1');
    // Both hang between the third and the fourth loop of the first row: 8 and 9. Where they part, in stitches: 0 is 8, 1 is 9.
    const parts = ({ owner, kind, rowStart, loop, weight }: StitchPatches, over: number) =>
      [...owner.keys()]
        .filter((v) => owner[v] === over && kind[v] !== PATCH_BEHIND)
        .slice(0, 2)
        .map((v) => {
          const terms = [...loop.subarray(rowStart[v], rowStart[v + 1])];
          return weight[rowStart[v] + terms.indexOf(9)];
        });
    const [from, to] = parts(eyelet, 15);
    expect(to - from).toBeGreaterThan(0.6);
    expect(parts(lifted, 15)).toEqual([0.5, 0.5]);
    const behind = ({ kind }: StitchPatches) => kind.filter((of) => of === PATCH_BEHIND).length;
    expect(behind(eyelet)).toBeLessThan(behind(lifted));
  });

  it('runs the chain on round a corner that is one stitch wide', () => {
    const rounds = ['k4', 'yo k1 yo k1 yo k1 yo k1', 'k8'];
    const plan = planOf(4, rounds, { worked: 'round', ending: 'bound-off' });
    const { patches } = draw(plan);
    const corner = patches.band[16 + 1];
    const { rowStart, loop, weight } = patches;
    // Every loop here has one of its own above it: half of both neighbours and what reaches outward, and what runs on.
    let own = 0;
    for (let term = rowStart[corner + 2]; term < rowStart[corner + 3]; term++) {
      if (loop[term] === 17) own += weight[term];
    }
    expect(own).toBeGreaterThan(0.5 + 0.6 / 2 + 0.3);
  });
});
