/**
 * The project that all tabs share: loaded, written ahead at every change, saved within a moment, and brought together with
 * what other tabs saved meanwhile. Revisions tell whether a tab knows the latest; see `merge-projects.ts`.
 */
import type { Project } from '../../paper/project-file.ts';
import type { JournalRecord, UnsavedProject } from '../../worker/journal-record.ts';
import { partFor } from './awaited.ts';
import { guarded, SAVE_EVERY_MS, storage } from './kept.ts';
import { mergeProjects } from './merge-projects.ts';
import { notify, page } from './page-store.ts';
import { EMPTY_PROJECT, type PastStep, projects } from './project-store.ts';
import type { Left } from './recover.ts';
import { type SharedProject, StorageError } from './storage.ts';
import { newName, tellTabs } from './tab.ts';

/** The project as this tab last had it from, or gave it to, the storage, and its revision there. */
let known: { readonly project: Project; readonly revision: number } = {
  project: EMPTY_PROJECT,
  revision: 0,
};
let waiting: ReturnType<typeof setTimeout> | undefined;
let writing: Promise<void> = Promise.resolve();
let thisTab = '';
let change = { load: newName(), changedAt: 0 };
let writeAhead = () => {};

/** What of the project is not yet sure to be saved. */
export function unsavedProject(): UnsavedProject | null {
  const mine = projects.get().project;
  if (mine === known.project) return null;
  return { ...change, mine, base: known.project, revision: known.revision };
}

/** What a tab that is gone had changed and not saved goes into the storage. */
export async function recoverProject({ tab, project }: JournalRecord): Promise<void> {
  if (!project) return;
  const { mine, base, revision } = project;
  await storage.recoverProject(tab, project, (stored) =>
    together({ project: base as Project, revision }, mine as Project, stored),
  );
}

/** The kept project goes back into its store; one that cannot be read is said, and kept aside. */
export async function loadKeptProject({ left, stored }: Left): Promise<void> {
  if (!stored) return takeLeft(left);
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

/** Without the storage: what was written ahead is all that there is to go on from. */
async function takeLeft(left: readonly JournalRecord[]): Promise<void> {
  const unsaved = left.flatMap(({ project }) => project ?? []);
  const last = unsaved.sort((a, b) => b.changedAt - a.changedAt)[0];
  if (!last) return;
  const part = await partFor(
    'Getting the project out',
    () => import('../../paper/project-file.ts'),
  );
  if (!part) return;
  const [mine, base] = [last.mine, last.base].map((one) => part.readProject(JSON.stringify(one)));
  if (!mine.ok || !base.ok) return;
  projects.set({ project: mine.project });
  known = { project: base.project, revision: last.revision };
}

/** `ahead`: writes `unsavedProject` where it outlives the page. */
export function watchProject(tab: string, ahead: () => void): void {
  thisTab = tab;
  writeAhead = ahead;
  projects.subscribe((state, before) => {
    if (state.project === before.project || state.project === known.project) return;
    change = { ...change, changedAt: Math.max(Date.now(), change.changedAt + 1) };
    writeAhead();
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
  const base = known;
  const saved = await storage.saveProject(thisTab, change, (stored) =>
    together(base, mine, stored),
  );
  known = saved;
  if (saved.project !== mine) follow(mine, saved.project);
  writeAhead();
  tellTabs({ kind: 'project', tab: thisTab, revision: saved.revision });
}

/** `mine`, made of `base`, with what others have saved since. */
function together(base: typeof known, mine: Project, stored: SharedProject | null): Project {
  return !stored || stored.revision === base.revision
    ? mine
    : mergeProjects(base.project, mine, trusted(stored));
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
