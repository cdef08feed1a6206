/**
 * The project that all tabs share: loaded, saved within a moment of every change, and brought together with what other
 * tabs saved meanwhile. Revisions tell whether a tab knows the latest; see `merge-projects.ts`.
 */
import type { Project } from '../../paper/project-file.ts';
import { guarded, SAVE_EVERY_MS, storage } from './kept.ts';
import { mergeProjects } from './merge-projects.ts';
import { notify, page } from './page-store.ts';
import { EMPTY_PROJECT, type PastStep, projects } from './project-store.ts';
import { type SharedProject, StorageError } from './storage.ts';
import { tellTabs } from './tab.ts';

/** The project as this tab last had it from, or gave it to, the storage, and its revision there. */
let known: { readonly project: Project; readonly revision: number } = {
  project: EMPTY_PROJECT,
  revision: 0,
};
let waiting: ReturnType<typeof setTimeout> | undefined;
let writing: Promise<void> = Promise.resolve();
let thisTab = '';

/** The kept project goes back into its store; one that cannot be read is said, and kept aside. */
export async function loadKeptProject(): Promise<void> {
  await guarded(async () => {
    const kept = await storage.loadProject();
    if (!kept) return;
    const { readProject } = await import('../../paper/project-file.ts');
    const read = readProject(JSON.stringify(kept.project));
    if (read.ok) {
      projects.set({ project: read.project });
      known = { project: read.project, revision: kept.revision };
      return;
    }
    known = { ...known, revision: kept.revision };
    const aside = {
      name: 'Unreadable project',
      savedAt: Date.now(),
      occasion: 'could not be read',
    };
    await storage.keepProject({ ...aside, project: kept.project });
    notify(
      'project',
      `The kept squares and test knits could not be read. ${read.message} They lie under “Earlier versions”, to be saved as a file.`,
    );
  });
}

export function watchProject(tab: string): void {
  thisTab = tab;
  projects.subscribe((state, before) => {
    if (state.project === before.project || state.project === known.project) return;
    waiting ??= setTimeout(() => void guarded(() => saveProjectNow()), SAVE_EVERY_MS);
  });
}

/** Saves what is not yet saved; `heard`: a revision that another tab has saved. One at a time. */
export function saveProjectNow(heard = 0): Promise<void> {
  writing = writing.catch(() => {}).then(() => exchange(heard));
  return writing;
}

async function exchange(heard: number): Promise<void> {
  clearTimeout(waiting);
  waiting = undefined;
  const mine = projects.get().project;
  if (mine === known.project) {
    if (heard > known.revision) takeOver(await storage.loadProject());
    return;
  }
  const { project: base, revision } = known;
  const saved = await storage.saveProject((stored) =>
    !stored || stored.revision === revision ? mine : mergeProjects(base, mine, trusted(stored)),
  );
  known = saved;
  if (saved.project !== mine) follow(mine, saved.project);
  tellTabs({ kind: 'project', tab: thisTab, revision: saved.revision });
}

/** Nothing was changed here: the project is as the other tab left it. */
function takeOver(stored: SharedProject | null): void {
  if (!stored || stored.revision === known.revision) return;
  const before = known.project;
  known = { project: trusted(stored), revision: stored.revision };
  follow(before, known.project);
}

/** Shows `latest`, with whatever was changed here since `before`; what can be undone stays so. */
function follow(before: Project, latest: Project): void {
  const { project, past, future } = projects.get();
  const kept = (step: PastStep) => ({
    ...step,
    project: mergeProjects(before, step.project, latest),
  });
  projects.set({
    project: mergeProjects(before, project, latest),
    // Undoing what was done here must not take away what was done there.
    past: past.map(kept),
    future: future.map(kept),
  });
  page.set({ announcement: 'The project was changed in another tab.' });
}

/** Only this page writes there, and checks what it reads from files; a later page may have another form. */
function trusted({ project }: SharedProject): Project {
  const { format, version } = project as Project;
  if (format !== EMPTY_PROJECT.format || version !== EMPTY_PROJECT.version) {
    throw new StorageError('A newer Lieflat has changed the project; reload the page.');
  }
  return project as Project;
}
