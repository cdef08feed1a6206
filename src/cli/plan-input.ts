/**
 * Bytes → plan text: what a knitter's file may be in practice. UTF-8, UTF-16 with its byte order
 * mark, or an old single-byte Western file; never binary data, and at most a megabyte.
 */
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
  const text = decodeText(bytes);
  if (text === null) throw new UsageError(`${name} is not a text file`);
  return text;
}

/** Null for what is no text. The byte order mark is dropped. */
export function decodeText(bytes: Uint8Array): string | null {
  let encoding = 'utf-8';
  if (bytes[0] === 0xff && bytes[1] === 0xfe) encoding = 'utf-16le';
  if (bytes[0] === 0xfe && bytes[1] === 0xff) encoding = 'utf-16be';
  let text: string;
  try {
    text = new TextDecoder(encoding, { fatal: true }).decode(bytes);
  } catch {
    if (encoding !== 'utf-8') return null;
    text = decodeWestern(bytes);
  }
  return looksBinary(text) ? null : text;
}

/**
 * What the bytes 80…9F stand for in Windows-1252 (WHATWG Encoding Standard, index-windows-1252).
 * Written out because the decoder of Node 20 takes them for control characters.
 */
const WESTERN_80 = '€\u0081‚ƒ„…†‡ˆ‰Š‹Œ\u008dŽ\u008f\u0090‘’“”•–—˜™š›œ\u009džŸ';

function decodeWestern(bytes: Uint8Array): string {
  const latin1 = new TextDecoder('latin1').decode(bytes);
  return latin1.replace(/[\u0080-\u009f]/g, (c) => WESTERN_80[c.charCodeAt(0) - 0x80]);
}

/** Control characters other than tab, line feed, form feed, carriage return mean data, not words. */
function looksBinary(text: string): boolean {
  for (let i = 0; i < text.length; i++) {
    const c = text.charCodeAt(i);
    if (c < 32 && c !== 9 && c !== 10 && c !== 12 && c !== 13 && c !== 11 && c !== 26) return true;
  }
  return false;
}
