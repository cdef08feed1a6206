/** The fabric on the table as a file for other programs. Loaded when it is first asked for. */
import { writeGlb } from '../paper/glb.ts';
import { writeObj } from '../paper/obj.ts';
import type { KnittedSheet } from '../worker/messages.ts';
import { fabricColours } from './fabric-colours.ts';
import { page } from './page-store.ts';
import { fileName, saveBlob, saveText } from './save-files.ts';

/** The fabric at rest as Wavefront OBJ or binary glTF, in the colours it wears on the table. */
export function saveShape(format: 'obj' | 'glb'): void {
  const { knitted, preferences } = page.get();
  if (!knitted) return;
  const shape = shapeOf(knitted, preferences);
  if (format === 'obj') {
    saveText(writeObj(shape), knitted.plan.title, 'obj', 'model/obj');
  } else {
    const bytes = writeGlb(shape);
    const blob = new Blob([bytes.slice().buffer], { type: 'model/gltf-binary' });
    saveBlob(blob, fileName(knitted.plan.title, 'glb'));
  }
}

function shapeOf(knitted: KnittedSheet, preferences: Parameters<typeof fabricColours>[2]) {
  const { rgb } = fabricColours(knitted, knitted.sheet.positions, preferences);
  return {
    title: knitted.plan.title,
    positions: knitted.sheet.positions,
    triangles: knitted.metric.triangles,
    colours: Uint8Array.from(rgb, toByte),
  };
}

/** Linear light to an sRGB byte, IEC 61966-2-1. */
function toByte(linear: number): number {
  const s = linear <= 0.0031308 ? 12.92 * linear : 1.055 * linear ** (1 / 2.4) - 0.055;
  return Math.round(255 * Math.min(1, Math.max(0, s)));
}
