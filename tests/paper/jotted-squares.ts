/**
 * Squares, hexagons and the like as a designer jots them down, which no draft writes: borders of small repeats that run
 * on over the corners, panels of cables and lace, a gathering round over whatever is left. Out: an arbitrary of plan texts.
 */
import fc from 'fast-check';

interface Jotted {
  readonly text: string;
  /** Equal sides that its shaping has. */
  readonly sides: number;
}

/** What a border works over and over, in its rounds in turn; the stitches of a repeat. */
const BORDERS = [
  [['k1, p1', 'p1, k1'], 2],
  [['k1, p1'], 2],
  [['k2, p2'], 4],
  [['k2, p2', 'p2, k2'], 4],
  [['k3, p1'], 4],
  [['ktbl, p1'], 2],
] as const;

/** Shaping at the right and the left end of a side: words, stitches that it takes, stitches that it loses. */
const CORNERS = [
  [
    ['ssk', 2, 1],
    ['k2tog', 2, 1],
  ],
  [
    ['k1, ssk', 3, 1],
    ['k2tog, k1', 3, 1],
  ],
  [
    ['k2tog', 2, 1],
    ['ssk', 2, 1],
  ],
  [
    ['', 0, 0],
    ['s2kp', 3, 2],
  ],
  [
    ['', 0, 0],
    ['k2tog', 2, 1],
  ],
  [
    ['k2', 2, 0],
    ['s2kp, k1', 4, 2],
  ],
] as const;

/** Panels on shaped rounds, and their stitches; knit or purled over elsewhere. */
const PANELS = [
  ['yo, s2kp, yo', 3],
  ['k2tog, yo', 2],
  ['yo, ssk', 2],
  ['k2tog, yo, k1, yo, ssk', 5],
  ['k1, yo, s2kp, yo, k1', 5],
  ['2/2 RC', 4],
  ['p1, 2/2 LC, p1', 6],
  ['p1, k2, p1', 4],
  ['ktbl, p1, ktbl', 3],
] as const;

/** What is worked over and over at the end, and the stitches of a repeat. */
const GATHERS = [
  ['k2tog', 2],
  ['k3tog', 3],
  ['k1, k2tog', 3],
  ['ssk, k2tog', 4],
] as const;

export const jottedSquares: fc.Arbitrary<Jotted> = fc
  .record({
    sides: fc.constantFrom(3, 4, 5, 6, 8),
    each: fc.integer({ min: 9, max: 22 }),
    border: fc.option(
      fc.record({ of: fc.constantFrom(...BORDERS), rounds: fc.integer({ min: 1, max: 6 }) }),
    ),
    corner: fc.constantFrom(...CORNERS),
    panel: fc.option(
      fc.record({ of: fc.constantFrom(...PANELS), percent: fc.integer({ min: 20, max: 80 }) }),
    ),
    plain: fc.constantFrom('knit', 'purl'),
    every: fc.integer({ min: 1, max: 3 }),
    rounds: fc.integer({ min: 2, max: 8 }),
    gather: fc.constantFrom(...GATHERS),
    ending: fc.constantFrom('Break yarn and draw through remaining sts.', 'Bind off.'),
  })
  .map(({ sides, each, border, corner, panel, plain, every, rounds, gather, ending }) => {
    const lines = [`Cast on ${sides * each} sts. Join in the round.`];
    const round = (block: string) => lines.push(`Next round: *${block}; rep from * to end.`);
    // A border runs on over the corners where it comes out even all round.
    if (border && (sides * each) % border.of[1] === 0)
      for (let i = 0; i < border.rounds; i++) round(border.of[0][i % border.of[0].length]);
    else lines.push('Next round: knit.');
    const [[right, first, lostFirst], [left, last, lostLast]] = corner;
    let wide = panel?.of[1] ?? 0;
    let before = Math.round(((each - wide) * (panel?.percent ?? 100)) / 100);
    // A panel that has no room beside it is left out.
    if (before - first < 1 || each - wide - before - last < 1) [wide, before] = [0, each];
    let behind = each - wide - before;
    for (let i = 0; i < rounds; i++) {
      if (i % every > 0) {
        lines.push(`Next round: ${plain}.`);
        continue;
      }
      const [a, b] =
        panel && wide > 0 ? [before - first, behind - last] : [before + behind - first - last, 0];
      if (a < 1 || b < (wide > 0 ? 1 : 0)) break;
      round(
        [right, `k${a}`, ...(panel && wide > 0 ? [panel.of[0], `k${b}`] : []), left]
          .filter(Boolean)
          .join(', '),
      );
      before -= lostFirst;
      behind -= lostLast;
    }
    const side = before + wide + behind;
    const [words, over] = gather;
    if ((sides * side) % over === 0 && sides * side > 2 * over) round(words);
    return { text: [...lines, ending].join('\n'), sides };
  });
