/**
 * Recomputes src/cell/cable-table.ts from the yarn model: `npx tsx tests/golden/regenerate-cable-table.ts`
 * (some minutes). A test in tests/yarn recomputes one row.
 */
import { writeFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { relaxPanel } from '../../src/cell/relax-panel.ts';

/** Loop length in yarn diameters: usual stockinette. */
const LOOP = 17.5;
const CASES: readonly (readonly [number, number, number])[] = [
  [1, 2, 0.3],
  [1, 4, 0.3],
  [2, 4, 0.3],
  [2, 6, 0.3],
  [2, 8, 0.3],
  [3, 6, 0.3],
  [3, 8, 0.3],
  [3, 12, 0.3],
  [2, 4, 0],
  [3, 6, 0],
  [2, 4, 0.5],
  [3, 6, 0.5],
];

const lines: string[] = [];
for (const [moved, every, supply] of CASES) {
  const wales = 2 * moved + 4;
  const panel = relaxPanel({
    faces: Array.from({ length: every }, () => new Array<1>(wales).fill(1)),
    crossings: [{ row: 1, wale: 2, over: moved, under: moved, lean: 1 }],
    loopMm: LOOP,
    yarnMm: 1,
    supply,
  });
  const { converged, reason } = panel.relaxation;
  if (!converged) {
    console.error(`${moved} over ${moved} every ${every} did not come to rest: ${reason}`);
    process.exitCode = 1;
  }
  const percent = panel.cablePullInPercent.toFixed(1);
  console.log(moved, every, supply, percent, reason);
  lines.push(
    `  { moved: ${moved}, every: ${every}, supply: ${supply}, percent: ${percent}, converged: ${converged} },`,
  );
}
const text = `/**
 * Pull-in of cables of equal strands in a ground of four stitches of stockinette, by \`relaxPanel\` at
 * ${LOOP} yarn diameters a loop. Written by tests/golden/regenerate-cable-table.ts; not to be edited by hand.
 */
import type { CableRow } from './cable-pull-in.ts';

export const CABLE_TABLE: readonly CableRow[] = [
${lines.join('\n')}
];
`;
writeFileSync(fileURLToPath(new URL('../../src/cell/cable-table.ts', import.meta.url)), text);
