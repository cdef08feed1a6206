import { describe, expect, it } from 'vitest';
import { EXPLAINED_FIGURES } from '../../src/app/help/figure-glossary.ts';
import { EXPLAINED_STITCHES, stitchWords } from '../../src/app/help/stitch-glossary.ts';
import { NAMED_STITCHES } from '../../src/plan/stitches/table.ts';

describe('the glossary', () => {
  it('explains every stitch that the reader knows by name, each once and in words', () => {
    const names = EXPLAINED_STITCHES.map((kind) => kind.name);
    expect(names).toEqual(expect.arrayContaining(NAMED_STITCHES.map((kind) => kind.name)));
    expect(new Set(names).size).toBe(names.length);
    for (const kind of EXPLAINED_STITCHES) {
      expect(stitchWords(kind)).toMatch(/^\S.*\.$/);
      expect(kind.words).not.toBe('');
    }
  });

  it('says of every stitch how it changes the count, and by what the reader counts', () => {
    for (const kind of EXPLAINED_STITCHES) {
      const change = kind.loops.length - kind.consumes;
      const said = /(Adds|Loses) (\d+) stitch/.exec(stitchWords(kind));
      expect(said === null ? 0 : (said[1] === 'Adds' ? 1 : -1) * Number(said[2])).toBe(change);
    }
  });

  it('explains figures in sentences, each once', () => {
    const names = EXPLAINED_FIGURES.map(({ name }) => name);
    expect(new Set(names).size).toBe(names.length);
    for (const { words } of EXPLAINED_FIGURES) expect(words).toMatch(/^[A-Z].*\.$/);
  });
});
