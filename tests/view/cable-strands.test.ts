import { describe, expect, it } from 'vitest';
import { buildStitchGraph } from '../../src/fabric/build-graph.ts';
import { courseCount } from '../../src/fabric/stitch-graph.ts';
import { findCableStrands, withEasedStrands } from '../../src/view/fabric/cable-strands.ts';
import { SETTLED_CABLES } from '../../src/view/fabric/settled-cables.ts';
import { SETTLED_LOOPS } from '../../src/view/yarn/settled-loops.ts';
import { planOf } from '../fabric/plan-maker.ts';

describe('strands of cables at rest', () => {
  it('travel from their column to the other, half of the way about the crossing, the front one over the other', () => {
    for (const { over, under } of SETTLED_CABLES) {
      for (const { travel, height } of [over, under]) {
        expect(travel.length).toBe(height.length);
        expect(Math.abs(travel[0])).toBeLessThan(0.1);
        expect(Math.abs(travel[travel.length - 1] - 1)).toBeLessThan(0.1);
        for (let k = 1; k < travel.length; k++) {
          expect(travel[k]).toBeGreaterThan(travel[k - 1] - 0.08);
        }
        expect(travel[2]).toBeLessThan(0.75);
        expect(travel[3]).toBeGreaterThan(0.5);
      }
      // Two yarns that cross press on each other: a diameter apart, shared by the loops before and after.
      const apart = [2, 3].map((k) => over.height[k] - under.height[k]);
      expect((apart[0] + apart[1]) / 2).toBeGreaterThan(0.7);
    }
  });

  it('lie so on the sheet: loops near the crossing on their way, the others in their columns', () => {
    const rows = ['k12', 'k12', 'k12', 'k12', 'k4 2/2 LC k4', 'k12', 'k12', 'k12', 'k12'];
    const graph = buildStitchGraph(planOf(12, rows, { worked: 'flat', ending: 'live' }));
    const places = new Float64Array(3 * graph.loops);
    for (let loop = 0; loop < graph.loops; loop++) {
      const middle = courseCount(graph, graph.course[loop]) / 2;
      places[3 * loop] = -4 * (graph.position[loop] - middle);
      places[3 * loop + 1] = 3 * graph.course[loop];
    }
    const strands = findCableStrands(graph);
    const eased = withEasedStrands(strands, places).subarray(3 * graph.loops);
    const { over } = SETTLED_CABLES[0];
    let moved = 0;
    for (let loop = 0; loop < graph.loops; loop++) {
      const way = eased[3 * loop] - places[3 * loop];
      expect(Math.abs(way)).toBeLessThan(8);
      // Up the piece nothing moves: crossings are one round.
      expect(eased[3 * loop + 1]).toBeCloseTo(places[3 * loop + 1], 9);
      if (!strands.inStrand[loop]) expect(way).toBe(0);
      else if (Math.abs(way) > 0.5) moved++;
    }
    expect(moved).toBeGreaterThanOrEqual(8);
    const front = [...graph.layer.keys()].filter((loop) => graph.layer[loop] > 0);
    for (const loop of front) {
      expect(Math.abs(eased[3 * loop] - places[3 * loop])).toBeCloseTo(8 * (1 - over.travel[3]), 4);
      expect(strands.lift[loop]).toBeCloseTo(over.height[3] / SETTLED_LOOPS.plain.width, 4);
    }
  });
});
