/** Words of translators are read where nothing else can be meant, and left alone in plain English. */
import { describe, expect, it } from 'vitest';
import { stitchWorked } from '../../src/plan/lex/explained-stitches.ts';
import { translated } from '../../src/plan/lex/translators.ts';
import * as lexicon from '../../src/plan/lexicon/translators.ts';

const read = (text: string): string => translated(text).text;

describe('words of translators', () => {
  it('are left alone in plain English', () => {
    const plain = [
      'Put your right needle through the left stitch and knit it.',
      'Cross 2 right over 2 left, then C4 right, C4 left.',
      'Knit until 16 sts are left. You have 12 left, 3 on each needle.',
      'Eight stitches gone, 24 left.',
      'Turn the work at each turn; wrap 1 and turn.',
      'Pin out to 12 cm with 8 pins and overcast the edges.',
      'Make 1 left, k8, make 1 right.',
      'Weave in the ends on the wrong side and fold it into an envelope shape',
      'Round 2: *k4, k2tog; repeat from * to end of round.',
      'Rounds 1 to 4 in A, rounds 5 to 8 in B, and so on.',
    ].join('\n');
    expect(read(plain)).toBe(plain);
  });

  it('with another sense are read where others of their tongue are used, or where the text says so', () => {
    const alone = 'Round 2: k4, 6 straight.';
    expect(read(alone)).toBe(alone);
    expect(read(`From the Dutch\n${alone}`)).toBe('From the Dutch\nRound 2: k4, k6.');
    expect(read(`Round 1: all averse.\n${alone}`)).toBe('Round 1: purl.\nRound 2: k4, k6.');
  });

  it('count stitches that are left as remaining, and those among others as purled', () => {
    const text = 'From the German\nRd 1: 4 M right, 4 M left.\nThere are 8 M left.';
    expect(read(text)).toBe('From the German\nRd 1: k4, p4.\nThere are 8 sts left.');
  });

  it('keep the places of what was typed', () => {
    const text = 'From the German\nRd 1: 12 M right, frob.';
    const { text: now, places } = translated(text);
    expect(places?.[now.indexOf('frob')]).toBe(text.indexOf('frob'));
  });

  it('are each an expression of one tongue at least', () => {
    const { TONGUES, ...lists } = lexicon;
    const all = Object.values(lists).flat();
    const tongues = new Set(Object.values(TONGUES));
    expect(all.length).toBeGreaterThan(200);
    for (const { source, tongues: from } of all) {
      expect(() => new RegExp(source)).not.toThrow();
      expect(from.filter((tongue) => !tongues.has(tongue))).toEqual([]);
    }
  });
});

describe('ways of working a stitch', () => {
  const ways: readonly (readonly [string, string | null])[] = [
    ['slip 1, knit 1, pass over', 'skp'],
    ['take one stitch off loose, knit the next and lift the loose one over it', 'skp'],
    [
      'pass 1 st without working it, knit the next, put the passed st over the one just knitted',
      'skp',
    ],
    ['slip 1, knit 2 together, pass the slipped st over', 'sk2p'],
    ['lift 2 sts loose together as if to knit them, knit 1, pass the loose sts over', 's2kp'],
    ['slip 2 one by one, knit the 2 together from behind', 'ssk'],
    ['knit 2 together through the back loops', 'k2tog tbl'],
    ['knit 2 together', 'k2tog'],
    ['slip 1, purl 1, pass over', null],
    ['slip 1, knit 1', null],
    ['slip 1, knit 1, pass over, knit 2', null],
    ['knit the next 2 rows together', null],
  ];
  for (const [way, stitch] of ways)
    it(`reads "${way}"`, () => expect(stitchWorked(way)).toBe(stitch));
});
