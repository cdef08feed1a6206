/** A shape request to its answer: lays the yarn unless it is there, makes tubes of it, writes the file. */
import { writeGlb } from '../../paper/shape-files/glb.ts';
import { writeObj } from '../../paper/shape-files/obj.ts';
import { yarnTube } from '../../paper/shape-files/yarn-tube.ts';
import { layYarn } from '../../yarn/lay/lay-yarn.ts';
import type { ShapeAnswer, ShapeRequest } from '../shape-messages.ts';

/** From here on a stitch has 8 segments, as on the screen. Chosen for memory. */
const FINE_LOOPS = 12_000;

export function makeShape(request: ShapeRequest): ShapeAnswer {
  const { job } = request;
  try {
    const { title, format, loopColours } = request;
    const { graph, cells, positions } = request.sheet;
    const segmentsPerStitch = graph.loops > FINE_LOOPS ? 8 : 16;
    const curves = request.curves ?? layYarn(graph, cells, positions, { segmentsPerStitch });
    const tube = yarnTube(curves, { title, loopColours });
    const file = format === 'glb' ? writeGlb(tube) : new TextEncoder().encode(writeObj(tube));
    return { type: 'shape', job, file: file as Uint8Array<ArrayBuffer> };
  } catch (error) {
    const reason = error instanceof Error ? error.message : String(error);
    return { type: 'shape-failed', job, message: `The yarn could not be written: ${reason}` };
  }
}
