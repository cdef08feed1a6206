/** Rewrites tests/golden/join-openings.md from the yarn model (some four minutes). */
import { writeFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { joinReport } from './join-openings.ts';

writeFileSync(fileURLToPath(new URL('./join-openings.md', import.meta.url)), joinReport());
