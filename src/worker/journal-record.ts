/**
 * One record of the journal as bytes: what a file holds of the plan as it was last changed, and of the project while it is
 * not saved. A write cut off by a crash is known by its sum.
 * In and out: plan, project, number of the record (grows by one), bytes: 16 of header, then JSON as UTF-8.
 */
export interface JournalRecord extends JournalEntry {
  /** The tab that wrote it. */
  readonly tab: string;
  readonly number: number;
}

export interface JournalEntry {
  readonly text: string;
  readonly fileName: string;
  /** When the text was changed, milliseconds since 1970; 0 where it was not since the page was loaded. */
  readonly savedAt: number;
  /** Null where all of it is saved. */
  readonly project: UnsavedProject | null;
}

/** Names a change among all that there ever are. */
export interface ProjectChange {
  /** The load of the page that made it. */
  readonly load: string;
  /** Milliseconds since 1970; grows with every change of a load. */
  readonly changedAt: number;
}

/** A project that was changed, with what it was changed from, so that it can go together with what others saved meanwhile. */
export interface UnsavedProject extends ProjectChange {
  readonly mine: unknown;
  readonly base: unknown;
  /** Of the base in the storage. */
  readonly revision: number;
}

const MARK = 0x4c46_4a31;
const HEADER = 16;

/** FNV-1a of 32 bits. */
function sumOf(bytes: Uint8Array): number {
  let hash = 0x811c_9dc5;
  for (const byte of bytes) hash = Math.imul(hash ^ byte, 0x0100_0193);
  return hash >>> 0;
}

export function encodeRecord(record: JournalRecord): Uint8Array<ArrayBuffer> {
  const body = new TextEncoder().encode(JSON.stringify(record));
  const bytes = new Uint8Array(HEADER + body.length);
  const header = new DataView(bytes.buffer);
  header.setUint32(0, MARK);
  header.setUint32(4, record.number);
  header.setUint32(8, body.length);
  header.setUint32(12, sumOf(body));
  bytes.set(body, HEADER);
  return bytes;
}

/** Null where the bytes are no whole record; what stands behind the record is passed over. */
export function decodeRecord(bytes: Uint8Array): JournalRecord | null {
  if (bytes.length < HEADER) return null;
  const header = new DataView(bytes.buffer, bytes.byteOffset, HEADER);
  const body = bytes.subarray(HEADER, HEADER + header.getUint32(8));
  if (header.getUint32(0) !== MARK || body.length !== header.getUint32(8)) return null;
  if (sumOf(body) !== header.getUint32(12)) return null;
  try {
    const record = JSON.parse(new TextDecoder().decode(body)) as JournalRecord;
    if (typeof record.text !== 'string' || typeof record.tab !== 'string') return null;
    // A former Lieflat wrote none.
    return { ...record, project: record.project ?? null };
  } catch {
    return null;
  }
}
