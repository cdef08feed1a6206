/**
 * No output overwrites what the same call reads, or another of its outputs.
 * In: the outside world, and every path as it is read or about to be written. Out: a `UsageError` before any harm.
 */
import type { Command } from 'commander';
import type { Io } from './io.ts';
import { UsageError } from './usage-error.ts';

export interface OutputGuard {
  /** The outside world, watched: what is read and written through it is known. */
  readonly io: Io;
  /** Looks at a command's arguments and file options before it does anything. */
  check(command: Command): Promise<void>;
}

export function guardOutputs(io: Io): OutputGuard {
  const read = new Set<string>();
  const written = new Map<string, string>();

  const claim = async (path: string, by: string): Promise<void> => {
    if (path.trim() === '' || path === '-') {
      throw new UsageError(`${by} needs the name of a file; leave it out for the standard output`);
    }
    const place = await io.identify(path);
    if (place === null) return;
    if (read.has(place)) throw new UsageError(`${by} would overwrite what is read: ${path}`);
    if (place === io.identifyStream('out')) {
      throw new UsageError(`${by} and the standard output would both write ${path}`);
    }
    const other = written.get(place);
    if (other !== undefined && other !== by) {
      throw new UsageError(`${by} and ${other} would both write ${path}`);
    }
    written.set(place, by);
  };

  const note = async (path: string): Promise<void> => {
    const place = path === '-' ? io.identifyStream('in') : await io.identify(path);
    if (place === null) return;
    if (place === io.identifyStream('out')) {
      const what = path === '-' ? '' : `: ${path}`;
      throw new UsageError(`the standard output would be written into what is read${what}`);
    }
    read.add(place);
  };

  return {
    io: {
      ...io,
      async readFile(path, limit) {
        await note(path);
        return io.readFile(path, limit);
      },
      async writeFile(path, data) {
        const place = await io.identify(path);
        if (place !== null && read.has(place)) {
          throw new UsageError(`an output would overwrite what is read: ${path}`);
        }
        await io.writeFile(path, data);
      },
    },
    async check(command) {
      for (const argument of command.processedArgs) {
        if (typeof argument === 'string') await note(argument);
      }
      for (const option of command.options) {
        // An option's value called `<file>` is an output: that is the rule for every command.
        if (!option.flags.includes('<file>')) continue;
        const path = command.getOptionValue(option.attributeName());
        if (typeof path === 'string') await claim(path, option.long ?? option.flags);
      }
    },
  };
}
