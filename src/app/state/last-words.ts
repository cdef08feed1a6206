/**
 * The plan of a page that goes before a write is sure to end: left in the session's storage, which is written at once.
 * Taken back when the same tab is loaded again.
 */
import type { KeptPlan } from './storage.ts';

const KEY = 'lieflat-last';

export function leaveLastWords(tab: string, plan: KeptPlan): void {
  try {
    sessionStorage.setItem(KEY, JSON.stringify({ tab, plan }));
  } catch {
    // Full or blocked: the write to the storage has still been asked for.
  }
}

export function takeLastWords(tab: string): KeptPlan | null {
  try {
    const left = sessionStorage.getItem(KEY);
    sessionStorage.removeItem(KEY);
    const { tab: of, plan } = JSON.parse(left ?? '{}') as { tab?: string; plan?: KeptPlan };
    return of === tab && typeof plan?.text === 'string' ? plan : null;
  } catch {
    return null;
  }
}
