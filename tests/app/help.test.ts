import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { EXPLAINED_FIGURES } from '../../src/app/help/figure-glossary.ts';
import {
  EXPLAINED_STITCHES,
  soughtStitches,
  stitchWords,
} from '../../src/app/help/stitch-glossary.ts';
import { parsePlan } from '../../src/plan/parse.ts';
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

  it.each(['cup', 'flat', 'ruffle'])(
    'explains every stitch of the demo that is worked: %s',
    (id) => {
      const plan = parsePlan(readFileSync(`src/app/demo/saltmarsh-${id}.txt`, 'utf8'));
      const worked = new Set(plan.rounds.flatMap((round) => [...round.works]));
      const names = EXPLAINED_STITCHES.map((kind) => kind.name);
      expect(names).toEqual(expect.arrayContaining([...worked].map((k) => plan.kinds[k].name)));
    },
  );

  it.each([
    ['k2tog', 'k2tog'],
    ['K2TOG ', 'k2tog'],
    ['knit two together', 'k2tog'],
    ['k4tog', 'k4tog'],
    ['yo', 'yo'],
    ['yarn over', 'yo'],
    ['yfwd', 'yo'],
    ['SKPO', 'skp'],
    ['sl 1, k1, psso', 'skp'],
    ['make 1 left', 'm1l'],
    ['c4f', '2/2 LC'],
    ['leans right', 'k2tog'],
  ])('finds under “%s” first %s', (sought, name) => {
    expect(soughtStitches(sought)[0]?.name).toBe(name);
  });

  it('finds nothing under a word that is no stitch, and everything under none', () => {
    expect(soughtStitches('zzz')).toEqual([]);
    expect(soughtStitches(' ')).toEqual(EXPLAINED_STITCHES);
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

it('lets no name from the code stand among the words of the page', () => {
  const inCode = /(?:>|\n)\s*([A-Z][a-z]+[A-Z]\w*)\s*(?:<|\n)/g;
  for (const file of readdirSync('src/app', { recursive: true }).map(String)) {
    if (!file.endsWith('.tsx')) continue;
    const text = readFileSync(`src/app/${file}`, 'utf8');
    expect(
      [...text.matchAll(inCode)].map((match) => match[1]),
      file,
    ).toEqual([]);
  }
});
