/**
 * Recomputes src/yarn/fabric-ratio-table.ts from the yarn model: `npx tsx tests/golden/regenerate-fabric-ratios.ts`
 * (about a minute). A test in tests/yarn recomputes single rows.
 */
import { writeFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { relaxCell } from '../../src/yarn/relax-cell.ts';

const LOOPS = [16.6, 17, 17.5, 18, 19, 20, 22];
const FABRICS = ['stockinette', 'garter', 'rib 1x1', 'rib 2x2', 'seed'] as const;

const lines: string[] = [];
for (const loop of LOOPS) {
  for (const fabric of FABRICS) {
    const cell = relaxCell({ stitch: fabric, loopMm: loop, yarnMm: 1 });
    if (!cell.relaxation.converged) {
      console.error(`${fabric} at ${loop} did not come to rest: ${cell.relaxation.reason}`);
      process.exitCode = 1;
    }
    const sizes = `width: ${cell.stitchMm.toFixed(3)}, height: ${cell.roundMm.toFixed(3)}, thickness: ${cell.thicknessMm.toFixed(2)}`;
    lines.push(`  { loop: ${loop}, fabric: '${fabric}', ${sizes} },`);
  }
}
const text = `/**
 * Relaxed sizes of five fabrics over loop length, in yarn diameters, by \`relaxCell\` (48 segments).
 * Written by tests/golden/regenerate-fabric-ratios.ts; not to be edited by hand.
 */
import type { FabricRatioRow } from './fabric-ratios.ts';

// biome-ignore format: one row a line
export const FABRIC_RATIO_TABLE: readonly FabricRatioRow[] = [
${lines.join('\n')}
];
`;
writeFileSync(fileURLToPath(new URL('../../src/yarn/fabric-ratio-table.ts', import.meta.url)), text);
