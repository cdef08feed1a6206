/**
 * The journal: each change of plan and project on its way to a file at once, ahead of the database, which may be slow or stuck.
 * Every load of the page writes files of its own, so no tab waits for another or writes over it.
 * In: both at each change. Out: at the next start what was left behind, newest record of each load.
 */
import type { JournalAnswer, JournalRequest } from '../../worker/journal-entry.ts';
import {
  decodeRecord,
  type JournalEntry,
  type JournalRecord,
} from '../../worker/journal-record.ts';
import { newName } from './tab.ts';

export interface LeftJournal {
  readonly record: JournalRecord;
  /** Takes it away; one that is being written stays. */
  drop(): Promise<void>;
}

const FOLDER = 'journal';
/** Between the name of a load and which of its two files it is. */
const TURN = '.';
/** A file system that does not answer must not hold up the page; what it holds is read at a later start. Chosen. */
const ANSWER_LIMIT_MS = 3000;

/** A worker that does not say for so long that it has written is not there; another takes its place. Chosen. */
const WRITE_LIMIT_MS = 5000;
/** Where files cannot be had at all, the database saves alone. Chosen. */
const MOST_STARTS = 4;

let worker: Worker | null = null;
let tab = '';
let number = 0;
let starts = 0;
/** What is being written, and since when. */
let writing: { readonly entry: JournalEntry; readonly since: number } | null = null;
/** What is written after it. */
let next: JournalEntry | null = null;

/** Has the files opened, so that the first change finds them ready. */
export function openJournal(ofTab: string): void {
  tab = ofTab;
  if (!worker) startWorker();
}

function startWorker(): void {
  worker?.terminate();
  worker = null;
  writing = null;
  if (starts++ >= MOST_STARTS) return;
  let own: Worker;
  try {
    own = new Worker(new URL('../../worker/journal-entry.ts', import.meta.url), {
      type: 'module',
      name: 'journal',
    });
  } catch {
    return;
  }
  worker = own;
  own.onmessage = ({ data }: MessageEvent<JournalAnswer>) => {
    if (data.type === 'failed') startAgain();
    else writeNext();
  };
  own.onerror = startAgain;
  const load = `${Math.trunc(performance.timeOrigin).toString(36)}-${newName()}`;
  ask({ type: 'open', folder: FOLDER, files: [`${load}${TURN}0`, `${load}${TURN}1`] });
}

/** With files of other names: whatever was wrong with these may be right with those. */
function startAgain(): void {
  next ??= writing?.entry ?? null;
  startWorker();
  writeNext();
}

const ask = (request: JournalRequest) => worker?.postMessage(request);

function writeNext(): void {
  writing = null;
  const entry = next;
  next = null;
  if (entry) journal(entry);
}

/** Writes all as it is now. While one is being written only the newest waits. */
export function journal(entry: JournalEntry): void {
  if (!worker) return;
  if (writing) {
    next = entry;
    if (Date.now() - writing.since > WRITE_LIMIT_MS) startAgain();
    return;
  }
  writing = { entry, since: Date.now() };
  number++;
  ask({ type: 'write', record: { ...entry, tab, number } });
}

/** What earlier loads of the page, and other tabs, have left; none where the browser has no such files. */
export async function leftJournals(): Promise<LeftJournal[]> {
  const late = new Promise<LeftJournal[]>((resolve) => setTimeout(resolve, ANSWER_LIMIT_MS, []));
  return Promise.race([readAll().catch(() => []), late]);
}

async function readAll(): Promise<LeftJournal[]> {
  const root = await navigator.storage.getDirectory();
  const folder = await root.getDirectoryHandle(FOLDER, { create: true });
  const loads = new Map<string, Promise<JournalRecord | null>[]>();
  for await (const [name, handle] of folder.entries()) {
    const load = name.slice(0, name.lastIndexOf(TURN));
    loads.set(load, [...(loads.get(load) ?? []), readRecord(handle as FileSystemFileHandle)]);
  }
  const left: LeftJournal[] = [];
  for (const [load, reading] of loads) {
    const records = (await Promise.all(reading)).filter((record) => record !== null);
    const record = records.sort((a, b) => a.number - b.number).at(-1);
    const drop = async () => {
      for (let turn = 0; turn < reading.length; turn++) {
        // Where it is still being written.
        await folder.removeEntry(`${load}${TURN}${turn}`).catch(() => {});
      }
    };
    if (record) left.push({ record, drop });
    else await drop();
  }
  return left;
}

async function readRecord(file: FileSystemFileHandle): Promise<JournalRecord | null> {
  return decodeRecord(new Uint8Array(await (await file.getFile()).arrayBuffer()));
}
