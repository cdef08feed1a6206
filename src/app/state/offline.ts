/** Keeps the page itself in the browser, so that it opens without a network; a newer one is offered, never forced. */
import { registerSW } from 'virtual:pwa-register';
import { onceSettled } from './once-settled.ts';
import { notify, page, putAway } from './page-store.ts';

/**
 * On a first visit only once the fabric is at rest, or there is none to wait for: every file of the page is then fetched, checked
 * and written, which on two cores would take its share from the first picture.
 */
export function keepPage(): void {
  if (!('serviceWorker' in navigator)) return;
  if (navigator.serviceWorker.controller) register();
  else onceSettled(register);
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
