/** Keeps the page itself in the browser, so that it opens without a network; a newer one is offered, never forced. */
import { registerSW } from 'virtual:pwa-register';
import { notify, page, putAway, type Work } from './page-store.ts';

/** A fabric that takes longer no longer holds it up. Chosen. */
const LATEST_MS = 20_000;

/**
 * On a first visit only once the fabric is at rest, or there is none to wait for: every file of the page is then fetched, checked
 * and written, which on two cores would take its share from the first picture.
 */
export function keepPage(): void {
  if (!('serviceWorker' in navigator)) return;
  if (navigator.serviceWorker.controller) register();
  else onceSettled(register);
}

const BUSY: readonly Work['state'][] = ['idle', 'laying-out', 'relaxing'];

function onceSettled(then: () => void): void {
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
}

function register(): void {
  const load = registerSW({
    onNeedRefresh: () => {
      notify('update', 'A newer Lieflat is here. Your work is kept.', {
        name: 'Load it',
        run: () => {
          putAway('update');
          void load(true);
        },
      });
    },
    onOfflineReady: () => page.set({ announcement: 'Lieflat now also opens without a network.' }),
  });
}
