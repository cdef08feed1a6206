/**
 * The plan of a page that goes before a write is sure to end: left in the session's storage, which is written at once
 * and is this tab's alone. Taken back when the tab is loaded again, also where it does not get its id back.
 */
import type { KeptPlan } from './storage.ts';

const KEY = 'lieflat-last';

export function leaveLastWords(plan: KeptPlan): void {
  try {
    sessionStorage.setItem(KEY, JSON.stringify({ plan }));
  } catch {
    // Full or blocked: the write to the storage has still been asked for.
  }
}

export function takeLastWords(): KeptPlan | null {
  try {
    const left = sessionStorage.getItem(KEY);
    sessionStorage.removeItem(KEY);
    const { plan } = JSON.parse(left ?? '{}') as { plan?: KeptPlan };
    return typeof plan?.text === 'string' ? plan : null;
  } catch {
    return null;
  }
}
