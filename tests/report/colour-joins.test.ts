import { describe, expect, it } from 'vitest';
import { parsePlan } from '../../src/plan/parse.ts';
import { colourJoins } from '../../src/report/colour-joins.ts';

const joins = (worked: 'round' | 'flat', colours: readonly string[]) => {
  const word = worked === 'round' ? 'Round' : 'Row';
  const rounds = colours.map((c, i) => `${word} ${i + 1}, ${c}: knit.`).join('\n');
  const head = worked === 'round' ? 'Cast on 40 sts and join in the round.' : 'Cast on 40 sts.';
  const plan = parsePlan(
    `Worked: ${worked === 'round' ? 'in the round' : 'flat, no seam'}\n${head}\n${rounds}\n`,
  );
  return colourJoins(plan).map(({ colour, round }) => `${colour} ${round}`);
};
const rounds = (count: number, colour: string) => new Array<string>(count).fill(colour);

describe('where a colour is joined', () => {
  it('is once each where none rests for longer than it is carried', () => {
    expect(joins('round', [...rounds(3, 'MC'), ...rounds(8, 'CC'), ...rounds(2, 'MC')])).toEqual([
      'MC 0',
      'CC 4',
    ]);
  });

  it('is again where it rested for longer', () => {
    expect(joins('round', [...rounds(3, 'MC'), ...rounds(9, 'CC'), ...rounds(2, 'MC')])).toEqual([
      'MC 0',
      'CC 4',
      'MC 13',
    ]);
  });

  it('is again in flat work where the yarn hangs at the other edge', () => {
    expect(joins('flat', ['MC', 'MC', 'CC', 'CC', 'MC'])).toEqual(['MC 0', 'CC 3']);
    expect(joins('flat', ['MC', 'MC', 'CC', 'MC', 'CC'])).toEqual(['MC 0', 'CC 3', 'MC 4', 'CC 5']);
  });

  it('is nowhere told where the text tells no colour', () => {
    expect(colourJoins(parsePlan('Cast on 40 sts.\nRow 1: knit.\n'))).toEqual([]);
  });
});
