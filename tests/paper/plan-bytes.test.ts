import { describe, expect, it } from 'vitest';
import { decodeText, otherDocument } from '../../src/paper/plan-bytes.ts';

const bytes = (...list: number[]) => Uint8Array.from(list);

describe('a plan file', () => {
  it('may be UTF-8, with or without a byte order mark', () => {
    expect(decodeText(new TextEncoder().encode('Rounds 1–4'))).toBe('Rounds 1–4');
    expect(decodeText(bytes(0xef, 0xbb, 0xbf, 0x6b, 0x31))).toBe('k1');
  });

  it('may be UTF-16 as some editors save it, whole', () => {
    expect(decodeText(bytes(0xff, 0xfe, 0x6b, 0, 0x31, 0))).toBe('k1');
    expect(decodeText(bytes(0xfe, 0xff, 0, 0x6b, 0, 0x31))).toBe('k1');
    expect(decodeText(bytes(0xff, 0xfe, 0x6b))).toBe(null);
    expect(decodeText(bytes(0xff, 0xfe, 0x6b, 0, 0x3d, 0xd8))).toBe(null);
  });

  it('may be an old Western file with one byte a letter', () => {
    // ½ and – in Windows-1252.
    expect(decodeText(bytes(0x31, 0xbd, 0x20, 0x96))).toBe('1½ –');
  });

  it('may be empty and may have any line ends', () => {
    expect(decodeText(bytes())).toBe('');
    expect(decodeText(new TextEncoder().encode('a\r\nb\rc\n'))).toBe('a\r\nb\rc\n');
  });

  it('is refused when it is a picture', () => {
    expect(decodeText(bytes(0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a, 0, 0, 0, 13))).toBe(
      null,
    );
    expect(decodeText(new Uint8Array(100))).toBe(null);
  });

  it('is told from a PDF, a document or a picture by its beginning', () => {
    const of = (text: string) => otherDocument(new TextEncoder().encode(text));
    expect(of('%PDF-1.4 …')).toBe('a PDF');
    expect(of('{\\rtf1\\ansi Cast on 20 sts.}')).toMatch(/word processor/);
    expect(otherDocument(bytes(0x89, 0x50, 0x4e, 0x47, 0x0d))).toBe('a picture');
    expect(of('Cast on 20 sts.')).toBe(null);
    expect(of('')).toBe(null);
  });
});
