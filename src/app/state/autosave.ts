/**
 * Autosave: every change of the plan reaches the desk within moments, and a version is kept at each
 * turn (another plan, applied advice) and every minute of typing.
 */

import { notify, page, putAway } from './page-store.ts';
import { projects } from './project-store.ts';
import type { KeptPlan, PlanVersion } from './storage.ts';
import { Desk, DeskError } from './storage.ts';

/** A killed tab loses at most this much typing. Chosen. */
const SAVING_PAUSE_MS = 350;
const VERSION_EVERY_MS = 60_000;

const desk = new Desk();
let pause: ReturnType<typeof setTimeout> | undefined;
let versionAt = 0;
let keeping = false;
let pending = false;
let projectPause: ReturnType<typeof setTimeout> | undefined;
let projectPending = false;

function atHand(): KeptPlan {
  const { text, fileName } = page.get();
  return { text, fileName, savedAt: Date.now() };
}

async function guarded(work: () => Promise<void>): Promise<void> {
  try {
    await work();
    putAway('storage');
  } catch (error) {
    const reason = error instanceof DeskError ? error.message : String(error);
    notify(
      'storage',
      `Your work is not being kept: ${reason} Save the plan to a file before you close the page.`,
    );
  }
}

/** The kept plan, or null on a first visit. Storage trouble is said on the page, not thrown. */
export async function loadKeptPlan(): Promise<KeptPlan | null> {
  let kept: KeptPlan | null = null;
  await guarded(async () => {
    kept = await desk.load();
  });
  return kept;
}

/** The kept project goes back into its store; a damaged one is said and left where it is. */
export async function loadKeptProject(): Promise<void> {
  await guarded(async () => {
    const kept = await desk.loadProject();
    if (kept === undefined) return;
    const { readProject } = await import('../../paper/project-file.ts');
    const read = readProject(JSON.stringify(kept));
    if (read.ok) projects.set({ project: read.project });
    else notify('project', `The kept squares and test knits could not be read. ${read.message}`);
  });
}

/** Starts saving changes; call once the first text is in the editor. */
export function startKeeping(): void {
  if (keeping) return;
  keeping = true;
  page.subscribe((state, before) => {
    if (state.text === before.text && state.fileName === before.fileName) return;
    pending = true;
    clearTimeout(pause);
    pause = setTimeout(saveNow, SAVING_PAUSE_MS);
  });
  projects.subscribe((state, before) => {
    if (state.project === before.project) return;
    projectPending = true;
    clearTimeout(projectPause);
    projectPause = setTimeout(saveProjectNow, SAVING_PAUSE_MS);
  });
  // The last moment that a page is sure to get.
  const saveAll = () => {
    saveNow();
    saveProjectNow();
  };
  document.addEventListener('visibilitychange', () => {
    if (document.visibilityState === 'hidden') saveAll();
  });
  window.addEventListener('pagehide', saveAll);
}

function saveProjectNow(): void {
  clearTimeout(projectPause);
  if (!projectPending) return;
  projectPending = false;
  const { project } = projects.get();
  void guarded(() => desk.saveProject(project));
}

function saveNow(): void {
  clearTimeout(pause);
  if (!pending) return;
  pending = false;
  const plan = atHand();
  void guarded(async () => {
    await desk.save(plan);
    if (plan.savedAt - versionAt > VERSION_EVERY_MS && plan.text.trim() !== '') {
      versionAt = plan.savedAt;
      await desk.keepVersion(plan, 'while typing');
    }
  });
}

/** Keeps the plan as it is now, before something replaces it. */
export function keepVersion(occasion: string): Promise<void> {
  const plan = atHand();
  if (plan.text.trim() === '') return Promise.resolve();
  return guarded(() => desk.keepVersion(plan, occasion));
}

export async function loadVersions(): Promise<PlanVersion[]> {
  let versions: PlanVersion[] = [];
  await guarded(async () => {
    versions = await desk.versions();
  });
  return versions;
}
