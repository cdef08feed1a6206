/**
 * Recomputes src/cell/fabric-stiffness-table.ts from the yarn model:
 * `npx tsx tests/golden/regenerate-fabric-stiffness.ts` (half a minute). A test recomputes single rows.
 */
import { writeFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { cellStiffness } from '../../src/cell/fabric-stiffness.ts';

const LOOPS = [18, 20, 22, 24, 26];
const FABRICS = ['stockinette', 'garter', 'rib 1x1', 'rib 2x2', 'seed'] as const;

const lines: string[] = [];
for (const loop of LOOPS) {
  for (const fabric of FABRICS) {
    const { course, wale, converged } = cellStiffness(fabric, loop);
    if (!converged || !(course > 0 && wale > 0)) {
      console.error(`${fabric} at ${loop} did not come to rest`);
      process.exitCode = 1;
    }
    lines.push(
      `  { loop: ${loop}, fabric: '${fabric}', course: ${course.toFixed(3)}, wale: ${wale.toFixed(3)} },`,
    );
  }
}
const text = `/**
 * Stiffness of five fabrics over loop length, energy per area and strain squared, B/d³, by \`cellStiffness\`:
 * along the course and along the wale, stretched and shortened by a tenth.
 * Written by tests/golden/regenerate-fabric-stiffness.ts; not to be edited by hand.
 */
import type { StiffnessRow } from './fabric-stiffness.ts';

// biome-ignore format: one row a line
export const FABRIC_STIFFNESS_TABLE: readonly StiffnessRow[] = [
${lines.join('\n')}
];
`;
writeFileSync(
  fileURLToPath(new URL('../../src/cell/fabric-stiffness-table.ts', import.meta.url)),
  text,
);
