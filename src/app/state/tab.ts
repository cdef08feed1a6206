/**
 * This tab among the other tabs of the page: its id, which of them are open, and what they tell each other.
 * A tab holds a Web Lock with its id for as long as it lives, so that a copied or a closed tab is known as such.
 */

export type TabMessage =
  /** A plan was saved; prints of its text now and of what it replaced, see `printOf`. */
  | { readonly kind: 'plan'; readonly tab: string; readonly now: string; readonly was: string }
  | { readonly kind: 'project'; readonly tab: string; readonly revision: number };

const KEY = 'lieflat-tab';
const LOCK = 'lieflat-tab-';
/** A reloaded page's lock is let go at once; a copied tab's never. Chosen. */
const LOCK_WAIT_MS = 250;

let id = '';
let channel: BroadcastChannel | null = null;

/** Id of this tab; the same after a reload, another one in a copied tab. */
export async function openTab(): Promise<string> {
  if (id) return id;
  const kept = readSession();
  const free = kept !== null && (await holdLock(kept));
  const own = free ? kept : newName();
  if (!free) void holdLock(own);
  try {
    sessionStorage.setItem(KEY, own);
  } catch {
    // Storage for pages is blocked: the tab is a new one after a reload.
  }
  id = own;
  return own;
}

/** Ids of the tabs that are open now, this one included; null where the browser cannot tell. */
export async function openTabs(): Promise<Set<string> | null> {
  if (!navigator.locks) return null;
  const { held = [] } = await navigator.locks.query();
  const tabs = held.flatMap(({ name }) =>
    name?.startsWith(LOCK) ? [name.slice(LOCK.length)] : [],
  );
  return new Set([...tabs, id]);
}

export function hearTabs(listener: (message: TabMessage) => void): void {
  if (typeof BroadcastChannel === 'undefined') return;
  channel ??= new BroadcastChannel('lieflat');
  channel.onmessage = ({ data }: MessageEvent<TabMessage>) => {
    if (data.tab !== id) listener(data);
  };
}

export function tellTabs(message: TabMessage): void {
  channel?.postMessage(message);
}

/** Tells texts apart at little cost: FNV-1a of 32 bits, and the length. */
export function printOf(text: string): string {
  let hash = 0x811c9dc5;
  for (let i = 0; i < text.length; i++) {
    hash = Math.imul(hash ^ text.charCodeAt(i), 0x01000193);
  }
  return `${hash >>> 0}:${text.length}`;
}

function readSession(): string | null {
  try {
    return sessionStorage.getItem(KEY);
  } catch {
    return null;
  }
}

/** A name that nothing else has. */
export function newName(): string {
  const numbers = crypto.getRandomValues(new Uint32Array(3));
  return Array.from(numbers, (n) => n.toString(36)).join('');
}

/** False where another tab holds it. Held until the page goes. */
function holdLock(tab: string): Promise<boolean> {
  if (!navigator.locks) return Promise.resolve(true);
  return new Promise((resolve) => {
    navigator.locks
      .request(LOCK + tab, { signal: AbortSignal.timeout(LOCK_WAIT_MS) }, () => {
        resolve(true);
        return new Promise<never>(() => {});
      })
      .catch(() => resolve(false));
  });
}
