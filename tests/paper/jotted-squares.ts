/**
 * Squares, hexagons and the like as a designer jots them down, which no draft writes: borders of small repeats that run
 * on over the corners, other decreases, a gathering round over whatever is left. Out: an arbitrary of plan texts.
 */
import fc from 'fast-check';

export interface Jotted {
  readonly text: string;
  /** Equal sides that its shaping has. */
  readonly sides: number;
}

/** A round that repeats: what is worked over and over, for the rounds of the border in turn. */
const BORDERS = [
  ['k1, p1', 'p1, k1'],
  ['k1, p1'],
  ['k2, p2'],
  ['k2, p2', 'p2, k2'],
  ['k3, p1'],
  ['ktbl, p1'],
] as const;

/** What a side is shaped to, and the stitches left out of its middle. */
const CORNERS = [
  ['ssk', 'k2tog', 4],
  ['k1, ssk', 'k2tog, k1', 6],
  ['k2tog', 'ssk', 4],
  ['', 's2kp', 3],
  ['', 'k2tog', 2],
  ['k2', 's2kp, k1', 6],
] as const;

const GATHERS = ['k2tog', 'k3tog', 'k1, k2tog', 'ssk, k2tog'] as const;

export const jottedSquares: fc.Arbitrary<Jotted> = fc
  .record({
    sides: fc.constantFrom(3, 4, 5, 6, 8),
    each: fc.integer({ min: 9, max: 22 }),
    border: fc.option(
      fc.record({ of: fc.constantFrom(...BORDERS), rounds: fc.integer({ min: 1, max: 6 }) }),
    ),
    corner: fc.constantFrom(...CORNERS),
    plain: fc.constantFrom('knit', 'purl'),
    every: fc.integer({ min: 1, max: 3 }),
    rounds: fc.integer({ min: 2, max: 8 }),
    gather: fc.constantFrom(...GATHERS),
    ending: fc.constantFrom('Break yarn and draw through remaining sts.', 'Bind off.'),
  })
  .map(
    ({
      sides,
      each,
      border,
      corner: [right, left, taken],
      plain,
      every,
      rounds,
      gather,
      ending,
    }) => {
      const lines = [`Cast on ${sides * each} sts. Join in the round.`];
      // Over the corners a border runs on; one that does not come out even is plain.
      const width = (block: string) =>
        [...block.matchAll(/\d+/g)].reduce(
          (sum, [n]) => sum + Number(n),
          block.includes('tbl') ? 1 : 0,
        );
      if (border && (sides * each) % width(border.of[0]) === 0)
        for (let i = 0; i < border.rounds; i++)
          lines.push(`Next round: *${border.of[i % border.of.length]}; rep from * to end.`);
      else lines.push('Next round: knit.');
      const lost = left.includes('s2kp') || (right !== '' && right !== 'k2') ? 2 : 1;
      let side = each;
      for (let i = 0; i < rounds && side - taken >= 2; i++) {
        if (i % every === 0) {
          lines.push(
            `Next round: *${[right, `k${side - taken}`, left].filter((part) => part).join(', ')}; rep from * to end.`,
          );
          side -= lost;
        } else lines.push(`Next round: ${plain}.`);
      }
      const last = { k2tog: 2, k3tog: 3, 'k1, k2tog': 3, 'ssk, k2tog': 4 }[gather];
      if ((sides * side) % last === 0 && sides * side > 2 * last)
        lines.push(`Next round: *${gather}; rep from * to end.`);
      return { text: [...lines, ending].join('\n'), sides };
    },
  );
