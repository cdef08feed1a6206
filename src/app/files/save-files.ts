/** Files that the page hands to the browser: made here, from what is on the page; nothing is sent. */
import { planFileName } from './plan-files.ts';

/** By then any browser has written a large file, or begun to, from its address. Chosen. */
const TAKEN_OVER_MS = 40_000;

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
  setTimeout(() => URL.revokeObjectURL(url), TAKEN_OVER_MS);
}

export function fileName(title: string, ending: string): string {
  const stem = planFileName({ title }).replace(/\.txt$/, '');
  return /^[a-z][a-z0-9-]*\./.test(ending) ? `${stem}-${ending}` : `${stem}.${ending}`;
}
