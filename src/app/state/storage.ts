/**
 * The desk: what stays when the page is closed. The plan at hand, its earlier versions and
 * the project around it, kept in IndexedDB. Nothing leaves the browser.
 *
 * Every write is one transaction, so a killed tab leaves either the old text or the new one.
 * Failures are thrown as `DeskError` with words for the user; callers show them and work goes on.
 */
import type { DBSchema, IDBPDatabase } from 'idb';
import { openDB } from 'idb';

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

interface DeskSchema extends DBSchema {
  plan: { key: 'at hand'; value: KeptPlan };
  /** The project as plain data; whoever reads it checks it. */
  project: { key: 'at hand'; value: unknown };
  versions: { key: number; value: Omit<PlanVersion, 'id'> & { id?: number } };
}

export class DeskError extends Error {}

/** Versions kept; the oldest goes first. Chosen: about a month of daily work. */
const VERSIONS_KEPT = 200;
const OPEN_LIMIT_MS = 5000;

export class Desk {
  private opening: Promise<IDBPDatabase<DeskSchema>> | null = null;

  private open(): Promise<IDBPDatabase<DeskSchema>> {
    this.opening ??= this.openOnce().catch((error) => {
      this.opening = null;
      throw error;
    });
    return this.opening;
  }

  private async openOnce(): Promise<IDBPDatabase<DeskSchema>> {
    if (typeof indexedDB === 'undefined') {
      throw new DeskError('This browser has no storage for pages.');
    }
    // A damaged profile can leave the request unanswered for ever.
    const limit = new Promise<never>((_, reject) => {
      setTimeout(
        () => reject(new DeskError('The browser’s storage does not answer.')),
        OPEN_LIMIT_MS,
      );
    });
    return Promise.race([
      limit,
      openDB<DeskSchema>('lieflat', 2, {
        upgrade(db, from) {
          if (from < 1) {
            db.createObjectStore('plan');
            db.createObjectStore('versions', { keyPath: 'id', autoIncrement: true });
          }
          if (from < 2) db.createObjectStore('project');
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
    ]);
  }

  private async attempt<T>(work: (db: IDBPDatabase<DeskSchema>) => Promise<T>): Promise<T> {
    try {
      return await work(await this.open());
    } catch (error) {
      throw toDeskError(error);
    }
  }

  /** The plan that was at hand, or null on a first visit. */
  load(): Promise<KeptPlan | null> {
    return this.attempt(async (db) => {
      const kept = await db.get('plan', 'at hand');
      return kept && typeof kept.text === 'string' ? kept : null;
    });
  }

  save(plan: KeptPlan): Promise<void> {
    return this.attempt(async (db) => {
      await db.put('plan', plan, 'at hand');
    });
  }

  /** What was last saved as the project, unchecked; undefined where nothing was. */
  loadProject(): Promise<unknown> {
    return this.attempt((db) => db.get('project', 'at hand'));
  }

  saveProject(project: unknown): Promise<void> {
    return this.attempt(async (db) => {
      await db.put('project', project, 'at hand');
    });
  }

  /** Keeps a version unless the newest one has the same text. */
  keepVersion(plan: KeptPlan, occasion: string): Promise<void> {
    return this.attempt(async (db) => {
      const store = db.transaction('versions', 'readwrite').store;
      const newest = await store.openCursor(null, 'prev');
      if (newest?.value.text === plan.text) return;
      await store.add({ ...plan, occasion });
      let surplus = (await store.count()) - VERSIONS_KEPT;
      let oldest = surplus > 0 ? await store.openCursor() : null;
      while (oldest && surplus-- > 0) {
        await oldest.delete();
        oldest = await oldest.continue();
      }
    });
  }

  /** Newest first. */
  versions(): Promise<PlanVersion[]> {
    return this.attempt(async (db) => {
      const all = (await db.getAll('versions')) as PlanVersion[];
      return all.reverse();
    });
  }
}

function toDeskError(error: unknown): DeskError {
  if (error instanceof DeskError) return error;
  const name = error instanceof Error ? error.name : '';
  if (name === 'QuotaExceededError') return new DeskError('The browser’s storage is full.');
  if (name === 'VersionError') {
    return new DeskError('A newer Lieflat has used this storage; reload the page.');
  }
  if (name === 'SecurityError') return new DeskError('This browser blocks storage for this page.');
  const reason = error instanceof Error && error.message ? ` (${error.message})` : '';
  return new DeskError(`The browser’s storage failed${reason}.`);
}
