import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { foldRound } from '../../src/plan/write/fold-stitches.ts';

const times = (n: number, ...names: string[]): string[] =>
  Array.from({ length: n }, () => names).flat();

describe('folding a round', () => {
  it('names a round of one stitch by its word', () => {
    expect(foldRound(times(12, 'k'))).toBe('knit');
    expect(foldRound(times(12, 'p'))).toBe('purl');
  });

  it('finds the sides and counts the repeats as knitters do', () => {
    const side = ['ssk', ...times(26, 'k'), 'k2tog'];
    expect(foldRound(times(4, ...side))).toBe('*ssk, k26, k2tog; rep from * 3 times more');
    expect(foldRound(times(2, ...side))).toBe('*ssk, k26, k2tog; rep from * once more');
  });

  it('puts short repeats in brackets and long ones to the end of the round', () => {
    expect(foldRound(['k', ...times(5, 'k', 'p'), 'k2tog'])).toBe(
      'k2, [p1, k1] 4 times, p1, k2tog',
    );
    expect(foldRound(times(20, 'k', 'p'))).toBe('*k1, p1; rep from * to end');
  });

  it('repeats a stitch that takes no number in brackets', () => {
    expect(foldRound(['k', 'k2tog', 'k2tog', 'k2tog', 'p'])).toBe('k1, [k2tog] 3 times, p1');
  });

  it('loses and adds no stitch', () => {
    const stitch = fc.constantFrom('k', 'p', 'ssk', 'k2tog', '2/2 LC');
    fc.assert(
      fc.property(
        fc.array(stitch, { minLength: 1, maxLength: 40 }),
        fc.integer({ min: 1, max: 9 }),
        (block, n) => {
          const names = times(n, ...block);
          expect(unfold(foldRound(names), names.length)).toEqual(names);
        },
      ),
      { seed: 11, numRuns: 300 },
    );
  });
});

/** Independent reading of the folded line. */
function unfold(text: string, total: number): string[] {
  if (text === 'knit') return times(total, 'k');
  if (text === 'purl') return times(total, 'p');
  const repeat = /^\*(.*); rep from \* (?:(\d+) times more|(once) more|(to end))$/.exec(text);
  if (!repeat) return sequence(text);
  const block = sequence(repeat[1]);
  const n = repeat[4] ? total / block.length : repeat[3] ? 2 : Number(repeat[2]) + 1;
  return times(n, ...block);
}

function sequence(text: string): string[] {
  return text.split(/, (?![^[]*\])/).flatMap((part) => {
    const bracket = /^\[(.*)\] (\d+) times$/.exec(part);
    if (bracket) return times(Number(bracket[2]), ...sequence(bracket[1]));
    const counted = /^([kp])(\d+)$/.exec(part);
    return counted ? times(Number(counted[2]), counted[1]) : [part];
  });
}
