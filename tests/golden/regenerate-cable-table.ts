/**
 * Recomputes src/cell/cable-table.ts from the yarn model: `npx tsx tests/golden/regenerate-cable-table.ts`
 * (some minutes). A test in tests/cell recomputes one row.
 */
import { writeFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import type { CableGround, CableRow } from '../../src/cell/cable-pull-in.ts';
import { CABLE_CASES, cableRow } from './cable-row.ts';

const GROUNDS: readonly CableGround[] = ['stockinette', 'purl'];

const rows: CableRow[] = [];
for (const ground of GROUNDS) {
  for (const [moved, every, loop] of CABLE_CASES) {
    const row = cableRow(moved, every, ground, loop);
    console.log(row);
    rows.push(row);
  }
}
const lines = rows.map(({ other, ...row }) => {
  const told = Object.entries(row).map(([key, value]) => `${key}: ${typeof value === 'string' ? `'${value}'` : value}`);
  const second = other
    ? `{ percent: ${other.percent}, energyPercent: ${other.energyPercent} }`
    : 'null';
  return `  { ${told.join(', ')}, other: ${second} },`;
});
const text = `/**
 * Pull-in of cables of equal strands, two stitches of ground to each side, by \`relaxPanel\`: every row has
 * the same yarn. Written by tests/golden/regenerate-cable-table.ts; not to be edited by hand.
 */
import type { CableRow } from './cable-pull-in.ts';

// biome-ignore format: one row a line
export const CABLE_TABLE: readonly CableRow[] = [
${lines.join('\n')}
];
`;
writeFileSync(fileURLToPath(new URL('../../src/cell/cable-table.ts', import.meta.url)), text);
