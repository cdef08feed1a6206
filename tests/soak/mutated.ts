/** Texts from the corpus with pieces struck out, doubled, moved and put in: what a knitter's file may be, and worse. */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import fc from 'fast-check';

const FOLDER = join(import.meta.dirname, '../plans');

export const CORPUS: readonly string[] = readdirSync(FOLDER)
  .filter((name) => name.endsWith('.txt'))
  .sort()
  .map((name) => readFileSync(join(FOLDER, name), 'utf8').split(/^==>\n/m)[0]);

const insert = fc.oneof(
  fc.constantFrom(
    ...'k2tog|ssk|p|*|(|)|[|]|,|;|:|. |\n|Round 5: |Rounds 3-9: |rep from * |to end|to last 2 sts|k99999|0|-1|½|×|“|\t|\0|é|一|😀|Gauge: |Cast on 40 sts|(40 sts)|m1|yo|pm, |2/2 LC|as round 3|Repeat rounds 1 and 2 until 4 sts remain.'.split(
      '|',
    ),
  ),
  fc.string({ maxLength: 6, unit: 'binary' }),
  fc.nat(3).map((n) => 'x'.repeat(10 ** n)),
);

interface Edit {
  readonly at: number;
  readonly remove: number;
  readonly insert: string;
}

const edits: fc.Arbitrary<Edit[]> = fc.array(
  fc.record({ at: fc.nat(4000), remove: fc.nat(12), insert }),
  { minLength: 1, maxLength: 6 },
);

export function edited(text: string, changes: readonly Edit[]): string {
  let out = text;
  for (const { at, remove, insert } of changes) {
    const place = at % (out.length + 1);
    out = out.slice(0, place) + insert + out.slice(place + remove);
  }
  return out;
}

export const mutatedTexts: fc.Arbitrary<string> = fc
  .tuple(fc.constantFrom(...CORPUS), edits)
  .map(([text, changes]) => edited(text, changes));

/** The same for any one text, such as a project file. */
export const mutationsOf = (text: string): fc.Arbitrary<string> =>
  edits.map((changes) => edited(text, changes));
