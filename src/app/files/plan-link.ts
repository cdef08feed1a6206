/**
 * A link that carries the plan itself, in its fragment: the part of an address that browsers keep to
 * themselves and send to no server.
 *
 * Form: `#plan=z.…` (deflated) or `#plan=t.…` (as it is, where the browser cannot deflate), in
 * base64url of UTF-8. Decoding stops at the parser's limit, whatever a link claims to hold.
 */
import { LARGEST_PLAN_BYTES } from './plan-files.ts';

const KEY = '#plan=';

export async function planFragment(text: string): Promise<string> {
  const bytes = new TextEncoder().encode(text);
  if (typeof CompressionStream === 'undefined') return `${KEY}t.${toBase64Url(bytes)}`;
  const packed = await readUpTo(through(bytes, new CompressionStream('deflate-raw')), Infinity);
  return `${KEY}z.${toBase64Url(packed)}`;
}

/** Null where the address carries no plan. Throws an Error with words for the user. */
export async function planOfFragment(fragment: string): Promise<string | null> {
  if (!fragment.startsWith(KEY)) return null;
  const form = fragment.slice(KEY.length, KEY.length + 2);
  let bytes: Uint8Array<ArrayBuffer>;
  try {
    bytes = fromBase64Url(fragment.slice(KEY.length + 2));
    if (form === 'z.') {
      bytes = await readUpTo(
        through(bytes, new DecompressionStream('deflate-raw')),
        LARGEST_PLAN_BYTES,
      );
    } else if (form !== 't.') throw new Error('unknown form');
    if (bytes.length > LARGEST_PLAN_BYTES) throw new TooLong();
    const text = new TextDecoder('utf-8', { fatal: true }).decode(bytes);
    if (text.includes('\0') || text.trim() === '') throw new Error('no plan');
    return text;
  } catch (error) {
    if (error instanceof TooLong) throw new Error('The plan in this link is larger than 1 MB.');
    throw new Error('The plan in this link is damaged: perhaps a part of the link is missing.');
  }
}

class TooLong extends Error {}

function through(
  bytes: Uint8Array<ArrayBuffer>,
  stream: CompressionStream | DecompressionStream,
): ReadableStream<Uint8Array> {
  return new Blob([bytes]).stream().pipeThrough(stream);
}

async function readUpTo(
  stream: ReadableStream<Uint8Array>,
  most: number,
): Promise<Uint8Array<ArrayBuffer>> {
  const reader = stream.getReader();
  const parts: Uint8Array[] = [];
  let length = 0;
  for (;;) {
    const { done, value } = await reader.read();
    if (done) break;
    parts.push(value);
    length += value.length;
    if (length > most) {
      await reader.cancel();
      throw new TooLong();
    }
  }
  const all = new Uint8Array(length);
  let at = 0;
  for (const part of parts) {
    all.set(part, at);
    at += part.length;
  }
  return all;
}

function toBase64Url(bytes: Uint8Array): string {
  let binary = '';
  for (const byte of bytes) binary += String.fromCharCode(byte);
  return btoa(binary).replaceAll('+', '-').replaceAll('/', '_').replace(/=+$/, '');
}

function fromBase64Url(text: string): Uint8Array<ArrayBuffer> {
  const binary = atob(text.replaceAll('-', '+').replaceAll('_', '/'));
  const bytes = new Uint8Array(binary.length);
  for (let i = 0; i < binary.length; i++) bytes[i] = binary.charCodeAt(i);
  return bytes;
}
