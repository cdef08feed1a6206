/** The command's outside world held in memory: files, streams and a clock that stands still. */
import type { Io } from '../../src/cli/io.ts';
import { UsageError } from '../../src/cli/usage-error.ts';

export interface MemoryIo extends Io {
  readonly written: { out: string; err: string };
  readonly files: Map<string, string | Uint8Array>;
}

export function memoryIo(
  files: Record<string, string | Uint8Array> = {},
  stdin: string | Uint8Array = '',
  terminal = false,
): MemoryIo {
  const held = new Map(Object.entries(files));
  const written = { out: '', err: '' };
  const bytes = (data: string | Uint8Array) =>
    typeof data === 'string' ? new TextEncoder().encode(data) : data;
  return {
    written,
    files: held,
    errIsTerminal: terminal,
    out(text) {
      written.out += text;
    },
    err(text) {
      written.err += text;
    },
    readStdin: async (limit) => bytes(stdin).subarray(0, limit + 1),
    async readFile(path, limit) {
      const data = held.get(path);
      if (data === undefined) throw new UsageError(`cannot read ${path}: no such file`);
      return bytes(data).subarray(0, limit + 1);
    },
    async writeFile(path, data) {
      held.set(path, data);
    },
    identify: async (path) => path,
    identifyStream: () => null,
    now: () => 0,
  };
}
