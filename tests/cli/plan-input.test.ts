import { describe, expect, it } from 'vitest';
import { decodeText, LONGEST_PLAN_BYTES, readPlanText } from '../../src/cli/plan-input.ts';
import { memoryIo } from './memory-io.ts';

const bytes = (...list: number[]) => Uint8Array.from(list);

describe('a plan file', () => {
  it('may be UTF-8, with or without a byte order mark', () => {
    expect(decodeText(new TextEncoder().encode('Rounds 1–4'))).toBe('Rounds 1–4');
    expect(decodeText(bytes(0xef, 0xbb, 0xbf, 0x6b, 0x31))).toBe('k1');
  });

  it('may be UTF-16 as some editors save it', () => {
    expect(decodeText(bytes(0xff, 0xfe, 0x6b, 0, 0x31, 0))).toBe('k1');
    expect(decodeText(bytes(0xfe, 0xff, 0, 0x6b, 0, 0x31))).toBe('k1');
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

  it('is refused beyond a megabyte, however long it goes on', async () => {
    const io = memoryIo({
      long: 'k'.repeat(LONGEST_PLAN_BYTES + 1),
      just: 'k'.repeat(LONGEST_PLAN_BYTES),
    });
    await expect(readPlanText('long', io)).rejects.toThrow(/longer than 1 MB/);
    expect((await readPlanText('just', io)).length).toBe(LONGEST_PLAN_BYTES);
  });

  it('comes from the standard input by the name -', async () => {
    expect(await readPlanText('-', memoryIo({}, 'k2'))).toBe('k2');
  });
});
