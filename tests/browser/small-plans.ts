/** Plans that a browser without a graphics card lays, relaxes and draws at once, for tests where the demo is not the point. */
import { readFileSync } from 'node:fs';
import { COASTER } from '../coaster.ts';

/** Lies flat, 328 stitches. */
export const SMALL_FLAT = `Title: Coaster\n${COASTER}`;

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

const LEFT_OUT = 18;

/** The demo's cabled square begun 18 rounds later: 100 stitches, cables in rounds 6 and 12 between twisted stitches. */
export const SMALL_CABLED = readFileSync('src/app/demo/saltmarsh-cup.txt', 'utf8')
  .replace(/^Title: .*/m, 'Title: Creek middle')
  .replace('Cast on 172 sts', 'Cast on 100 sts')
  .replace(/^Round (\d+)(:.*\n)/gm, (_, n: string, work: string) =>
    Number(n) > LEFT_OUT ? `Round ${Number(n) - LEFT_OUT}${work}` : '',
  );

/** A project with three small squares laid beside each other. */
export const SMALL_BLANKET = JSON.stringify({
  format: 'lieflat-project',
  version: 2,
  title: 'Small blanket',
  plans: [SMALL_FLAT, SMALL_CUP, SMALL_CABLED].map((text, k) => ({
    id: `square-${k + 1}`,
    name: /^Title: (.*)/m.exec(text)?.[1],
    text,
  })),
  open: 'square-1',
  blanket: { rows: [['square-1', 'square-2', 'square-3']] },
});
