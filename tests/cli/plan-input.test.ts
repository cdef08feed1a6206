import { describe, expect, it } from 'vitest';
import { LONGEST_PLAN_BYTES, readPlanText } from '../../src/cli/plan-input.ts';
import { memoryIo } from './memory-io.ts';

describe('a plan file', () => {
  it('is refused where it is another document', async () => {
    const io = memoryIo({ pdf: '%PDF-1.4 …' });
    await expect(readPlanText('pdf', io)).rejects.toThrow(/is a PDF: save its text/);
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
