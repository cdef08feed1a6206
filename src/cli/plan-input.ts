/** Files named on the command line → plan text or a project's, of a limited size. */
import { decodeText, otherDocument } from '../paper/plan-bytes.ts';
import type { Io } from './io.ts';
import { UsageError } from './usage-error.ts';

/** Longest plan text, bytes (DESIGN.md, Limits: 1 MB). */
export const LONGEST_PLAN_BYTES = 1_000_000;

/** Longest project, bytes: see `paper/project-file.ts`. */
const LONGEST_PROJECT_BYTES = 20_000_000;

/** Reads the plan named on the command line; `-` is the standard input. */
export function readPlanText(path: string, io: Io): Promise<string> {
  return readText(path, io, LONGEST_PLAN_BYTES, '1 MB, the longest plan that can be read');
}

/** The same for a whole project. */
export function readProjectText(path: string, io: Io): Promise<string> {
  return readText(path, io, LONGEST_PROJECT_BYTES, '20 MB, the longest project that can be read');
}

async function readText(path: string, io: Io, limit: number, longest: string): Promise<string> {
  const bytes = path === '-' ? await io.readStdin(limit) : await io.readFile(path, limit);
  const name = path === '-' ? 'the standard input' : path;
  if (bytes.length > limit) throw new UsageError(`${name} is longer than ${longest}`);
  const other = otherDocument(bytes);
  if (other) throw new UsageError(`${name} is ${other}: save its text as a plain text file first`);
  const text = decodeText(bytes);
  if (text === null) throw new UsageError(`${name} is not a text file`);
  return text;
}
