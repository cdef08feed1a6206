/** What menus, buttons and dropped files do to the plan. Every one of them can be undone in the editor. */
import type { Demo } from '../demo/demos.ts';
import { askForPlanFile, planFileName, readPlanFile } from '../files/plan-files.ts';
import { saveBlob } from '../files/save-files.ts';
import { writeKept } from './autosave.ts';
import { saidWhenLate } from './awaited.ts';
import { notify, page } from './page-store.ts';
import { looksLikeProject, openProject } from './project-actions.ts';
import { firstText } from './start.ts';

/** Without a mistake from the first: its round is there to be seen, and written over. */
const NEW_PLAN = `Title: Untitled square
Gauge: 22 sts and 30 rounds to 10 cm
Worked: in the round

Cast on 172 sts. Join in the round.
Round 1: knit.
`;

async function replacePlan(text: string, fileName: string, occasion: string): Promise<void> {
  const before = page.get().area;
  const written = firstText().then(() => writeKept(text, occasion));
  await saidWhenLate('The other plan comes once the one before is kept.', written);
  const { area } = page.get();
  // Where the user has gone meanwhile they stay.
  page.set({ fileName, area: area === before ? 'fabric' : area });
}

export async function newPlan(): Promise<void> {
  await replacePlan(NEW_PLAN, '', 'before a new plan');
  page.set({ pane: 'plan' });
  const end = { line: NEW_PLAN.split('\n').length, column: 1 };
  page.get().editor?.goTo(end, true);
}

export function openDemo(demo: Demo): Promise<void> {
  return replacePlan(demo.text, '', 'before opening a demo');
}

export async function openFile(file: File): Promise<void> {
  try {
    const opened = await readPlanFile(file);
    if (opened.text.trim() === '')
      throw new Error(`“${opened.fileName}” is empty. Nothing was changed.`);
    if (looksLikeProject(opened.text) || /\.json$/i.test(opened.fileName)) {
      await openProject(opened.text, opened.fileName);
      return;
    }
    await replacePlan(opened.text, opened.fileName, `before opening ${opened.fileName}`);
  } catch (error) {
    notify('file', error instanceof Error ? error.message : String(error));
  }
}

export async function chooseFile(): Promise<void> {
  const file = await askForPlanFile();
  if (file) await openFile(file);
}

export async function saveFile(): Promise<void> {
  await firstText();
  const { text, fileName, plan } = page.get();
  const blob = new Blob([text], { type: 'text/plain;charset=utf-8' });
  const ownName = fileName.endsWith('.json') ? '' : fileName;
  saveBlob(blob, ownName || planFileName(plan ?? { title: '' }));
}

export function applyAdvice(text: string): Promise<void> {
  return changeText(
    text,
    'before applied advice',
    'Advice applied to the plan. Undo takes it back.',
  );
}

/** Puts a drafted plan in the editor. */
export async function takeDraft(text: string): Promise<void> {
  await replacePlan(text, '', 'before a new square');
  page.set({ pane: 'fabric', announcement: 'The plan is written. Undo brings the old one back.' });
}

/** A change of the whole text that stays where the user is looking. */
export async function changeText(
  text: string,
  occasion: string,
  announcement: string,
): Promise<void> {
  await saidWhenLate('The plan is changed once it is kept as it was.', writeKept(text, occasion));
  page.set({ announcement });
}

export async function bringBack(text: string, fileName: string): Promise<void> {
  await replacePlan(text, fileName, 'before bringing back an earlier version');
}
