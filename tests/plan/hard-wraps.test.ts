/** Plans that a mail program or a printer broke into lines of a width. `npm run soak` wraps all of the corpus. */
import { describe, expect, it } from 'vitest';
import { hardWraps } from '../../src/plan/lex/hard-wraps.ts';
import { parsePlan } from '../../src/plan/parse.ts';
import { readWrapped, wrappedCases } from './wrapped.ts';

/** Cases of a run: every so many of all, another lot with another seed. */
const EVERY = 61;
const SEED = 11;

function joined(text: string): string {
  let out = '';
  let from = 0;
  for (const wrap of hardWraps(text)) {
    out += text.slice(from, wrap.from) + wrap.text;
    from = wrap.to;
  }
  return out + text.slice(from);
}

describe('lines broken at a width', () => {
  it('are read as the sentences that they were, and never as other stitches in silence', () => {
    const cases = wrappedCases().filter((_, i) => i % EVERY === SEED);
    const read = cases.map(readWrapped).filter((how) => how !== null);
    expect(read.length).toBeGreaterThan(40);
    expect(read.filter((how) => how === 'otherwise')).toEqual([]);
    // Of all cases 97.7 % read alike (measured); a sample of this size may have four more amiss.
    expect(read.filter((how) => how === 'alike').length / read.length).toBeGreaterThan(0.92);
  });

  it('leave a list of orders without full stops as it is', () => {
    const list = [
      'Cast on 96 sts, share them over four needles and close the ring',
      'Purl 1 round for the edge, slipping the marker as you come to it',
      'Knit 2 rounds with the main colour and the same needles as before',
      'Bind off',
    ].join('\n');
    expect(joined(list)).toBe(list);
  });

  it('leave labels, items, rules and columns where they stand', () => {
    const lines = [
      'Cast on 96 sts, share them out over the four needles of the set and join into a',
      'ring without twisting it, then mark the beginning of the round with yarn',
      'Round 1: purl, and slip the marker whenever it comes along, which is at the end',
      '2. Knit the next one plain in the very same way and with the very same needles',
      '---------------------------------------------------------------------------------',
      '1   knit   96   and nothing else is to be done on it for as long as it may take',
      'yarn.',
    ];
    const text = lines.join('\n');
    expect(joined(text).split('\n')).toEqual([`${lines[0]} ${lines[1]}`, ...lines.slice(2)]);
  });

  it('give messages the line and column of what was typed', () => {
    const text = [
      'Cast on 80 stitches, twenty of them on each of four needles, and join them into',
      '  a ring.',
      'Round 1: *knit 18, knit 2 together; repeat from * to the end of the round, leaving',
      '  77 sts.',
    ].join('\n');
    const errors = parsePlan(text).diagnostics.filter((d) => d.severity === 'error');
    expect(
      errors.map((d) => `${d.from.line}:${d.from.column} to ${d.to.line}:${d.to.column}`),
    ).toEqual(['3:1 to 4:10']);
  });
});
