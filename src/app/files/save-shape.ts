/**
 * The fabric on the table, or its yarn, as a file for other programs. Loaded when it is first asked
 * for. The yarn is laid and written in a worker of its own, as it takes seconds.
 */
import { writeGlb } from '../../paper/shape-files/glb.ts';
import { writeObj } from '../../paper/shape-files/obj.ts';
import type { Positions } from '../../view/fabric/surface.ts';
import type { KnittedSheet } from '../../worker/messages.ts';
import { ShapeClient } from '../../worker/shape-client.ts';
import { fabricColours } from '../state/fabric-colours.ts';
import { notify, page, putAway } from '../state/page-store.ts';
import { posed } from '../state/pose.ts';
import { restedCurves } from '../state/yarn-relaxation.ts';
import { fileName, saveBlob } from './save-files.ts';

const client = new ShapeClient();
/** Files asked for while another is written wait for it. */
let writing = Promise.resolve();

export type ShapeFormat = 'obj' | 'glb';

const TYPES: Readonly<Record<ShapeFormat, string>> = { obj: 'model/obj', glb: 'model/gltf-binary' };
/** Beyond it no program opens the file, and the page draws no strands. See `strands.ts`. */
const MOST_LOOPS = 60_000;

/** The fabric at rest as Wavefront OBJ or binary glTF, in the pose and the colours that it is shown in. */
export function saveFabric(format: ShapeFormat): void {
  const { knitted } = page.get();
  if (!knitted) return;
  const positions = posed(knitted);
  const shape = {
    title: knitted.plan.title,
    positions,
    triangles: knitted.metric.triangles,
    colours: coloursOf(knitted, positions),
  };
  save(
    format === 'obj' ? new TextEncoder().encode(writeObj(shape)) : writeGlb(shape).slice(),
    fileName(knitted.plan.title, format),
    format,
  );
}

/** Every strand as a tube, at rest where it was brought there; told when it is there or why it is not. */
export function saveYarn(format: ShapeFormat): void {
  const { knitted } = page.get();
  if (!knitted) return;
  const { graph, cells, plan } = knitted;
  if (graph.loops > MOST_LOOPS) {
    notify(
      'yarn-file',
      `Yarn is saved up to ${MOST_LOOPS.toLocaleString('en')} stitches; this piece has ${graph.loops.toLocaleString('en')}.`,
    );
    return;
  }
  putAway('yarn-file');
  const curves = restedCurves();
  page.set({ announcement: `The yarn is being ${curves ? 'written' : 'laid for its file'}.` });
  const positions = posed(knitted);
  const shape = {
    sheet: { graph, cells, positions },
    curves,
    title: plan.title,
    format,
    loopColours: coloursOf(knitted, positions).slice(0, 3 * graph.loops),
  };
  const write = () =>
    new Promise<void>((done) => {
      client.write(shape, {
        onDone: (file) => {
          save(file, fileName(plan.title, `yarn.${format}`), format);
          page.set({ announcement: 'The yarn is saved.' });
          done();
        },
        onFailed: (message) => {
          notify('yarn-file', message);
          done();
        },
      });
    });
  writing = writing.then(write);
}

function save(file: Uint8Array<ArrayBuffer>, name: string, format: ShapeFormat): void {
  saveBlob(new Blob([file], { type: TYPES[format] }), name);
}

/** [3·vertices] sRGB bytes; stretch and bend are of the shape that is saved. */
function coloursOf(knitted: KnittedSheet, positions: Positions): Uint8Array {
  const { rgb } = fabricColours(knitted, positions, page.get().preferences);
  return Uint8Array.from(rgb, toByte);
}

/** Linear light to an sRGB byte, IEC 61966-2-1. */
function toByte(linear: number): number {
  const s = linear <= 0.0031308 ? 12.92 * linear : 1.055 * linear ** (1 / 2.4) - 0.055;
  return Math.round(255 * Math.min(1, Math.max(0, s)));
}
