/**
 * Autosave: every change goes into the journal at once and into the storage within a moment, however steadily it goes on,
 * and a version is kept at each turn (another plan, applied advice) and every minute of typing. Each tab has its own
 * plan; the project is shared.
 */
import type { JournalRecord } from '../../worker/journal-record.ts';
import { journal, openJournal } from './journal.ts';
import { guarded, SAVE_EVERY_MS, storage } from './kept.ts';
import { leaveLastWords, takeLastWords } from './last-words.ts';
import { notify, page, putAway } from './page-store.ts';
import { saveProjectNow, unsavedProject, watchProject } from './project-autosave.ts';
import type { Left } from './recover.ts';
import type { FormerProject, KeptPlan, PlanVersion } from './storage.ts';
import { hearTabs, openTabs, printOf, tellTabs } from './tab.ts';
import { writePlan } from './undo.ts';

const VERSION_EVERY_MS = 60_000;

let tab = '';
let waiting: ReturnType<typeof setTimeout> | undefined;
let versionAt = 0;
let keeping = false;
let loaded = true;
let savedPrint = '';
/** The text is the user's, not the one that a first visit begins with. */
let owned = false;
/** The plan as it was last changed here. */
let changed: KeptPlan = { text: '', fileName: '', savedAt: 0 };

function atHand(): KeptPlan {
  const { text, fileName } = page.get();
  return { text, fileName, savedAt: Date.now() };
}

const writeAhead = () => journal({ ...changed, project: unsavedProject() });

/** The kept plan, or null on a first visit. */
export async function loadKeptPlan({ tab: own, left, stored }: Left): Promise<KeptPlan | null> {
  let kept: KeptPlan | null = null;
  tab = own;
  const last = takeLastWords();
  loaded =
    stored &&
    (await guarded(async () => {
      kept = await storage.loadPlan(tab);
      if (!last) return;
      if (kept && kept.savedAt > last.savedAt) {
        // Of another tab, where this one was given another id.
        if (kept.text !== last.text) await storage.keepVersion(last, 'from a page that was left');
        return;
      }
      kept = last;
      await storage.savePlan(tab, last);
    }));
  kept ??= last ?? newest(left);
  owned = kept !== null;
  return kept;
}

const newest = (left: readonly JournalRecord[]): KeptPlan | null =>
  left.filter(({ savedAt }) => savedAt > 0).sort((a, b) => b.savedAt - a.savedAt)[0] ?? null;

/** A plan that could not be read at the start is not written over when the storage works again. */
async function keepUnread(): Promise<void> {
  if (loaded) return;
  const unread = await storage.loadPlan(tab);
  if (unread) await storage.keepVersion(unread, 'from before the storage failed');
  loaded = true;
}

/** Starts saving changes; call once the first text is in the editor. */
export function startKeeping(): void {
  if (keeping) return;
  keeping = true;
  savedPrint = printOf(page.get().text);
  openJournal(tab);
  page.subscribe((state, before) => {
    if (state.text === before.text && state.fileName === before.fileName) return;
    owned = true;
    changed = atHand();
    writeAhead();
    // From the first unsaved change, not the last: steady typing must not put it off.
    waiting ??= setTimeout(savePlanNow, SAVE_EVERY_MS);
  });
  watchProject(tab, writeAhead);
  hearTabs((message) => {
    if (message.kind === 'project') void guarded(() => saveProjectNow(message.revision));
    else if (message.was === printOf(page.get().text) && message.now !== message.was) {
      tellOfOtherTab(message.tab);
    }
  });
  // The last moments that a page is sure to get.
  const saveAll = () => {
    savePlanNow();
    void guarded(() => saveProjectNow());
  };
  document.addEventListener('visibilitychange', () => {
    if (document.visibilityState !== 'hidden') return;
    // Not saved, or asked for and not yet sure to be.
    if (waiting !== undefined || printOf(page.get().text) !== savedPrint) leaveLastWords(atHand());
    saveAll();
  });
  window.addEventListener('pagehide', () => {
    // Always: loaded again, the tab may not get its id back, and the text saved last may be another tab's.
    if (owned) leaveLastWords(atHand());
    saveAll();
  });
  void guarded(retireClosedTabs);
}

function savePlanNow(): void {
  if (waiting === undefined) return;
  clearTimeout(waiting);
  waiting = undefined;
  const plan = atHand();
  void guarded(async () => {
    if (!loaded) await keepUnread();
    await storage.savePlan(tab, plan);
    const now = printOf(plan.text);
    if (now !== savedPrint) tellTabs({ kind: 'plan', tab, now, was: savedPrint });
    savedPrint = now;
    if (plan.savedAt - versionAt > VERSION_EVERY_MS && plan.text.trim() !== '') {
      versionAt = plan.savedAt;
      await storage.keepVersion(plan, 'while typing');
    }
  });
}

/** Plans of tabs that are gone go among the earlier versions, so that closing two tabs loses neither. */
async function retireClosedTabs(): Promise<void> {
  const open = await openTabs();
  if (!open) return;
  for (const known of await storage.tabs()) if (!open.has(known)) await storage.retireTab(known);
}

/** The same plan was open in two tabs, and goes two ways now. */
function tellOfOtherTab(other: string): void {
  notify('tab', 'Another tab has changed this plan. Both texts are kept, each in its tab.', {
    name: 'Take the other text',
    run: () =>
      void guarded(async () => {
        const theirs = await storage.loadPlan(other);
        if (!theirs) {
          notify('tab', 'The other tab is gone, and its text with it: see “Earlier versions”.');
          return;
        }
        await storage.keepVersion(atHand(), 'before the text of another tab');
        await writePlan(theirs.text, 'taking the text of the other tab');
        page.set({ announcement: 'The text of the other tab is here. Undo brings yours back.' });
        putAway('tab');
      }),
  });
}

/** Keeps the plan as it is now, before something replaces it. */
export async function keepVersion(occasion: string): Promise<void> {
  const plan = atHand();
  if (plan.text.trim() === '') return;
  await guarded(() => storage.keepVersion(plan, occasion));
}

/** Occasions say before what a version was kept; a step that can be undone is called by that. */
const BEFORE = /^before /;

/** Another text in the editor as one step, what stood there kept as a version first. */
export async function writeKept(text: string, occasion: string): Promise<void> {
  await keepVersion(occasion);
  await writePlan(text, occasion.replace(BEFORE, ''));
}

/** Newest first; null where the storage does not tell. */
export async function loadVersions(): Promise<PlanVersion[] | null> {
  let versions: PlanVersion[] | null = null;
  await guarded(async () => {
    versions = await storage.versions();
  });
  return versions;
}

export async function loadFormerProjects(): Promise<FormerProject[]> {
  let former: FormerProject[] = [];
  await guarded(async () => {
    former = await storage.formerProjects();
  });
  return former;
}
