import { describe, expect, it } from 'vitest';
import { colourLines } from '../../src/paper/pattern/colour-lines.ts';
import { writePattern } from '../../src/paper/pattern/written.ts';
import { parsePlan } from '../../src/plan/parse.ts';

const plan = (said: string) =>
  parsePlan(`Gauge: 20 sts and 40 rounds = 10 cm
Cast on 40 sts, 10 on each of 4 needles, and join in the round.${said}
Knit 5 rounds.
Next round: with CC, knit.
Bind off.
`);

describe('colours of rounds', () => {
  it('stand in the written pattern, every round once', () => {
    const striped = plan(' Change colour every 2 rounds.');
    expect(colourLines(striped)).toEqual([
      'MC for the beginning edge and rounds 1-2 and 5',
      'CC for rounds 3-4 and 6 and the finishing edge',
    ]);
    expect(writePattern(striped).text).toContain(
      'Colors:\n- MC for the beginning edge and rounds 1-2 and 5\n- CC for rounds 3-4 and 6 and the finishing edge\n',
    );
  });

  it('are the main colour before another is told, and none where none is told', () => {
    expect(colourLines(plan(''))).toEqual([
      'MC for the beginning edge and rounds 1-5',
      'CC for round 6 and the finishing edge',
    ]);
    expect(colourLines(parsePlan(plan('').text.replace('with CC, ', '')))).toEqual([]);
  });

  it('leave the stitches to be read back as they are', () => {
    const striped = plan(' Change colour every 2 rounds.');
    const again = parsePlan(writePattern(striped).text);
    expect(again.rounds.map((r) => r.after)).toEqual(striped.rounds.map((r) => r.after));
    expect(again.diagnostics.filter((d) => d.severity === 'error')).toEqual([]);
  });
});

it('a list of colours by their rounds reads as a list, and work told in the same way as work', () => {
  const plan = (line: string) =>
    parsePlan(
      `Notes:\n- ${line}\n\nCast on 40 sts. Join in the round.\nRounds 1-9: knit.\nBind off.`,
    );
  const errors = (line: string) =>
    plan(line).diagnostics.filter(({ severity }) => severity === 'error').length;
  for (const colour of ['navy', 'dark red', 'oatmeal'])
    for (const rounds of [
      'round 7',
      'rounds 2 and 9',
      'rounds 2, 5 and 8',
      'rounds 2-3 and 8-9 and the finishing edge',
    ])
      expect(errors(`${colour} for ${rounds}`), `${colour} for ${rounds}`).toBe(0);
  for (const work of ['purl', 'decrease'])
    expect(errors(`${work} for rounds 2-3`), work).toBeGreaterThan(0);
});
