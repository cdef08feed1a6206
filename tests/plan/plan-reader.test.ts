/** A reader that is kept while a text is edited gives what a fresh reading of each text gives. */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { isDeepStrictEqual } from 'node:util';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { PlanReader, parsePlan } from '../../src/plan/parse.ts';
import { runs } from '../runs.ts';

const FOLDERS = [
  join(import.meta.dirname, '../plans'),
  join(import.meta.dirname, '../plans/manners'),
];
const CORPUS = FOLDERS.flatMap((folder) =>
  readdirSync(folder)
    .filter((f) => f.endsWith('.txt'))
    .sort()
    .map((f) => readFileSync(join(folder, f), 'utf8').split(/^==>\n/m)[0]),
);

const LINES = [
  'Note: keep it loose.',
  'Round 2: (ssk, k to last 2 sts, k2tog) 4 times.',
  'Abbreviation: dd = s2kp',
  'Knit 3 rounds, then',
  'DEC. Round 4: k.',
  'and k2',
  '',
];

type Edit = { line: number; how: 'insert' | 'delete' | 'swap' | 'cut' | 'twice'; words: string };

describe('a reader kept from text to text', () => {
  const edit = fc.record<Edit>({
    line: fc.double({ min: 0, max: 0.999, noNaN: true }),
    how: fc.constantFrom('insert', 'delete', 'swap', 'cut', 'twice'),
    words: fc.constantFrom(...LINES),
  });

  function edited(text: string, { line, how, words }: Edit): string {
    const lines = text.split('\n');
    const at = Math.floor(line * lines.length);
    const was = lines[at];
    if (how === 'insert') lines.splice(at, 0, words);
    else if (how === 'delete') lines.splice(at, 1);
    else if (how === 'swap') lines.splice(at, 2, lines[at + 1] ?? '', was);
    else if (how === 'cut') lines[at] = was.slice(0, Math.floor(line * was.length));
    else lines.splice(at, 0, was);
    return lines.join('\n');
  }

  it('gives after any edit what a fresh reading gives', () => {
    fc.assert(
      fc.property(
        fc.constantFrom(...CORPUS),
        fc.array(edit, { minLength: 1, maxLength: 4 }),
        (text, edits) => {
          const reader = new PlanReader();
          reader.read(text);
          let now = text;
          for (const e of edits) {
            now = edited(now, e);
            expect(isDeepStrictEqual(reader.read(now), parsePlan(now)), now).toBe(true);
          }
        },
      ),
      { seed: 8_061, numRuns: runs(200) },
    );
  });

  it('moves a round without the 1,000 instructions that its abbreviation may stand for', () => {
    const own = Array.from(
      { length: 26 },
      (_, i) => `Abbreviation: q${i} = ${i ? `[q${i - 1}, q${i - 1}]` : '[k1, k1]'}`,
    ).join('\n');
    const rounds = (q: string) => `\nCast on 512\nRound 1: ${q}\nRound 2: ${q}\nRound 3: ${q}`;
    const reader = new PlanReader();
    const plan = reader.read(own + rounds('q7'));
    expect(plan.rounds.map((r) => r.after)).toEqual([512, 512, 512]);
    // 33 million stitches; "q8" is the first that stands for more.
    const far = reader.read(own + rounds('q24'));
    const refused = far.diagnostics.filter((d) => d.code === 'abbreviation-too-long');
    expect(refused.map((d) => d.from.line)).toEqual([9]);
  });

  it('follows each of several sizes', () => {
    const reader = new PlanReader();
    const text = 'Sizes: small (large)\nCast on 40 (48) sts, join.\nRound 1: knit. 40 (48) sts';
    for (const size of [0, 1, null, 1])
      expect(reader.read(text, size)).toEqual(parsePlan(text, size));
  });
});
