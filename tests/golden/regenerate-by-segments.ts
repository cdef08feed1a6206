/** Rewrites tests/golden/yarn-by-segments.md from the yarn model (a minute or two). */
import { writeFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { bySegments, FABRICS, LOOPS, segmentsReport } from './by-segments.ts';

const rows = FABRICS.flatMap((fabric) => LOOPS.map((loop) => bySegments(fabric, loop)));
writeFileSync(fileURLToPath(new URL('./yarn-by-segments.md', import.meta.url)), segmentsReport(rows));
