import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { planFragment, planOfFragment } from '../../src/app/files/plan-link.ts';

describe('a link that carries a plan', () => {
  it('gives back every text to the last character', async () => {
    await fc.assert(
      fc.asyncProperty(fc.string({ unit: 'binary', maxLength: 400 }), async (text) => {
        fc.pre(text.trim() !== '' && !text.includes('\0'));
        expect(await planOfFragment(await planFragment(text))).toBe(text);
      }),
      { seed: 11, numRuns: 60 },
    );
  });

  it('refuses a text without a word in it, which would only hide the plan at hand', async () => {
    for (const nothing of ['', ' \n', 'Cast on 8\0'])
      await expect(planOfFragment(await planFragment(nothing))).rejects.toThrow(/link is damaged/);
  });

  it('holds only characters that addresses keep', async () => {
    expect(await planFragment('Title: Größe ½ → “x”\n'.repeat(50))).toMatch(/^#plan=z\.[\w-]+$/);
  });

  it('is no link where the address says nothing of a plan', async () => {
    expect(await planOfFragment('')).toBeNull();
    expect(await planOfFragment('#verdict')).toBeNull();
  });

  it('refuses what is damaged, in words', async () => {
    const link = await planFragment(
      'Cast on 8 sts. Join in the round.\nRound 1: knit.\n'.repeat(9),
    );
    for (const broken of [link.slice(0, -8), '#plan=z.%%%', '#plan=q.AAAA', '#plan='])
      await expect(planOfFragment(broken)).rejects.toThrow(/link is damaged/);
  });

  it('does not unpack more than a plan may have', async () => {
    const bomb = await planFragment('k'.repeat(3_000_000));
    expect(bomb.length).toBeLessThan(10_000);
    await expect(planOfFragment(bomb)).rejects.toThrow(/larger than 1 MB/);
  });
});
