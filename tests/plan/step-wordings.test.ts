/** Rules of the words among a round's stitches (`src/plan/grammar/steps/wording.ts`). */
import { describe, expect, it } from 'vitest';
import { wording } from '../../src/plan/grammar/steps/wording.ts';

/** What the rule takes at the beginning of the text; null where it does not hold. */
function taken(rule: string, text: string): string | null {
  return wording(rule).exec(text)?.[0] ?? null;
}

describe('rules of the words among stitches', () => {
  it('take the words they hold, and what may be left out', () => {
    const rule = 'over|across the? next # @sts';
    expect(taken(rule, 'over the next 8 sts, p2')).toBe('over the next 8 sts');
    expect(taken(rule, 'across next 8 stitches')).toBe('across next 8 stitches');
    expect(taken(rule, 'over the text 8 sts')).toBeNull();
    expect(wording(rule).exec('over next 12 sts')?.[1]).toBe('12');
  });

  it('take whole words only', () => {
    expect(taken('to end', 'to ending')).toBeNull();
    expect(taken('x #', 'x4')).toBe('x4');
  });

  it('hold one of several turns of phrase between braces', () => {
    const rule = '{ on each|every | at both ends of the } needle';
    expect(taken(rule, 'on every needle')).toBe('on every needle');
    expect(taken(rule, 'at both ends of the needle')).toBe('at both ends of the needle');
    expect(taken(rule, 'on both ends of the needle')).toBeNull();
  });

  it('pass a hyphen within a phrase, and no dash in front of a line', () => {
    expect(taken('right hand needle', 'right-hand needle')).toBe('right-hand needle');
    expect(taken('spaced #?', 'spaced - 88')).toBe('spaced');
    expect(taken('needle 1 needle?', 'needle 1\n- needle 2')).toBe('needle 1');
  });

  it('take no gap before or behind', () => {
    expect(taken('so? on times?', 'on  , k2')).toBe('on');
    expect(taken('so? on', ' on')).toBeNull();
  });

  it('know no class that the lexicon does not hold', () => {
    expect(() => wording('@nonsense')).toThrow(RangeError);
  });
});
