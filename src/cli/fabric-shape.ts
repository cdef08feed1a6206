/** The relaxed fabric as a coloured mesh for shape files. */
import type { Knitted } from '../knit.ts';
import type { ShapeMesh } from '../paper/shape-mesh.ts';

/** Chosen: undyed wool; purl and the back strand of a cable darker, the front strand lighter. */
const KNIT: readonly number[] = [222, 206, 180];
const PURL: readonly number[] = [168, 146, 116];
const FRONT: readonly number[] = [240, 232, 216];
const BACK: readonly number[] = [140, 118, 92];

export function fabricShape({ report, graph, measured, sheet }: Knitted): ShapeMesh {
  const vertices = sheet.positions.length / 3;
  const colours = new Uint8Array(3 * vertices);
  for (let v = 0; v < vertices; v++) {
    let colour = KNIT;
    if (v < graph.loops) {
      if (graph.layer[v] !== 0) colour = graph.layer[v] > 0 ? FRONT : BACK;
      else if (graph.face[v] < 0) colour = PURL;
    }
    colours.set(colour, 3 * v);
  }
  return {
    title: report.title,
    positions: sheet.positions,
    triangles: measured.metric.triangles,
    colours,
  };
}
