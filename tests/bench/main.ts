/**
 * `npm run bench [-- NAME …]`: runs the named benches, or all. Each prints its own table; figures are
 * of this machine, this minute. To add one, list it below.
 */

import { benchDrafts } from './draft-bench.ts';
import { benchEdits } from './edit-bench.ts';
import { benchParsing } from './parse-bench.ts';
import { benchRelaxation } from './relax-bench.ts';
import { benchStart } from './start-bench.ts';
import { benchYarn } from './yarn-bench.ts';

const benches: Record<string, () => void | Promise<void>> = {
  parse: benchParsing,
  relax: benchRelaxation,
  draft: benchDrafts,
  edit: benchEdits,
  start: benchStart,
  yarn: benchYarn,
};

const wanted = process.argv.slice(2).filter((word) => !word.startsWith('-'));
const unknown = wanted.filter((name) => !(name in benches));
if (unknown.length > 0) {
  console.error(
    `no bench called ${unknown.join(', ')}; there are ${Object.keys(benches).join(', ')}`,
  );
  process.exit(2);
}
for (const [name, run] of Object.entries(benches)) {
  if (wanted.length > 0 && !wanted.includes(name)) continue;
  console.log(`\n== ${name}`);
  await run();
}
