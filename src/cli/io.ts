/**
 * Everything the command touches outside itself, so that tests can run it without a process.
 * `nodeIo` is the real thing: files, standard streams, the clock.
 */
import { open, writeFile } from 'node:fs/promises';
import { UsageError } from './usage-error.ts';

export interface Io {
  out(text: string): void;
  err(text: string): void;
  /** Progress is shown only to a person at a terminal. */
  readonly errIsTerminal: boolean;
  /** At most `limit` + 1 bytes, so that an endless input ends. */
  readStdin(limit: number): Promise<Uint8Array>;
  readFile(path: string, limit: number): Promise<Uint8Array>;
  writeFile(path: string, data: string | Uint8Array): Promise<void>;
  /** Milliseconds from any fixed moment. */
  now(): number;
}

export function nodeIo(): Io {
  return {
    out: (text) => void process.stdout.write(text),
    err: (text) => void process.stderr.write(text),
    errIsTerminal: process.stderr.isTTY === true,
    readStdin,
    readFile: readStart,
    async writeFile(path, data) {
      try {
        await writeFile(path, data);
      } catch (error) {
        throw new UsageError(`cannot write ${path}: ${fileTrouble(error)}`);
      }
    },
    now: () => performance.now(),
  };
}

async function readStdin(limit: number): Promise<Uint8Array> {
  const parts: Uint8Array[] = [];
  let size = 0;
  try {
    for await (const part of process.stdin) {
      parts.push(part as Uint8Array);
      size += (part as Uint8Array).length;
      if (size > limit) break;
    }
  } catch (error) {
    throw new UsageError(`cannot read the standard input: ${fileTrouble(error)}`);
  }
  return Buffer.concat(parts).subarray(0, limit + 1);
}

/** Reads no more than it must: a device or a huge file given by mistake does no harm. */
async function readStart(path: string, limit: number): Promise<Uint8Array> {
  try {
    const file = await open(path, 'r');
    try {
      const bytes = new Uint8Array(limit + 1);
      let size = 0;
      while (size < bytes.length) {
        const { bytesRead } = await file.read(bytes, size, bytes.length - size, null);
        if (bytesRead === 0) break;
        size += bytesRead;
      }
      return bytes.subarray(0, size);
    } finally {
      await file.close();
    }
  } catch (error) {
    throw new UsageError(`cannot read ${path}: ${fileTrouble(error)}`);
  }
}

const TROUBLES: Record<string, string> = {
  ENOENT: 'there is no such file or folder',
  EISDIR: 'it is a folder',
  ENOTDIR: 'part of the path is not a folder',
  EACCES: 'you have no permission',
  EPERM: 'you have no permission',
  ENOSPC: 'the disk is full',
  ENAMETOOLONG: 'the name is too long',
  EROFS: 'the disk is read-only',
};

function fileTrouble(error: unknown): string {
  const { code, message } = error as NodeJS.ErrnoException;
  return (code && TROUBLES[code]) || message;
}
