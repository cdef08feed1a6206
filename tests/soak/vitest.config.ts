/** `npm run soak`: long seeded sweeps, apart from the tests. `LIEFLAT_SOAK_MINUTES` bounds all of it together. */
import { readdirSync } from 'node:fs';
import { join } from 'node:path';
import { defineConfig } from 'vitest/config';

/** Files at once. Chosen: the two cores of a small build machine. */
const WORKERS = 2;

const files = readdirSync(join(import.meta.dirname)).filter((name) => name.endsWith('.soak.ts'));
const minutes = Number(process.env.LIEFLAT_SOAK_MINUTES ?? 0);
// A file's last case may run over, and starting takes a moment: a tenth is kept back.
const fileSeconds = (0.9 * minutes * 60 * WORKERS) / Math.max(files.length, WORKERS);

export default defineConfig({
  test: {
    include: ['tests/soak/**/*.soak.ts'],
    environment: 'node',
    maxWorkers: WORKERS,
    testTimeout: 0,
    hookTimeout: 0,
    env: { LIEFLAT_SOAK_FILE_SECONDS: String(fileSeconds) },
    reporters: ['verbose'],
  },
});
