/**
 * Recomputes src/view/yarn/settled-loops.ts from the yarn model:
 * `npx tsx tests/golden/regenerate-settled-loops.ts` (some seconds). A test in tests/view recomputes one row.
 */
import { writeFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { FABRIC_OF_ROW, SETTLED_LOOP, settledRow } from './settled-row.ts';

const lines = Object.keys(FABRIC_OF_ROW).map((name) => {
  const row = settledRow(name as keyof typeof FABRIC_OF_ROW);
  if (!row.converged) {
    console.error(`${name} did not come to rest: ${row.reason}`);
    process.exitCode = 1;
  }
  const numbers = (values: readonly number[]) => values.map((v) => v.toFixed(3)).join(', ');
  console.log(name, row.width.toFixed(3), row.height.toFixed(3), row.reason);
  return `  ${name}: {
    width: ${row.width.toFixed(3)},
    height: ${row.height.toFixed(3)},
    entering: [${numbers(row.entering)}],
    head: [${numbers(row.head)}],
  },`;
});
const text = `/**
 * Loops at rest in regular fabrics, by \`relaxCell\` at ${SETTLED_LOOP} yarn diameters a loop: what the picture's
 * stitches are drawn from. Written by tests/golden/regenerate-settled-loops.ts; not to be edited by hand.
 */
import type { SettledLoop } from './loop-template.ts';

export const SETTLED_LOOPS: Readonly<Record<'plain' | 'course' | 'wale' | 'both', SettledLoop>> = {
${lines.join('\n')}
};
`;
writeFileSync(
  fileURLToPath(new URL('../../src/view/yarn/settled-loops.ts', import.meta.url)),
  text,
);
