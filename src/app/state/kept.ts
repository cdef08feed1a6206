/** The page's one storage, and how its failures reach the user. */
import { notify, putAway } from './page-store.ts';
import { Storage, StorageError } from './storage.ts';

/** A killed tab loses at most this much work and the time of one write. Chosen. */
export const SAVE_EVERY_MS = 300;

export const storage = new Storage();

/** Trouble is said on the page, not thrown; false where there was some. */
export async function guarded(work: () => Promise<void>): Promise<boolean> {
  try {
    await work();
    putAway('storage');
    return true;
  } catch (error) {
    const reason = error instanceof StorageError ? error.message : String(error);
    notify(
      'storage',
      `Your work is not being kept: ${reason} Save the plan to a file before you close the page.`,
    );
    return false;
  }
}
