/** Plans and projects as files: open and drop. Nothing is uploaded; files are read in the page. */
import { decodeText, otherDocument } from '../../paper/plan-bytes.ts';
import type { Plan } from '../../plan/plan.ts';

/** The same limit as the parser's. */
export const LARGEST_PLAN_BYTES = 1_000_000;
/** Projects hold many plans; the same limit as their reader's. */
const LARGEST_PROJECT_BYTES = 20_000_000;

/** File name from the plan's title, in characters that every file system takes. */
export function planFileName(plan: Pick<Plan, 'title'>): string {
  const stem = plan.title
    .normalize('NFKD')
    .replace(/[^\p{L}\p{N}]+/gu, '-')
    .replace(/^-+|-+$/g, '')
    .slice(0, 60)
    .toLowerCase();
  return `${stem || 'plan'}.txt`;
}

export interface OpenedPlan {
  readonly text: string;
  readonly fileName: string;
}

/** Throws an Error with words for the user; nothing on the page changes then. */
export async function readPlanFile(file: File): Promise<OpenedPlan> {
  const project = /\.json$/i.test(file.name);
  if (file.size > (project ? LARGEST_PROJECT_BYTES : LARGEST_PLAN_BYTES)) {
    const megabytes = (file.size / 1_000_000).toFixed(1);
    const most = project ? 'a project may have 20 MB' : 'a plan may have 1 MB of text';
    throw new Error(`“${file.name}” has ${megabytes} MB; ${most} at most. Nothing was changed.`);
  }
  let bytes: ArrayBuffer;
  try {
    bytes = await file.arrayBuffer();
  } catch {
    throw new Error(
      `“${file.name}” could not be read. Is it a file, and still there? Nothing was changed.`,
    );
  }
  const content = new Uint8Array(bytes);
  const other = otherDocument(content);
  if (other) {
    throw new Error(
      `“${file.name}” is ${other}. Copy its text into “Plan”, or save it as a plain text file and open that. Nothing was changed.`,
    );
  }
  const text = decodeText(content);
  if (text === null) {
    throw new Error(
      `“${file.name}” is not a text file: only plain text can be read. Nothing was changed.`,
    );
  }
  return { text: text.replace(/\r\n?/g, '\n'), fileName: file.name };
}

export function askForPlanFile(): Promise<File | null> {
  return new Promise((resolve) => {
    const input = document.createElement('input');
    input.type = 'file';
    input.accept = '.txt,.text,.md,.json,text/plain,application/json';
    input.onchange = () => resolve(input.files?.[0] ?? null);
    input.oncancel = () => resolve(null);
    input.click();
  });
}
