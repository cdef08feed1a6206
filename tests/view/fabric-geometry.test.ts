import { describe, expect, it } from 'vitest';
import { prepare } from '../../src/knit.ts';
import { parsePlan } from '../../src/plan/parse.ts';
import { createFabricGeometry, placeFabric } from '../../src/view/fabric/fabric-geometry.ts';
import { buildStitchPatches } from '../../src/view/fabric/stitch-quads.ts';

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

const SEAMED = `Title: Seamed square
Worked: flat with 2 seam stitches, then seamed
Sides: 4
Cast on 42 sts.
Row 1 (RS): k1, [ssk, k to last 2 sts, k2tog] 4 times, k1 (34 sts)
Row 2: purl
Row 3: k1, [ssk, k to last 2 sts, k2tog] 4 times, k1 (26 sts)
Row 4: purl
Cut yarn and draw through remaining 26 sts. Sew the edges together with mattress stitch.
`;

describe('a seam', () => {
  it('shows its folded edges behind, once in every row, and nothing is sewn that has no seam', () => {
    const patchesOf = (text: string) => {
      const { graph, cells, measured } = prepare(parsePlan(text));
      const patches = buildStitchPatches(graph, cells, measured.metric.triangles);
      const sewn = [...patches.seam.keys()].filter((loop) => patches.seam[loop] >= 0);
      return { sewn: sewn.map((loop) => graph.course[loop]), patches, loops: sewn };
    };
    const { sewn, patches, loops } = patchesOf(SEAMED);
    expect(sewn).toEqual([1, 2, 3, 4]);
    for (const loop of loops) expect(patches.lift[patches.seam[loop]]).toBeLessThan(-0.3);
    expect(patchesOf(CABLED).sewn).toEqual([]);
  });
});
