/** Keeps the page itself in the browser, so that it opens without a network; a newer one is offered, never forced. */
import { registerSW } from 'virtual:pwa-register';
import { notify, page, putAway } from './page-store.ts';

export function keepPage(): void {
  if (!('serviceWorker' in navigator)) return;
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
