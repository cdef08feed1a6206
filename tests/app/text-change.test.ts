import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { changeBetween, changedLines } from '../../src/app/state/text-change.ts';

const piece = fc.array(fc.constantFrom('k2', ' ', 'p', '\n', 'ssk', '*'), { maxLength: 30 });

describe('the smallest change between two texts', () => {
  it('turns the one into the other, whatever they are', () => {
    fc.assert(
      fc.property(piece, piece, (a, b) => {
        const before = a.join('');
        const after = b.join('');
        const change = changeBetween(before, after);
        const made = change
          ? before.slice(0, change.from) + change.insert + before.slice(change.to)
          : before;
        expect(made).toBe(after);
      }),
      { seed: 7, numRuns: 300 },
    );
  });

  it('touches nothing but the word that differs', () => {
    const change = changeBetween('Round 1: k5, ssk, k5.', 'Round 1: k5, k2tog, k5.');
    expect(change).toEqual({ from: 13, to: 16, insert: 'k2tog' });
  });

  it('is nothing for equal texts', () => {
    expect(changeBetween('knit', 'knit')).toBeNull();
    expect(changedLines('a\nb', 'a\nb')).toBe(0);
  });

  it('counts the lines that differ', () => {
    expect(changedLines('a\nb\nc', 'a\nX\nc')).toBe(1);
    expect(changedLines('a\nb\nc', 'a\nX\nY\nc')).toBe(2);
  });
});
