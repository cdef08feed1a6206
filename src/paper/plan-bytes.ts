/**
 * Bytes → plan text: what a knitter's file may be in practice. UTF-8, UTF-16 with its byte order mark, or an old
 * single-byte Western file; never binary data. Other documents are told by how they begin.
 */
import { strFromU8, strToU8 } from 'fflate';

/** Null for what is no text. The byte order mark is dropped. */
export function decodeText(bytes: Uint8Array): string | null {
  if (begins(bytes, [0xff, 0xfe])) return checked(decodePairs(bytes.subarray(2), 0));
  if (begins(bytes, [0xfe, 0xff])) return checked(decodePairs(bytes.subarray(2), 1));
  const body = begins(bytes, [0xef, 0xbb, 0xbf]) ? bytes.subarray(3) : bytes;
  const text = strFromU8(body);
  return checked(same(strToU8(text), body) ? text : decodeWestern(bytes));
}

/** First bytes of files that are taken for plans by mistake; those of RTF and old word processors from memory, the others
 * as in the WHATWG MIME Sniffing Standard. */
const DOCUMENTS: readonly (readonly [first: readonly number[], what: string])[] = [
  [[0x25, 0x50, 0x44, 0x46, 0x2d], 'a PDF'],
  [[0x7b, 0x5c, 0x72, 0x74, 0x66], 'a word processor’s document'],
  [[0xd0, 0xcf, 0x11, 0xe0], 'a word processor’s document'],
  [[0x50, 0x4b, 0x03, 0x04], 'a word processor’s document or an archive'],
  [[0x89, 0x50, 0x4e, 0x47], 'a picture'],
  [[0xff, 0xd8, 0xff], 'a picture'],
  [[0x47, 0x49, 0x46, 0x38], 'a picture'],
];

/** What a file is that holds no plain text, such as “a PDF”; null where its beginning does not tell. */
export function otherDocument(bytes: Uint8Array): string | null {
  return DOCUMENTS.find(([first]) => begins(bytes, first))?.[1] ?? null;
}

function begins(bytes: Uint8Array, first: readonly number[]): boolean {
  return first.every((byte, i) => bytes[i] === byte);
}

function same(a: Uint8Array, b: Uint8Array): boolean {
  return a.length === b.length && a.every((byte, i) => byte === b[i]);
}

/** UTF-16; `low` is where the lower byte of each pair stands. Null where a pair or half a letter is missing. */
function decodePairs(bytes: Uint8Array, low: 0 | 1): string | null {
  if (bytes.length % 2 !== 0) return null;
  const parts: string[] = [];
  for (let i = 0; i < bytes.length; i += 2) {
    parts.push(String.fromCharCode(256 * bytes[i + 1 - low] + bytes[i + low]));
  }
  const text = parts.join('');
  return strFromU8(strToU8(text)) === text ? text : null;
}

/**
 * What the bytes 80…9F stand for in Windows-1252 (WHATWG Encoding Standard, index-windows-1252).
 * Written out because the decoder of Node 20 takes them for control characters.
 */
const WESTERN_80 = '€\u0081‚ƒ„…†‡ˆ‰Š‹Œ\u008dŽ\u008f\u0090‘’“”•–—˜™š›œ\u009džŸ';

function decodeWestern(bytes: Uint8Array): string {
  return strFromU8(bytes, true).replace(
    /[\u0080-\u009f]/g,
    (c) => WESTERN_80[c.charCodeAt(0) - 0x80],
  );
}

/** Control characters other than tab, line feed, form feed, carriage return mean data, not words. */
function checked(text: string | null): string | null {
  if (text === null) return null;
  for (let i = 0; i < text.length; i++) {
    const c = text.charCodeAt(i);
    if (c < 32 && c !== 9 && c !== 10 && c !== 12 && c !== 13 && c !== 11 && c !== 26) return null;
  }
  return text;
}
