/**
 * What an action waits for is said when it takes longer than a moment, and an action that cannot be done says why: none
 * is dropped in silence. In: words for the user, and the work. Out: what the work gives.
 */
import { notify, putAway } from './page-store.ts';

/** After so long it is said that something is waited for. Chosen. */
const SLOW_MS = 1000;

let notices = 0;

/** `words`: what is waited for, e.g. `The new plan opens once the one before is kept.` */
export async function saidWhenLate<T>(words: string, work: Promise<T>): Promise<T> {
  const id = `late-${notices++}`;
  const late = setTimeout(() => notify(id, words), SLOW_MS);
  try {
    return await work;
  } finally {
    clearTimeout(late);
    putAway(id);
  }
}

/** A part of the page that is loaded when it is first asked for; null, and said, where it cannot be had. */
export async function partFor<Part>(
  action: string,
  load: () => Promise<Part>,
): Promise<Part | null> {
  try {
    return await saidWhenLate(`${action}: a part of the page is on its way.`, load());
  } catch {
    notify(
      'part',
      `${action}: not done, as a part of the page could not be loaded. Is the network gone? Nothing was changed.`,
    );
    return null;
  }
}
