import { expect, it } from 'vitest';
import { COMMANDS } from '../../src/cli/commands.ts';
import { checkExitCodes, HANDED } from './exit-code-rule.ts';
import { memoryIo } from './memory-io.ts';

/** A garter square of `side` stitches a side; `every`: rounds for one that is shaped. */
function square(side: number, every: number): string {
  const lines = [
    'Gauge: 20 sts and 40 rounds = 10 cm',
    `Cast on ${4 * side} sts. Join in the round.`,
  ];
  for (let n = 1, left = side; left > 2; n++) {
    const shaped = n % every === 0;
    const inner = left > 4 ? `k${left - 4}, ` : '';
    lines.push(`Round ${n}: ${shaped ? `*ssk, ${inner}k2tog; rep from * 3 times more.` : 'purl.'}`);
    if (shaped) left -= 2;
  }
  return `${lines.join('\n')}\nDraw the yarn through the remaining sts.\n`;
}

const round = (body: string) => `Gauge: 20x28\nCast on 24 sts. Join in the round.\n${body}\n`;

const PIECES: readonly [string, string][] = [
  ['flat', square(8, 2)],
  ['cups', square(6, 4)],
  ['ruffles', square(8, 1)],
  ['tube', round('Rounds 1-5: knit.\nBind off.')],
  ['cups', round('Rounds 1-8: knit.\nRound 9: *k2, k2tog; rep from * to end.\nRound 10: k.\nRound 11: k2tog to end.\nDraw the yarn through the remaining sts.')],
  ['flat', 'Gauge: 20x28\nCast on 12 sts.\nRows 1-8: knit.\nBind off.\n'],
]; // biome-ignore format: one piece a line

it('says of every command whether it hands over a piece', () => {
  const names = COMMANDS.map((make) => make({ io: memoryIo(), exitWith: () => {} }).name());
  expect(Object.keys(HANDED).sort()).toEqual(names.sort());
});

it.each(PIECES)('a piece that is %s ends every command alike', async (verdict, text) => {
  // Each piece takes other ways to call them; the soak takes all kinds at random.
  let turn = PIECES.findIndex((piece) => piece[1] === text);
  expect(await checkExitCodes(text, (ways) => turn++ % ways)).toBe(verdict);
});
