import { describe, expect, it } from 'vitest';
import { parsePlan } from '../../src/plan/parse.ts';
import { colourMarks, coloursOf } from '../../src/plan/write/colours.ts';

const read = (lines: string) => {
  const plan = parsePlan(`Gauge: 20 sts and 40 rounds = 10 cm\n${lines}\n`);
  expect(plan.diagnostics.filter((d) => d.severity === 'error')).toEqual([]);
  return plan;
};
const colours = (lines: string) => read(lines).rounds.map((r) => r.colour);

describe('colours of rounds', () => {
  it('come again with rounds that are repeated', () => {
    const { rounds, colours: edges } = read(`Cast on 40 sts in MC and join in the round.
Rounds 1-2: with MC, purl.
Round 3: with red, k40.
Rounds 4-9: repeat rounds 1-3 twice.
Round 10: as round 3.
Change to dark blue. Knit 2 rounds.
Round 13, contrast colour A: knit.
Change to CC.
Bind off.`);
    expect(rounds.map((r) => r.colour).join(', ')).toBe(
      'MC, MC, red, MC, MC, red, MC, MC, red, red, dark blue, dark blue, CC A',
    );
    expect(edges).toEqual({ castOn: 'MC', ending: 'CC', words: {} });
  });

  it('of rounds alike are those in hand when they are repeated', () => {
    const again = `Cast on 40 sts and join.
Round 1: purl.
Round 2: knit.
Change to CC.
Repeat rounds 1 and 2 once more.
Bind off.`;
    expect(colours(again)).toEqual(['MC', 'MC', 'CC', 'CC']);
  });

  it('are those of the cast-on before any is told, and none where none is told', () => {
    expect(
      colours('With A, cast on 40 sts and join.\nKnit 2 rounds.\nChange to B.\nKnit 1 round.'),
    ).toEqual(['colour A', 'colour A', 'colour B']);
    expect(colours('Cast on 40 sts and join.\nKnit 2 rounds.\nBind off.')).toEqual([
      undefined,
      undefined,
    ]);
  });

  it('are called what the text calls its yarns, whatever that is', () => {
    const ways = [
      (name: string) => `Change to ${name}.\nKnit 2 rounds.`,
      (name: string) => `Switch to the ${name} yarn, and knit 2 rounds.`,
      (name: string) => `Break off plum and join ${name}.\nKnit 2 rounds.`,
      (name: string) => `With ${name}, knit 2 rounds.`,
      (name: string) => `Round 2, ${name}: knit.\nRound 3: knit.`,
    ];
    for (const name of ['heather', 'Fern', 'winter sky', 'Oatmeal'])
      for (const way of ways)
        expect(
          colours(`With plum, cast on 40 sts and join.\nRound 1: purl.\n${way(name)}\nBind off.`),
          way(name),
        ).toEqual(['plum', ...Array(2).fill(name.toLowerCase())]);
    const { colours: edges } = read(`With heather, cast on 40 sts and join.
Round 1: knit.
Change to fern.
Knit 1 round.
Bind off.`);
    expect(edges).toMatchObject({ castOn: 'heather', ending: 'fern' });
  });

  it('are none where other things are changed to, joined or worked with', () => {
    for (const other of [
      'Change to smaller needles.',
      'Change to double-pointed needles when needed.',
      'Join carefully, without twisting.',
      'Cast on with waste yarn first if you like.',
      'Fasten off securely.',
    ]) {
      const plan = parsePlan(`Cast on 40 sts and join.\n${other}\nKnit 2 rounds.\nBind off.\n`);
      expect([other, plan.colours]).toEqual([other, undefined]);
    }
  });

  it('keep the words for what they look like', () => {
    const { colours: told } = read(`Yarns: MC = dark red, yarn B (cream)
Cast on 40 sts and join.
Knit 2 rounds. With yarn B, knit 1 round.
Bind off.`);
    expect(told?.words).toEqual({ MC: 'dark red', 'colour B': 'cream' });
    const { colours: called } = read(`Yarns: MC = oatmeal heather, CC = colour B
Cast on 40 sts and join.
Knit 2 rounds. With CC, knit 1 round.
Bind off.`);
    expect(called?.words).toEqual({ MC: 'oatmeal heather' });
  });

  it('have those words in whatever order and with whatever marks they are told', () => {
    const letters = [
      'Colours: A cream, B dark red',
      'Colours: A - cream; B - dark red',
      'A = cream, B = dark red',
      'Yarn: in cream (A) and dark red (B)',
      'Yarn: 50 g in cream (A), 30 g in dark red wool (B)',
      'Materials: yarn in two colours, cream for A and dark red for B',
      'Colour A: cream\nColour B: dark red',
      'Yarn A in cream\nYarn B in dark red',
    ];
    const mains = [
      'Shades: MC cream, CC dark red',
      'MC - cream\nCC – dark red',
      'Main colour (MC): cream\nContrast colour (CC): dark red',
      'Yarn: cream (MC) and dark red (CC)',
    ];
    const told = (head: string, a: string, b: string) =>
      read(`${head}\nWith ${a}, cast on 40 sts and join.\nKnit 2 rounds.\nChange to ${b}.
Knit 1 round.\nBind off.`);
    for (const [heads, a, b] of [
      [letters, 'A', 'B'],
      [mains, 'MC', 'CC'],
    ] as const)
      for (const head of heads) {
        const plan = told(head, a, b);
        expect([head, plan.diagnostics]).toEqual([head, []]);
        expect([head, Object.values(plan.colours?.words ?? {}).sort()]).toEqual([
          head,
          ['cream', 'dark red'],
        ]);
        expect(plan.colours?.words[plan.colours.castOn]).toBe('cream');
      }
    const heather = told('Colour A: oatmeal heather\nColour B: dusty rose', 'A', 'B');
    expect(heather.colours?.words).toEqual({
      'colour A': 'oatmeal heather',
      'colour B': 'dusty rose',
    });
    const looks = (line: string) => told(line, 'MC', 'CC').colours?.words;
    for (const line of [
      'Yarn: MC (oatmeal), CC (grey heather)',
      'Yarn: MC (oatmeal); CC: grey heather',
      'Yarns: MC = oatmeal, CC = grey heather',
      'Double knitting yarn: MC (oatmeal), CC (grey heather). 4 mm needles.',
    ])
      expect([line, looks(line)]).toEqual([line, { MC: 'oatmeal', CC: 'grey heather' }]);
    // What else stands in brackets is no colour.
    expect(looks('Yarn: MC (worsted weight), CC (held double)')).toEqual({});
    // What is worked in a colour is not how it looks.
    const worked = told('Yarn: two colours', 'A', 'B\nColour A: purl.\nColour B: knit');
    expect(worked.colours?.words).toEqual({});
    for (const label of ['Round 3, CC', 'R3, CC', 'Next round, CC'])
      expect(looks(`Yarn: two colours\n${label}: ktbl, k to end.`)).toEqual({});
  });

  it('have marks of their own, letters where the text has letters', () => {
    const plan = read(
      'Cast on 40 sts in red and join.\nRound 1, rust: knit.\nRound 2, colour C: knit.',
    );
    const marks = colourMarks([...coloursOf(plan), 'CC', 'CC C', 'coral']);
    expect([...marks.values()]).toEqual(['R', 'Ru', 'C', 'CC', 'A', 'Co']);
    expect(new Set(marks.values()).size).toBe(marks.size);
  });
});
