/** The page's database in another's hands. In: a page. Out: the way to let go of it. */
import type { Page } from 'playwright-core';

/** Nothing that the page asks of its database is answered until this is let go: another has it, for as long as it asks on. */
export async function holdStorage(page: Page): Promise<() => Promise<void>> {
  await page.evaluate(
    () =>
      new Promise<void>((resolve) => {
        const held = globalThis as { letGo?: boolean };
        held.letGo = false;
        const opening = indexedDB.open('lieflat');
        opening.onsuccess = () => {
          const db = opening.result;
          const names = [...db.objectStoreNames];
          const store = db.transaction(names, 'readwrite').objectStore(names[0]);
          const askOn = () => {
            resolve();
            if (held.letGo) db.close();
            else store.count().onsuccess = askOn;
          };
          askOn();
        };
      }),
  );
  return () =>
    page.evaluate(() => {
      (globalThis as { letGo?: boolean }).letGo = true;
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
