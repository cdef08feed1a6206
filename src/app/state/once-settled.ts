/** What waits for the page's state, and no longer than so many milliseconds. */
import { type PageState, page, type Work } from './page-store.ts';

/** A fabric that takes longer no longer holds up what can wait at the start. Chosen. */
const LATEST_MS = 20_000;
const BUSY: readonly Work['state'][] = ['idle', 'laying-out', 'relaxing'];

/** Once, when `holds` does or `latestMs` have gone by. */
export function oncePage(
  holds: (state: PageState) => boolean,
  latestMs: number,
  then: () => void,
): void {
  let waits = true;
  const go = () => {
    if (!waits) return;
    waits = false;
    clearTimeout(latest);
    stop();
    then();
  };
  const latest = setTimeout(go, latestMs);
  const stop = page.subscribe((state) => {
    if (holds(state)) go();
  });
  if (holds(page.get())) go();
}

/** What can wait at the start until the first fabric has come to rest, or there is none to wait for. */
export function onceSettled(then: () => void): void {
  oncePage(({ work }) => !BUSY.includes(work.state), LATEST_MS, then);
}
