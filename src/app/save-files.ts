/** Files that the page hands to the browser: made here, from what is on the page; nothing is sent. */
import type { KnittedSheet } from '../worker/messages.ts';
import { fabricColours } from './fabric-colours.ts';
import { page } from './page-store.ts';
import { planFileName } from './plan-files.ts';

/** `stem` comes from the title; `ending` is e.g. `chart.svg` or just `txt`. */
export function saveText(text: string, title: string, ending: string, type = 'text/plain'): void {
  saveBlob(new Blob([text], { type: `${type};charset=utf-8` }), fileName(title, ending));
}

export function saveBlob(blob: Blob, name: string): void {
  const url = URL.createObjectURL(blob);
  const link = document.createElement('a');
  link.href = url;
  link.download = name;
  link.click();
  // The browser has taken the address over by the next turn.
  setTimeout(() => URL.revokeObjectURL(url), 1000);
}

export function fileName(title: string, ending: string): string {
  const stem = planFileName({ title }).replace(/\.txt$/, '');
  return /^[a-z]+\./.test(ending) ? `${stem}-${ending}` : `${stem}.${ending}`;
}

/** The fabric at rest as Wavefront OBJ or binary glTF, in the colours it wears on the table. */
export async function saveShape(format: 'obj' | 'glb'): Promise<void> {
  const { knitted, preferences } = page.get();
  if (!knitted) return;
  const shape = shapeOf(knitted, preferences);
  if (format === 'obj') {
    const { writeObj } = await import('../paper/obj.ts');
    saveText(writeObj(shape), knitted.plan.title, 'obj', 'model/obj');
  } else {
    const { writeGlb } = await import('../paper/glb.ts');
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
