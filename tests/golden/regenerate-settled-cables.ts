/**
 * Recomputes src/view/fabric/settled-cables.ts from the yarn model:
 * `npx tsx tests/golden/regenerate-settled-cables.ts` (a minute).
 */
import { readFileSync, writeFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { settledCable } from './settled-cable.ts';

// Single stitches pass each other within half a round, their middles 0.4 diameters apart: less than a patch a stitch can show.
const rows = [2, 3].map((moved) => {
  const cable = settledCable(moved);
  console.log(moved, cable.reason);
  if (!cable.converged) process.exitCode = 1;
  const numbers = (values: readonly number[]) => `[${values.map((v) => Number(v.toFixed(2)) + 0).join(', ')}]`;
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
const file = fileURLToPath(new URL('../../src/view/fabric/settled-cables.ts', import.meta.url));
const written = readFileSync(file, 'utf8');
// What stands above the figures stays.
const head = written.slice(0, written.indexOf('= [\n') + 4);
writeFileSync(file, `${head}${rows.join('\n')}\n];\n`);
