/** The relaxed fabric and its yarn as coloured meshes for shape files. */
import type { Knitted } from '../knit.ts';
import type { ShapeMesh } from '../paper/shape-files/shape-mesh.ts';
import { yarnTube } from '../paper/shape-files/yarn-tube.ts';
import { layYarn } from '../yarn/lay/lay-yarn.ts';
import type { YarnCurves } from '../yarn/yarn-curves.ts';
import { UsageError } from './usage-error.ts';

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

/** Beyond it no program opens the file; the page draws no strands there either. Chosen. */
const MOST_LOOPS = 60_000;

/** The yarn laid on the fabric. */
export function laidYarn({ graph, cells, sheet }: Knitted): YarnCurves {
  if (graph.loops > MOST_LOOPS) {
    throw new UsageError(
      `the yarn of ${graph.loops} stitches is too much for a file; ${MOST_LOOPS} at most`,
    );
  }
  return layYarn(graph, cells, sheet.positions);
}

/** Yarn of one undyed wool: its own relief shows the stitches. */
export function yarnShape({ report, graph }: Knitted, curves: YarnCurves): ShapeMesh {
  const loopColours = new Uint8Array(3 * graph.loops);
  for (let i = 0; i < loopColours.length; i++) loopColours[i] = KNIT[i % 3];
  return yarnTube(curves, { title: report.title, loopColours });
}
