/**
 * Everything the command touches outside itself, so that tests can run it without a process.
 * `nodeIo` is the real thing: files, standard streams, the clock.
 */
import { fstatSync } from 'node:fs';
import { open, realpath, rename, rm, stat, writeFile } from 'node:fs/promises';
import { basename, dirname, join, resolve } from 'node:path';
import { OutputError, UsageError } from './usage-error.ts';

export interface Io {
  out(text: string): void;
  err(text: string): void;
  /** Progress is shown only to a person at a terminal. */
  readonly errIsTerminal: boolean;
  /** At most `limit` + 1 bytes, so that an endless input ends. */
  readStdin(limit: number): Promise<Uint8Array>;
  readFile(path: string, limit: number): Promise<Uint8Array>;
  writeFile(path: string, data: string | Uint8Array): Promise<void>;
  /** The same for two paths to one file, there or not; null for what is no file, such as /dev/null. */
  identify(path: string): Promise<string | null>;
  /** As `identify`, of a standard stream that comes from a file or goes to one. */
  identifyStream(stream: 'in' | 'out'): string | null;
  /** Milliseconds from any fixed moment. */
  now(): number;
}

export function nodeIo(): Io {
  return {
    out(text) {
      try {
        process.stdout.write(text);
      } catch (error) {
        throw new OutputError(outputTrouble(error));
      }
    },
    err: (text) => void process.stderr.write(text),
    errIsTerminal: process.stderr.isTTY === true,
    readStdin,
    readFile: readStart,
    writeFile: writeWhole,
    identify,
    identifyStream,
    now: () => performance.now(),
  };
}

/** Beside it first and then in its place, so that a full disk leaves the file that was there. */
async function writeWhole(path: string, data: string | Uint8Array): Promise<void> {
  const part = join(dirname(path), `.${basename(path)}.${process.pid}.part`);
  try {
    const there = await stat(path).catch(() => null);
    if (there && !there.isFile()) {
      await writeFile(path, data);
      return;
    }
    await writeFile(part, data, there ? { mode: there.mode } : {});
    await rename(part, there ? await realpath(path) : path);
  } catch (error) {
    await rm(part, { force: true }).catch(() => {});
    throw new UsageError(`cannot write ${path}: ${fileTrouble(error)}`);
  }
}

async function identify(path: string): Promise<string | null> {
  const there = await stat(path).catch(() => null);
  if (there) return there.isFile() ? `${there.dev}:${there.ino}` : null;
  const folder = await realpath(dirname(resolve(path))).catch(() => dirname(resolve(path)));
  return join(folder, basename(path));
}

function identifyStream(stream: 'in' | 'out'): string | null {
  try {
    const there = fstatSync(stream === 'in' ? 0 : 1);
    return there.isFile() ? `${there.dev}:${there.ino}` : null;
  } catch {
    return null;
  }
}

/** Why the standard output takes no more. */
export function outputTrouble(error: unknown): string {
  return `cannot write the output: ${fileTrouble(error)}`;
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
  EDQUOT: 'the disk is full',
  EPIPE: 'its reader has gone',
  ENAMETOOLONG: 'the name is too long',
  EROFS: 'the disk is read-only',
};

function fileTrouble(error: unknown): string {
  const { code, message } = error as NodeJS.ErrnoException;
  return (code && TROUBLES[code]) || message;
}
