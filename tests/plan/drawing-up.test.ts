/**
 * Drawing up told by its things ("yarn through the lot, tug") must not swallow what still works some of the stitches, or
 * takes another number of them.
 */
import { describe, expect, it } from 'vitest';
import { parsePlan } from '../../src/plan/parse.ts';

const upTo = (end: string) =>
  parsePlan(
    `Cast on 24 sts and join in the round.\nRound 1: purl.\nRound 2: k2tog to end. (12 sts)\n${end}`,
  );

describe('drawing up by its things', () => {
  it.each([
    'Yarn through all 14, tug, knot, done.',
    'Cut the yarn, run it through the 10 stitches and pull tight.',
    'Yarn through every other stitch, tug, knot.',
    'Lasso 6 of the sts with the yarn tail and pull.',
    'Wool through the lot but the last, pull.',
    'Pull the yarn through the first half of the stitches and go on with the rest.',
    'To cut the strand, to pass it through the 8 sts and to pull.',
    'Yarn through all 12, twist every second one, pull.',
  ])('notices what "%s" does otherwise', (end) => {
    const told = upTo(end).diagnostics.filter((d) => d.severity !== 'note');
    expect(told.map((d) => d.from.line)).toContain(4);
  });

  it.each([
    'Yarn through all 12, tug, knot, done.',
    'Bind loosely off in purl.',
    'Hook the tail through the 12 loops and zip it all shut.',
  ])('ends the piece by "%s"', (end) => {
    const plan = upTo(end);
    expect(plan.diagnostics).toEqual([]);
    expect(plan.ending).toBe(end.startsWith('Bind') ? 'bound-off' : 'drawn-up');
  });
});
