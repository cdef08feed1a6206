import { describe, expect, it } from 'vitest';
import { prepare } from '../../src/knit.ts';
import { parsePlan } from '../../src/plan/parse.ts';
import { createFabricGeometry, placeFabric } from '../../src/view/fabric/fabric-geometry.ts';

const CABLED = `Gauge: 20 sts and 28 rows = 10 cm
Worked: flat
Cast on 12 sts.
Row 1 (RS): k2, p2, k4, p2, k2.
Row 2: p2, k2, p4, k2, p2.
Row 3: k2, p2, 2/2 LC, p2, k2.
Row 4: p2, k2, p4, k2, p2.
Row 5: ssk, p2, k4, p2, k2tog.
Row 6: p1, k2, p4, k2, p1.
Bind off all sts.
`;

describe('the shade of stitches', () => {
  it('falls on the side that lies behind, and never on both', () => {
    const { graph, cells, measured } = prepare(parsePlan(CABLED));
    const fabric = createFabricGeometry({ graph, cells, metric: measured.metric });
    const positions = new Float32Array(3 * measured.metric.vertices);
    for (let loop = 0; loop < graph.loops; loop++) {
      positions[3 * loop] = -5 * graph.position[loop];
      positions[3 * loop + 1] = 3.6 * graph.course[loop];
    }
    placeFabric(fabric, positions);
    const shut = fabric.geometry.getAttribute('stitch').array;
    const { lift } = fabric.patches;
    const sides = new Set<number>();
    lift.forEach((up, v) => {
      // Of a flat piece nothing but what lies before it shades a stitch.
      if (Math.abs(up) <= 0.05) expect(Math.abs(shut[4 * v + 3])).toBeLessThan(1e-6);
      else expect(Math.sign(shut[4 * v + 3])).toBe(-Math.sign(up));
      if (Math.abs(up) > 0.05) sides.add(Math.sign(up));
    });
    expect([...sides].sort()).toEqual([-1, 1]);
  });
});
