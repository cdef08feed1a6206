/**
 * The last finished fabric, kept for the next visit, so that its verdict and its picture are there at once.
 * In: what came to rest, and the picture of it. Out: the same with its time, and whether this Lieflat made it.
 * It lies in a store of its own: losing it costs a few seconds of waiting and nothing else.
 */
import { type DBSchema, type IDBPDatabase, openDB } from 'idb';
import type { KnittedSheet } from '../../worker/messages.ts';

export interface KeptFabric {
  readonly text: string;
  readonly knitted: KnittedSheet;
  /** Milliseconds since 1970. */
  readonly savedAt: number;
  /** Whether its advice had been found. */
  readonly advised: boolean;
  /** The model that worked it out: a later one may say otherwise. */
  readonly model: string;
}

export interface KeptPicture {
  readonly text: string;
  readonly picture: Blob;
  /** Tells whatever it shows, and from where: the same again is not drawn and written once more. */
  readonly mark: string;
}

interface FabricSchema extends DBSchema {
  fabric: { key: 'last'; value: KeptFabric };
  picture: { key: 'last'; value: KeptPicture };
}

/** A larger piece takes longer to write and read than is worth it. Chosen: about 30 MB. */
const MOST_LOOPS = 30_000;
/** A browser whose storage does not answer must not hold up the page. Chosen. */
const ANSWER_LIMIT_MS = 3000;

const MODEL = String(import.meta.env.MODEL_MARK ?? '');

let opening: Promise<IDBPDatabase<FabricSchema>> | null = null;

function open(): Promise<IDBPDatabase<FabricSchema>> {
  opening ??= openDB<FabricSchema>('lieflat-fabric', 1, {
    upgrade(db) {
      db.createObjectStore('fabric');
      db.createObjectStore('picture');
    },
    blocking: (_from, _to, event) => {
      (event.target as IDBDatabase).close();
      opening = null;
    },
    terminated: () => {
      opening = null;
    },
  });
  return opening;
}

/**
 * Null where nothing is kept or it cannot be had; never throws, as nothing of the user's is lost. Waited for in two steps: a
 * page that was itself held up finds the answer there between them.
 */
async function attempt<T>(work: (db: IDBPDatabase<FabricSchema>) => Promise<T>): Promise<T | null> {
  try {
    const half = (then: () => void) => setTimeout(then, ANSWER_LIMIT_MS / 2);
    const late = new Promise<null>((resolve) => half(() => half(() => resolve(null))));
    return await Promise.race([open().then(work), late]);
  } catch {
    opening = null;
    return null;
  }
}

export async function loadKeptFabric(): Promise<KeptFabric | null> {
  const kept = await attempt((db) => db.get('fabric', 'last'));
  const whole = kept?.knitted?.report && kept.knitted.sheet?.positions && kept.knitted.graph;
  return whole && typeof kept.text === 'string' && kept.model === MODEL ? kept : null;
}

/** Of the picture that is kept. */
let keptMark = '';

export async function loadKeptPicture(): Promise<KeptPicture | null> {
  const kept = await attempt((db) => db.get('picture', 'last'));
  if (!(kept && kept.picture instanceof Blob)) return null;
  keptMark = kept.mark;
  return kept;
}

/** With the address of the page's script, which is another in every Lieflat: it may draw the same otherwise. */
export const markOf = (...shown: readonly unknown[]): string =>
  JSON.stringify([document.scripts[0]?.src, ...shown]);

export const isPictureKept = (mark: string): boolean => mark === keptMark;

export async function keepFabric(
  text: string,
  knitted: KnittedSheet,
  advised: boolean,
): Promise<void> {
  if (knitted.graph.loops > MOST_LOOPS || !knitted.sheet.relaxation.converged) return;
  await attempt((db) =>
    db.put('fabric', { text, knitted, advised, savedAt: Date.now(), model: MODEL }, 'last'),
  );
}

export async function keepPicture(kept: KeptPicture): Promise<void> {
  keptMark = kept.mark;
  await attempt((db) => db.put('picture', kept, 'last'));
}
