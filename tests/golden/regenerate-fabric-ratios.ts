/**
 * Recomputes src/cell/fabric-ratio-table.ts from the yarn model: `npx tsx tests/golden/regenerate-fabric-ratios.ts`
 * (some minutes). A test in tests/yarn recomputes single rows.
 */
import { writeFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { relaxCell } from '../../src/cell/relax-cell.ts';

const LOOPS = [16.6, 17, 17.5, 18, 19, 20, 22];
const FABRICS = ['stockinette', 'garter', 'rib 1x1', 'rib 2x2', 'seed'] as const;

/** Nine starts; the table holds the one of median width. */
const STARTS = [0.8, 1, 1.2].flatMap((height) => [0.7, 1, 1.3].map((depth) => ({ height, depth })));

const lines: string[] = [];
for (const loop of LOOPS) {
  for (const fabric of FABRICS) {
    const cells = STARTS.map((start) => relaxCell({ stitch: fabric, loopMm: loop, yarnMm: 1, start }));
    for (const { relaxation } of cells) {
      if (relaxation.converged) continue;
      console.error(`${fabric} at ${loop} did not come to rest: ${relaxation.reason}`);
      process.exitCode = 1;
    }
    cells.sort((a, b) => a.stitchMm - b.stitchMm);
    const cell = cells[(cells.length - 1) / 2];
    const spread = cells[cells.length - 1].stitchMm / cells[0].stitchMm - 1;
    if (spread > 0.02) {
      console.log(`${fabric} at ${loop}: states ${(100 * spread).toFixed(0)} % apart in width`);
    }
    const sizes = `width: ${cell.stitchMm.toFixed(3)}, height: ${cell.roundMm.toFixed(3)}, thickness: ${cell.thicknessMm.toFixed(2)}`;
    lines.push(`  { loop: ${loop}, fabric: '${fabric}', ${sizes} },`);
  }
}
const text = `/**
 * Relaxed sizes of five fabrics over loop length, in yarn diameters, by \`relaxCell\` (48 segments): the
 * median of nine starts. Stockinette, garter and seed end in one state; ribs in several, up to a third
 * apart in width and half a percent in energy.
 * Written by tests/golden/regenerate-fabric-ratios.ts; not to be edited by hand.
 */
import type { FabricRatioRow } from './fabric-ratios.ts';

// biome-ignore format: one row a line
export const FABRIC_RATIO_TABLE: readonly FabricRatioRow[] = [
${lines.join('\n')}
];
`;
const place = (path: string) => fileURLToPath(new URL(path, import.meta.url));
writeFileSync(place('../../src/cell/fabric-ratio-table.ts'), text);
console.log('now: npx tsx tests/golden/regenerate-yarn-report.ts');
