/** Rewrites tests/golden/yarn-against-published.md from the committed table. */
import { writeFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { yarnReport } from './yarn-report.ts';

writeFileSync(fileURLToPath(new URL('./yarn-against-published.md', import.meta.url)), yarnReport());
