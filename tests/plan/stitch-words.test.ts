/** What the words of the stitches say against how their loops lie. */
import { expect, it } from 'vitest';
import { parsePlan } from '../../src/plan/parse.ts';
import { NAMED_STITCHES, stitchKind } from '../../src/plan/stitches/table.ts';

it('every decrease says which way it leans on the knit side, as its loops lie, or that it is centred', () => {
  const together = ['k2tog', 'k3tog', 'p2tog', 'p3tog'].map((name) => stitchKind(name));
  const decreases = [...NAMED_STITCHES, ...together].flatMap((kind) =>
    kind && kind.loops.length === 1 && kind.loops[0].parents.length > 1 ? [kind] : [],
  );
  expect(decreases.length).toBeGreaterThan(10);
  for (const { name, words, consumes, loops } of decreases) {
    const [{ parents, face }] = loops;
    const middle = (consumes - 1) / 2;
    // The loop in front on the knit side: the last one of a purled decrease, told from the side that faces.
    const top = face > 0 ? parents[0] : parents[parents.length - 1];
    const side = face > 0 ? '' : ' on the knit side';
    if (top === middle) expect(words, name).toMatch(/centred/);
    // In working order the first loop lies to the right; from the purl side the knit side shows it to the left.
    else
      expect(words, name).toContain(
        `leans ${(top > middle) === face > 0 ? 'right' : 'left'}${side}`,
      );
  }
});

it.each(['m1', 'm1l', 'm1r', 'm1p', 'm1lp', 'm1rp', 'yo', 'm1 left', 'm1 right', 'make 1 left'])(
  'takes no purl stitch behind "%s" for a part of its name',
  (increase) => {
    const ways = ['p5', 'p to end', 'purl 5', 'k5', 'k to end', 'purl to end'];
    for (const next of ways) {
      const { rounds, kinds, diagnostics } = parsePlan(
        `Cast on 6 sts and join in the round.\nRound 1: k1, ${increase}, ${next}.\nBind off.`,
      );
      expect(diagnostics, next).toEqual([]);
      const [, made, ...others] = Array.from(rounds[0].works, (id) => kinds[id].name);
      expect(kinds[rounds[0].works[1]].consumes, next).toBe(0);
      expect(others, `${made} ${next}`).toEqual(Array(5).fill(next[0]));
    }
  },
);
