/** Two tabs, or a tab and what was written ahead before a crash: what both did, together. */
import fc from 'fast-check';
import { expect, it } from 'vitest';
import { mergeProjects } from '../../src/app/state/merge-projects.ts';
import { EMPTY_PROJECT } from '../../src/app/state/project-store.ts';
import type { Project } from '../../src/paper/project-file.ts';
import { runs } from '../runs.ts';

const square = (id: string, text: string) => ({ id, name: id, text, colours: null });
const withSquares = (texts: Readonly<Record<string, string>>): Project => ({
  ...EMPTY_PROJECT,
  plans: Object.entries(texts).map(([id, text]) => square(id, text)),
});
const textsOf = ({ plans }: Project) => plans.map(({ text }) => text).sort();

const someSquares = fc.dictionary(
  fc.constantFrom('square-1', 'square-2', 'square-3', 'square-4'),
  fc.constantFrom('a', 'b', 'c', 'd'),
);

it('keeps every text that either made, and none that both took away', () => {
  fc.assert(
    fc.property(someSquares, someSquares, someSquares, (base, mine, theirs) => {
      const merged = mergeProjects(withSquares(base), withSquares(mine), withSquares(theirs));
      const ids = merged.plans.map(({ id }) => id);
      expect(new Set(ids).size).toBe(ids.length);
      const texts = textsOf(merged);
      for (const change of [mine, theirs]) {
        for (const [id, text] of Object.entries(change)) {
          if (base[id] !== text) expect(texts).toContain(text);
        }
      }
      const made = new Set<string>([...Object.values(mine), ...Object.values(theirs)]);
      expect(texts.filter((text) => !made.has(text))).toEqual([]);
    }),
    { seed: 1, numRuns: runs(500) },
  );
});

it('is the same when it is done twice, so that what was saved already is not laid in again', () => {
  fc.assert(
    fc.property(someSquares, someSquares, (before, after) => {
      const [base, mine] = [withSquares(before), withSquares(after)];
      expect(textsOf(mergeProjects(base, mine, mine))).toEqual(textsOf(mine));
    }),
    { seed: 1, numRuns: runs(500) },
  );
});

it('keeps both where both changed one square, and lays mine where I laid it', () => {
  const base = withSquares({ 'square-1': 'a' });
  const mine = {
    ...withSquares({ 'square-1': 'mine' }),
    blanket: { ...base.blanket, rows: [['square-1', null]] },
  };
  const merged = mergeProjects(base, mine, withSquares({ 'square-1': 'theirs' }));
  expect(textsOf(merged)).toEqual(['mine', 'theirs']);
  const [[laid]] = merged.blanket.rows;
  expect(merged.plans.find(({ id }) => id === laid)?.text).toBe('mine');
});
