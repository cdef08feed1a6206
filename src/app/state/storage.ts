/**
 * What stays when the page is closed, in IndexedDB: the plan of each tab, earlier versions, the shared project and
 * former projects. In: plain data. Every write is one transaction: a killed tab leaves the old text or the new one.
 * Failures are thrown as `StorageError` with words for the user; callers show them and work goes on.
 */
import type { DBSchema, IDBPDatabase } from 'idb';
import { openDB } from 'idb';
import type { ProjectChange } from '../../worker/journal-record.ts';

export interface KeptPlan {
  readonly text: string;
  readonly fileName: string;
  /** Milliseconds since 1970. */
  readonly savedAt: number;
}

export interface PlanVersion extends KeptPlan {
  readonly id: number;
  /** Why this version was kept: `typing`, `opened`, `applied advice` … in the user's words. */
  readonly occasion: string;
}

export interface FormerProject {
  readonly id: number;
  readonly name: string;
  readonly savedAt: number;
  readonly occasion: string;
  /** Plain data; whoever reads it checks it. */
  readonly project: unknown;
}

/** The project as it was last saved by any tab, unchecked; `revision` grows by one with every save. */
export interface SharedProject {
  readonly revision: number;
  readonly project: unknown;
}

interface StorageSchema extends DBSchema {
  /** `at hand`: of the tab that saved last; `tab …`: of each tab. */
  plan: { key: string; value: KeptPlan };
  /** `at hand`: the project; `revision`: a number; `tab …`: the last `ProjectChange` of each tab that is in it. */
  project: { key: string; value: unknown };
  versions: { key: number; value: Omit<PlanVersion, 'id'> & { id?: number } };
  formerProjects: { key: number; value: Omit<FormerProject, 'id'> & { id?: number } };
}

export class StorageError extends Error {
  override readonly name = 'StorageError';
}

/** Versions kept; the oldest goes first. Chosen: about a month of daily work. */
const MAX_VERSIONS = 200;
/** Former projects kept. Chosen: each may hold megabytes. */
const MAX_PROJECTS = 30;
/** No answer for so long is none. Chosen: longer than a busy machine takes. */
const ANSWER_LIMIT_MS = 10_000;
const AT_HAND = 'at hand';

export class Storage {
  private opening: Promise<IDBPDatabase<StorageSchema>> | null = null;

  private open(): Promise<IDBPDatabase<StorageSchema>> {
    this.opening ??= this.openOnce().catch((error) => {
      this.opening = null;
      throw error;
    });
    return this.opening;
  }

  private async openOnce(): Promise<IDBPDatabase<StorageSchema>> {
    if (typeof indexedDB === 'undefined') {
      throw new StorageError('This browser has no storage for pages.');
    }
    // A damaged profile can leave the request unanswered for ever.
    return answered(
      openDB<StorageSchema>('lieflat', 3, {
        upgrade(db, from) {
          if (from < 1) {
            db.createObjectStore('plan');
            db.createObjectStore('versions', { keyPath: 'id', autoIncrement: true });
          }
          if (from < 2) db.createObjectStore('project');
          if (from < 3) {
            db.createObjectStore('formerProjects', { keyPath: 'id', autoIncrement: true });
          }
        },
        // Another tab has a newer page: it must not wait for this one.
        blocking: (_from, _to, event) => {
          (event.target as IDBDatabase).close();
          this.opening = null;
        },
        terminated: () => {
          this.opening = null;
        },
      }),
    );
  }

  private async attempt<T>(work: (db: IDBPDatabase<StorageSchema>) => Promise<T>): Promise<T> {
    try {
      const db = await this.open();
      return await answered(work(db));
    } catch (error) {
      throw toStorageError(error);
    }
  }

  /** The tab's own plan, else the one saved last by any tab; null on a first visit. */
  loadPlan(tab: string): Promise<KeptPlan | null> {
    return this.attempt(async (db) => {
      const kept = (await db.get('plan', tabKey(tab))) ?? (await db.get('plan', AT_HAND));
      return kept && typeof kept.text === 'string' ? kept : null;
    });
  }

  savePlan(tab: string, plan: KeptPlan): Promise<void> {
    return this.attempt(async (db) => {
      const transaction = db.transaction('plan', 'readwrite');
      const { store, done } = transaction;
      const puts = [store.put(plan, tabKey(tab)), store.put(plan, AT_HAND)];
      // At once: the page may be going.
      transaction.commit();
      await Promise.all([...puts, done]);
    });
  }

  /** Saves a tab's plan that did not come so far, unless a later one did. */
  recoverPlan(tab: string, plan: KeptPlan): Promise<void> {
    return this.attempt(async (db) => {
      const { store, done } = db.transaction('plan', 'readwrite');
      for (const key of [tabKey(tab), AT_HAND]) {
        const stored = await store.get(key);
        if (!stored || stored.savedAt < plan.savedAt) await store.put(plan, key);
      }
      await done;
    });
  }

  /** Tabs that have something of their own here, open or long closed. */
  tabs(): Promise<string[]> {
    return this.attempt(async (db) => {
      const keys = await Promise.all([db.getAllKeys('plan'), db.getAllKeys('project')]);
      const own = keys.flat().filter((key) => key.startsWith(TAB));
      return [...new Set(own.map((key) => key.slice(TAB.length)))];
    });
  }

  /** Takes the plan of a tab that is gone among the versions, where no one else has it. */
  retireTab(tab: string): Promise<void> {
    return this.attempt(async (db) => {
      const transaction = db.transaction(['plan', 'versions', 'project'], 'readwrite');
      await transaction.objectStore('project').delete(tabKey(tab));
      const plans = transaction.objectStore('plan');
      const [plan, atHand] = await Promise.all([plans.get(tabKey(tab)), plans.get(AT_HAND)]);
      if (plan && plan.text !== atHand?.text && plan.text.trim() !== '') {
        await addVersion(transaction.objectStore('versions'), plan, 'from a closed tab');
      }
      await plans.delete(tabKey(tab));
      await transaction.done;
    });
  }

  loadProject(): Promise<SharedProject | null> {
    return this.attempt(async (db) => {
      const { store } = db.transaction('project');
      const [project, revision] = await Promise.all([store.get(AT_HAND), store.get('revision')]);
      return project === undefined ? null : { project, revision: Number(revision ?? 0) };
    });
  }

  /**
   * Saves what `next` makes of the project as it is now stored (null: none), in one transaction, so that no tab
   * overwrites what another saved meanwhile. `next` must not wait for anything; `change` is the tab's last in it.
   */
  saveProject<P>(
    tab: string,
    change: ProjectChange,
    next: (stored: SharedProject | null) => P,
  ): Promise<{ revision: number; project: P }> {
    return this.attempt(async (db) => {
      const { store, done } = db.transaction('project', 'readwrite');
      const saved = await putProject(store, tab, change, next);
      await done;
      return saved;
    });
  }

  /** The same for a change that was left behind, unless it is in the project already. */
  recoverProject(
    tab: string,
    change: ProjectChange,
    next: (stored: SharedProject | null) => unknown,
  ): Promise<void> {
    return this.attempt(async (db) => {
      const { store, done } = db.transaction('project', 'readwrite');
      const last = (await store.get(tabKey(tab))) as ProjectChange | undefined;
      const saved = last?.load === change.load && last.changedAt >= change.changedAt;
      if (!saved) await putProject(store, tab, change, next);
      await done;
    });
  }

  /** Keeps a project that something else takes the place of. */
  keepProject(former: Omit<FormerProject, 'id'>): Promise<void> {
    return this.attempt(async (db) => {
      const { store, done } = db.transaction('formerProjects', 'readwrite');
      await store.add(former);
      await dropOldest(store, MAX_PROJECTS);
      await done;
    });
  }

  /** Newest first. */
  formerProjects(): Promise<FormerProject[]> {
    return this.attempt(
      async (db) => (await db.getAll('formerProjects')).reverse() as FormerProject[],
    );
  }

  /** Keeps a version unless the newest one has the same text. */
  keepVersion(plan: KeptPlan, occasion: string): Promise<void> {
    return this.attempt(async (db) => {
      const { store, done } = db.transaction('versions', 'readwrite');
      await addVersion(store, plan, occasion);
      await done;
    });
  }

  /** Newest first. */
  versions(): Promise<PlanVersion[]> {
    return this.attempt(async (db) => (await db.getAll('versions')).reverse() as PlanVersion[]);
  }
}

/**
 * As `work`, or a `StorageError` where it does not answer; it may still be done later. Waited for in two steps: a page that
 * was itself held up finds its answers there between them.
 */
async function answered<T>(work: Promise<T>): Promise<T> {
  let waiting: ReturnType<typeof setTimeout> | undefined;
  const limit = new Promise<never>((_, reject) => {
    const half = (then: () => void) => {
      waiting = setTimeout(then, ANSWER_LIMIT_MS / 2);
    };
    half(() => half(() => reject(new StorageError('The browser’s storage does not answer.'))));
  });
  try {
    return await Promise.race([work, limit]);
  } finally {
    clearTimeout(waiting);
  }
}

const TAB = 'tab ';
const tabKey = (tab: string) => `${TAB}${tab}`;

async function putProject<P>(
  store: {
    get(key: string): Promise<unknown>;
    put(value: unknown, key: string): Promise<unknown>;
  },
  tab: string,
  { load, changedAt }: ProjectChange,
  next: (stored: SharedProject | null) => P,
): Promise<{ revision: number; project: P }> {
  const [project, last] = await Promise.all([store.get(AT_HAND), store.get('revision')]);
  const stored = project === undefined ? null : { project, revision: Number(last ?? 0) };
  const saved = { project: next(stored), revision: (stored?.revision ?? 0) + 1 };
  await Promise.all([
    store.put(saved.project, AT_HAND),
    store.put(saved.revision, 'revision'),
    store.put({ load, changedAt }, tabKey(tab)),
  ]);
  return saved;
}

/** What of an object store is needed to keep only so many entries in it. */
interface Shelf<Value> {
  add(value: Value): Promise<unknown>;
  count(): Promise<number>;
  getAllKeys(query?: null, count?: number): Promise<number[]>;
  delete(key: number): Promise<void>;
}

async function dropOldest(
  store: Pick<Shelf<never>, 'count' | 'getAllKeys' | 'delete'>,
  most: number,
) {
  const surplus = (await store.count()) - most;
  if (surplus <= 0) return;
  for (const key of await store.getAllKeys(null, surplus)) await store.delete(key);
}

async function addVersion(
  store: Shelf<Omit<PlanVersion, 'id'>> & {
    openCursor(query: null, direction: 'prev'): Promise<{ value: { text: string } } | null>;
  },
  plan: KeptPlan,
  occasion: string,
): Promise<void> {
  const newest = await store.openCursor(null, 'prev');
  if (newest?.value.text === plan.text) return;
  await store.add({ ...plan, occasion });
  await dropOldest(store, MAX_VERSIONS);
}

function toStorageError(error: unknown): StorageError {
  if (error instanceof StorageError) return error;
  const name = error instanceof Error ? error.name : '';
  if (name === 'QuotaExceededError') return new StorageError('The browser’s storage is full.');
  if (name === 'VersionError') {
    return new StorageError('A newer Lieflat has used this storage; reload the page.');
  }
  if (name === 'SecurityError')
    return new StorageError('This browser blocks storage for this page.');
  const reason = error instanceof Error && error.message ? ` (${error.message})` : '';
  return new StorageError(`The browser’s storage failed${reason}.`);
}
