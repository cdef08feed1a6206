/** Ways of working a stitch in many words, each beginning with another of the words that a move may begin with. */
import { expect, it } from 'vitest';
import { stitchWorked } from '../../src/plan/lex/explained-stitches.ts';

/** [stitch, ways]; what the moves make is common practice. */
const WAYS: readonly (readonly [string, readonly string[]])[] = [
  [
    'skp',
    [
      'slip 1, knit 1, pass the slipped st over',
      'sl 1, k1, psso',
      'lift off 1 st, knit the next, draw the loose one over it',
      'take 1 st off unknitted, knit 1, and cover it with the slipped st',
      '1 st is slipped, 1 st is knitted, the slipped st is passed over',
      'slip the next st knitwise, knit one, leap the slipped st over the knitted one',
    ],
  ],
  [
    'sk2p',
    [
      'slip 1, knit 2 together, pass slipped st over',
      'sl 1, k2tog, lift the slipped stitch over it',
      'slip 1, work 2 sts together, psso',
    ],
  ],
  [
    's2kp',
    [
      'slip 2 together as if to knit, knit 1, pass both slipped sts over',
      'slip 2 together knitwise, k1, p2sso',
      'two sts are lifted together, knit one, pass them over',
    ],
  ],
  [
    'ssk',
    [
      'slip 1, slip 1, knit both together through the back loops',
      'slip two one after the other, knit them together tbl',
    ],
  ],
  [
    'k2tog',
    ['knit 2 together', 'work together 2 sts', '2 sts are knitted together', '2 knit together'],
  ],
  ['k3tog', ['knit 3 sts together', 'knit the next 3 together']],
  ['k2tog tbl', ['knit 2 together through the back loops', 'k2tog tbl']],
  ['yo', ['wrap the yarn around the needle', 'bring the thread over the right needle']],
  [
    'm1',
    [
      'lift the strand between the needles, knit it twisted',
      'pick up the bar between the stitches, knit it through the back loop',
      'raise the cross thread, knit this through the back',
    ],
  ],
];

it.each(WAYS)('reads every way of %s', (stitch, ways) => {
  expect(ways.map((way) => [way, stitchWorked(way)])).toEqual(ways.map((way) => [way, stitch]));
});

it('makes no stitch of moves that are none', () => {
  for (const way of ['knit the knits', 'slip 3 sts to cable needle', 'k11', '17 sts and 23 rounds'])
    expect(stitchWorked(way), way).toBeNull();
});
