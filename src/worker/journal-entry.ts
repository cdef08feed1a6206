/**
 * The worker that writes each change of plan and project into a file of the page's own file system, at once and by itself: it
 * waits for no database, no timer and no other tab. Two files take turns, so that a write cut off leaves the one before.
 * In: `JournalRequest`. Out: the number of each record once the system has it, which outlives the browser, or why none can be.
 */
import { encodeRecord, type JournalRecord } from './journal-record.ts';

/** `files`: names that no one else uses, told first; then the records. */
export type JournalRequest =
  | { readonly type: 'open'; readonly folder: string; readonly files: readonly [string, string] }
  | { readonly type: 'write'; readonly record: JournalRecord };

export type JournalAnswer =
  | { readonly type: 'written'; readonly number: number }
  | { readonly type: 'failed'; readonly message: string };

const scope = self as unknown as DedicatedWorkerGlobalScope;
let opening: Promise<FileSystemSyncAccessHandle[]> = Promise.reject(new Error('not opened'));
opening.catch(() => {});

scope.onmessage = async ({ data }: MessageEvent<JournalRequest>) => {
  try {
    if (data.type === 'open') {
      opening = openFiles(data.folder, data.files);
      await opening;
      return;
    }
    const handles = await opening;
    const { record } = data;
    const bytes = encodeRecord(record);
    const handle = handles[record.number % handles.length];
    if (handle.write(bytes, { at: 0 }) < bytes.length) throw new Error('written in part only');
    answer({ type: 'written', number: record.number });
  } catch (error) {
    answer({ type: 'failed', message: error instanceof Error ? error.message : String(error) });
  }
};

const answer = (message: JournalAnswer) => scope.postMessage(message);

async function openFiles(folder: string, names: readonly string[]) {
  const root = await navigator.storage.getDirectory();
  const directory = await root.getDirectoryHandle(folder, { create: true });
  return Promise.all(
    names.map(async (name) => {
      const file = await directory.getFileHandle(name, { create: true });
      return file.createSyncAccessHandle();
    }),
  );
}
