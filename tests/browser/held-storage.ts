/** A database of the page that answers nothing for as long as a test wants it so. */
import type { Page } from 'playwright-core';

const HOLDER = 'hold-storage.js';

/**
 * A worker in the midst of a change of all the database, which everything else has to wait for. It sleeps there: asked for
 * one thing after the other instead, the browser would be at work all the while.
 */
const ASLEEP = `onmessage = ({ data }) => {
  const opening = indexedDB.open('lieflat');
  opening.onsuccess = () => {
    const db = opening.result;
    const names = [...db.objectStoreNames];
    const store = db.transaction(names, 'readwrite').objectStore(names[0]);
    store.count().onsuccess = () => {
      store.count();
      postMessage({ type: 'held' });
      Atomics.wait(new Int32Array(data), 0, 0);
      db.close();
    };
  };
};
`;

/** Holds the storage of the page until the function that is given back is called. */
export async function holdStorage(page: Page): Promise<() => Promise<void>> {
  await page.route(`**/${HOLDER}`, (route) =>
    route.fulfill({
      contentType: 'text/javascript',
      headers: { 'Cross-Origin-Embedder-Policy': 'require-corp' },
      body: ASLEEP,
    }),
  );
  await page.evaluate(
    (address) =>
      new Promise<void>((resolve) => {
        const waked = new SharedArrayBuffer(4);
        const holder = new Worker(address);
        Object.assign(globalThis, { waked, holder });
        holder.addEventListener('message', () => resolve());
        holder.postMessage(waked);
      }),
    HOLDER,
  );
  return () =>
    page.evaluate(() => {
      const { waked } = globalThis as unknown as { waked: SharedArrayBuffer };
      const view = new Int32Array(waked);
      Atomics.store(view, 0, 1);
      Atomics.notify(view, 0);
    });
}

/** To be run in a page before anything of it: its patience with the storage does not end, however slow the machine is. */
export function withoutLimit(): void {
  const { setTimeout: own } = globalThis;
  /** Halves of the page's limits: `app/state/storage.ts` and `kept-fabric.ts` wait for them in two steps. */
  const halves = [5000, 1500];
  const patient = (work: () => void, ms = 0, ...rest: unknown[]) =>
    own(work, halves.includes(ms) ? 3_600_000 : ms, ...rest);
  Object.assign(globalThis, { setTimeout: patient });
}
