/**
 * Recomputes src/view/fabric/settled-cables.ts from the yarn model:
 * `npx tsx tests/golden/regenerate-settled-cables.ts` (a minute).
 */
import { writeFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { settledCable } from './settled-cable.ts';

// Two single stitches that change places pull each other past their columns, which the patches of stitches cannot show.
const rows = [2, 3].map((moved) => {
  const cable = settledCable(moved);
  console.log(moved, cable.reason);
  if (!cable.converged) process.exitCode = 1;
  const numbers = (values: readonly number[]) => `[${values.map((v) => v.toFixed(2)).join(', ')}]`;
  const strand = ({ travel, height }: { travel: number[]; height: number[] }) =>
    `{
      travel: ${numbers(travel)},
      height: ${numbers(height)},
    }`;
  return `  {
    moved: ${moved},
    over: ${strand(cable.over)},
    under: ${strand(cable.under)},
  },`;
});
const text = `/**
 * Strands of cables at rest, by \`relaxPanel\` at 17 yarn diameters a loop, crossed every eight rounds between purl: how the
 * picture's strands travel. Written by tests/golden/regenerate-settled-cables.ts; not to be edited by hand.
 */

export interface SettledStrand {
  /** Share of the way across that is done, by rounds from three below the crossing to three above. */
  readonly travel: readonly number[];
  /** Height over the columns between crossings, yarn diameters. */
  readonly height: readonly number[];
}

/** By stitches in each strand; single ones are drawn as two. */
export const SETTLED_CABLES: readonly {
  readonly moved: number;
  readonly over: SettledStrand;
  readonly under: SettledStrand;
}[] = [
${rows.join('\n')}
];
`;
writeFileSync(
  fileURLToPath(new URL('../../src/view/fabric/settled-cables.ts', import.meta.url)),
  text,
);
