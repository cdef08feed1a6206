import { describe, expect, it } from 'vitest';
import { prepare } from '../../src/knit.ts';
import { parsePlan } from '../../src/plan/parse.ts';

/** `sides` sides of so many stitches with a panel of `panel` along each corner, begun `shift` stitches on. */
function withPanels(sides: number, side: number, panel: number, rounds: number, shift = 0): string {
  const lines = ['Gauge: 20x28', `Cast on ${sides * (side + panel)} sts. Join in the round.`];
  for (let n = 1, left = side; n <= rounds; n++, left -= 2) {
    const before = shift > 0 ? `k${shift}, ` : '';
    const behind = panel - shift > 0 ? `, k${panel - shift}` : '';
    const middle = left > 4 ? `k${left - 4}, ` : '';
    lines.push(`Round ${2 * n - 1}: knit.`);
    lines.push(
      `Round ${2 * n}: *${before}ssk, ${middle}k2tog${behind}; rep from * to end. (${sides * (left - 2 + panel)} sts)`,
    );
  }
  return `${lines.join('\n')}\nBind off all sts.\n`;
}

const read = (text: string) => prepare(parsePlan(text)).report;

describe('corners', () => {
  it('are counted once, however wide the panel along them is beside the side', () => {
    for (const sides of [3, 4, 5, 6])
      for (const panel of [1, 6, 10, 14]) {
        const { corners, shape, cutStitches } = read(withPanels(sides, 26, panel, 6));
        expect([sides, panel, corners]).toEqual([sides, panel, sides]);
        expect(shape).toBe(['triangle', 'square', 'pentagon', 'hexagon'][sides - 3]);
        // Up to eight stitches are a line of their own: loops lend each other yarn over them.
        expect(cutStitches > 0).toBe(panel > 8);
      }
  });

  it('do not hang on where the round begins', () => {
    for (const shift of [0, 3, 7]) {
      const { corners } = read(withPanels(5, 24, 10, 6, shift));
      expect([shift, corners]).toEqual([shift, 5]);
    }
  });

  it('are one each where a panel as wide as the side keeps its width, two where both give way', () => {
    expect(read(withPanels(4, 24, 24, 5)).shape).toBe('square');
    expect(read(withPanels(8, 24, 0, 5)).shape).toBe('octagon');
  });

  it('of a small piece are read off the rounds that shape: those that gather at its centre tell of none', () => {
    const shaped = [1, 2, 3, 4].map(
      (n) =>
        `Round ${2 * n + 3}: *m1l, k${2 * n}, m1r, k2; rep from * to end. (${16 * (n + 2)} sts)\nRound ${2 * n + 4}: knit.`,
    );
    const gathered =
      'Round 1: *kfb; rep from * to end.\nRound 2: knit.\nRound 3: *kfb; rep from * to end. (32 sts)';
    const text = `Gauge: 17x18\nCast on 8 sts. Join in the round.\n${gathered}\nRound 4: knit.\n${shaped.join('\n')}\nBind off all sts.\n`;
    expect(read(text).shape).toBe('octagon');
  });
});
