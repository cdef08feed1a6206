/** What an expression needs of a text, against what the engine finds: nothing that matches may be passed over. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { letterRuns, mayMatch, neededWords } from '../../src/plan/lex/needed-words.ts';

const needs = (re: RegExp) => neededWords(re);

describe('words that an expression needs', () => {
  it('reads letters, choices, brackets and how often they stand', () => {
    expect(needs(/knit/i)).toEqual([['knit']]);
    expect(needs(/sts?\b(?: knit)?/)).toEqual([['st']]);
    expect(needs(/(?<![a-z])slip(?!knot)(?= marker)/)).toEqual([['slip'], ['marker']]);
    expect(needs(/ab+c|x{2}yz(?:es)?|q[rst]uv/)).toEqual([['ab', 'yz', 'uv']]);
    expect(needs(/(?<verb>knit|purl) (?:\d+|all) (?:the )?sts/)).toEqual([
      ['knit', 'purl'],
      ['sts'],
    ]);
    expect(needs(/k\d+|[(\])]purl\u00b0|\bor\b/)).toEqual([]);
  });

  it('holds letters together only where the text does', () => {
    expect(mayMatch(needs(/k2tog/), letterRuns('K2tog, k1'))).toBe(true);
    expect(mayMatch(needs(/marker/), letterRuns('mark er'))).toBe(false);
  });

  const letter = fc.constantFrom('a', 'b', 'c', 'd');
  const { source } = fc.letrec<{ source: string; part: string; one: string }>((tie) => ({
    source: fc
      .array(fc.array(tie('part'), { minLength: 1, maxLength: 5 }), { minLength: 1, maxLength: 2 })
      .map((branches) => branches.map((parts) => parts.join('')).join('|')),
    part: fc
      .tuple(tie('one'), fc.constantFrom('', '', '', '?', '*', '+', '{2}', '{0,1}', '+?', '{1,}'))
      .map(([one, often]) => (/^\(\?[=!<]/.test(one) ? one : `${one}${often}`)),
    one: fc.oneof(
      { weight: 6, arbitrary: letter },
      { weight: 1, arbitrary: fc.constantFrom(' ', '\\d', '[ab]', '.', '[^\\]a]', '\\w', '\\x61') },
      {
        weight: 2,
        arbitrary: fc
          .tuple(fc.constantFrom('(?:', '(', '(?=', '(?!', '(?<=', '(?<!'), tie('source'))
          .map(([opens, inner]) => `${opens}${inner})`),
      },
    ),
  }));
  const text = fc.array(fc.constantFrom('a', 'b', 'c', 'd', 'AB', ' ', '1'), { maxLength: 24 });

  it('passes over nothing that matches', () => {
    let matched = 0;
    fc.assert(
      fc.property(source, text, (pattern, parts) => {
        const [re, told] = [new RegExp(pattern, 'i'), parts.join('')];
        if (!re.test(told)) return;
        matched++;
        expect(mayMatch(needs(re), letterRuns(told))).toBe(true);
      }),
      { numRuns: 2000, seed: 7 },
    );
    expect(matched).toBeGreaterThan(200);
  });
});
