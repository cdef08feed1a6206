/** Plans that a browser without a graphics card lays, relaxes and draws at once, for tests where the demo is not the point. */
import { readFileSync } from 'node:fs';
import { COASTER, coaster, SMALL_COASTER, TINY_COASTER } from '../coaster.ts';

/** Lies flat, 328 stitches. */
export const SMALL_FLAT = `Title: Coaster\n${COASTER}`;

/** Lies flat, 88 stitches: where any fabric will do. */
export const TINY_FLAT = `Title: Little coaster\n${TINY_COASTER}`;

/** Decreases on every second round at a stockinette gauge: cups, and can be put right. */
export const SMALL_CUP = `Title: Small cup
Gauge: 20 sts and 26 rounds = 10 cm
Worked: in the round

Cast on 64 sts. Join in the round.
Round 1: *ssk, k12, k2tog; rep from * to end. (56 sts)
Round 2: knit.
Round 3: *ssk, k10, k2tog; rep from * to end. (48 sts)
Round 4: knit.
Round 5: *ssk, k8, k2tog; rep from * to end. (40 sts)
Round 6: knit.
Round 7: *ssk, k6, k2tog; rep from * to end. (32 sts)
Round 8: knit.
Round 9: *ssk, k4, k2tog; rep from * to end. (24 sts)
Round 10: knit.
Round 11: *ssk, k2, k2tog; rep from * to end. (16 sts)
Round 12: knit.
Draw yarn through remaining sts.
`;

/** Cups, 184 stitches; lies flat when it decreases on every round. */
export const TINY_CUP = `Title: Little cup
Gauge: 20 sts and 26 rounds = 10 cm
Worked: in the round

Cast on 40 sts. Join in the round.
Round 1: *ssk, k6, k2tog; rep from * to end. (32 sts)
Round 2: knit.
Round 3: *ssk, k4, k2tog; rep from * to end. (24 sts)
Round 4: knit.
Round 5: *ssk, k2, k2tog; rep from * to end. (16 sts)
Round 6: knit.
Draw yarn through remaining sts.
`;

const LEFT_OUT = 18;

/** The demo's cabled square begun 18 rounds later: 100 stitches, cables in rounds 6 and 12 between twisted stitches. */
export const SMALL_CABLED = readFileSync('src/app/demo/saltmarsh-cup.txt', 'utf8')
  .replace(/^Title: .*/m, 'Title: Creek middle')
  .replace('Cast on 172 sts', 'Cast on 100 sts')
  .replace(/^Round (\d+)(:.*\n)/gm, (_, n: string, work: string) =>
    Number(n) > LEFT_OUT ? `Round ${Number(n) - LEFT_OUT}${work}` : '',
  );

interface Square {
  readonly name: string;
  readonly text: string;
  readonly colour?: readonly [name: string, hex: string];
}

function blanketOf(title: string, squares: readonly Square[]): string {
  const ids = squares.map((_, k) => `square-${k + 1}`);
  return JSON.stringify({
    format: 'lieflat-project',
    version: 3,
    title,
    plans: squares.map(({ name, text, colour = null }, k) => ({
      id: ids[k],
      name,
      text: `Title: ${name}\n${text}`,
      colours: colour && { yarns: [{ name: colour[0], hex: colour[1] }], stripeRounds: 0 },
    })),
    open: ids[0],
    // Every square in every row, begun with another.
    blanket: {
      rows: ids.map((_, row) => ids.map((__, column) => ids[(row + column) % ids.length])),
    },
  });
}

/** A project with three small squares laid beside each other. */
export const SMALL_BLANKET = blanketOf('Small blanket', [
  { name: 'Coaster', text: SMALL_COASTER },
  { name: 'Smaller', text: TINY_COASTER },
  { name: 'Twin', text: SMALL_COASTER },
]);

const YARN = 'Yarn: worsted (4), 100 g = 200 m\n';

/** Three squares in yarn of three colours, of which one is a stitch or two narrower than its neighbours. */
export const COLOURED_BLANKET = blanketOf('Reed blanket', [
  { name: 'Reed square', text: YARN + coaster(40), colour: ['Woad', '#5787a3'] },
  { name: 'Sedge square', text: YARN + coaster(40), colour: ['Moss', '#76854f'] },
  { name: 'Rush square', text: YARN + coaster(32), colour: ['Fleece', '#e4dccb'] },
]);
