import { describe, expect, it } from 'vitest';
import { planFileName, readPlanFile } from '../../src/app/files/plan-files.ts';

describe('plan files', () => {
  it('are named after the title in plain characters', () => {
    expect(planFileName({ title: 'Creek square (Saltmarsh blanket)' })).toBe(
      'creek-square-saltmarsh-blanket.txt',
    );
    expect(planFileName({ title: '' })).toBe('plan.txt');
    expect(planFileName({ title: '../..\\*?' })).toBe('plan.txt');
  });

  it('keep their text, with line ends made one kind', async () => {
    const file = new File(['Title: a\r\nCast on 4 sts.\rRound 1: knit.\n'], 'a.txt');
    await expect(readPlanFile(file)).resolves.toEqual({
      text: 'Title: a\nCast on 4 sts.\nRound 1: knit.\n',
      fileName: 'a.txt',
    });
  });

  it('may be old Western text', async () => {
    const file = new File([new Uint8Array([0x6b, 0x31, 0xbd])], 'old.txt');
    expect((await readPlanFile(file)).text).toBe('k1½');
  });

  it('are refused in words when they are pictures, data or too big', async () => {
    const picture = new File([new Uint8Array([0x89, 0x50, 0x4e, 0x47, 0xff, 0])], 'a.png');
    await expect(readPlanFile(picture)).rejects.toThrow(/“a.png” is a picture.*Nothing was/);
    const binary = new File(['a\u0000b'], 'b.txt');
    await expect(readPlanFile(binary)).rejects.toThrow(/“b.txt” is not a text file/);
    const big = new File(['k'.repeat(1_000_001)], 'c.txt');
    await expect(readPlanFile(big)).rejects.toThrow(/1 MB of text at most/);
  });
});
