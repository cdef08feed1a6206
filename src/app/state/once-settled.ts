/** What can wait at the start until the first fabric has come to rest, or there is none to wait for. */
import { page, type Work } from './page-store.ts';

/** A fabric that takes longer no longer holds it up. Chosen. */
const LATEST_MS = 20_000;
const BUSY: readonly Work['state'][] = ['idle', 'laying-out', 'relaxing'];

export function onceSettled(then: () => void): void {
  let waits = true;
  const go = () => {
    if (!waits) return;
    waits = false;
    clearTimeout(latest);
    stop();
    then();
  };
  const latest = setTimeout(go, LATEST_MS);
  const stop = page.subscribe(({ work }) => {
    if (!BUSY.includes(work.state)) go();
  });
  if (!BUSY.includes(page.get().work.state)) go();
}
