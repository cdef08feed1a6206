/**
 * Counts told in any form are held against the piece: the wordings of `tests/plans/wordings/counts-told-in-any-form.txt`, in
 * which every number of stitches is made wrong in turn, are each refused on their own line.
 */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { parsePlan } from '../../src/plan/parse.ts';
import { eighthOf } from '../runs.ts';

const FILE = join(import.meta.dirname, '../plans/wordings/counts-told-in-any-form.txt');
const [carrier, ...wordings] = readFileSync(FILE, 'utf8').split(/^==>\n/m);
/** Counts of stitches of all, and of a needle, that the wordings tell truly. */
const TOLD =
  /(?<![\d.])(?:36|52|60|9|\bnine|(?<=\bk)7)(?=[ ,](?:sts?\b|stitches\b|total\b|remain\b|on the needles|a needle|\(4 x| k2tog)|\.|\))/g;
const line = carrier.split('\n').findIndex((l) => l.includes('<<>>')) + 1;

function miscounted(wording: string): string[] {
  return [...wording.matchAll(TOLD)].map(({ index, 0: told }) => {
    const wrong = told === 'nine' ? 'ten' : String(Number(told) + (Number(told) < 10 ? 1 : 4));
    return wording.slice(0, index) + wrong + wording.slice(index + told.length);
  });
}

describe('counts told in any form', () => {
  const all = wordings.flatMap(miscounted);

  it('tries a wrong count in every wording', () => {
    expect(wordings.filter((w) => miscounted(w).length === 0)).toEqual([]);
  });

  it('finds the wrong count where it stands', () => {
    const silent = eighthOf(all, 0).filter((wording) => {
      const { diagnostics } = parsePlan(carrier.replace('<<>>', () => wording.trim()));
      return diagnostics.find((d) => d.severity === 'error')?.from.line !== line;
    });
    expect(silent).toEqual([]);
  });
});
