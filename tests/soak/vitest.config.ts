/** `npm run soak`: long seeded sweeps, apart from the tests. `LIEFLAT_SOAK_MINUTES` bounds all of it together. */
import { readdirSync } from 'node:fs';
import { join } from 'node:path';
import { defineConfig } from 'vitest/config';

/** Files at once. Chosen: the two cores of a small build machine. */
const WORKERS = 2;

/** Shares of the time that texts.soak.ts takes: ten thousand texts are to be read in the few minutes of CI. */
export const TEXT_SHARES = 3;

const files = readdirSync(join(import.meta.dirname)).filter((name) => name.endsWith('.soak.ts'));
const minutes = Number(process.env.LIEFLAT_SOAK_MINUTES ?? 0);
// A file's last case may run over, and starting takes a moment: a tenth is kept back.
const shares = files.length + TEXT_SHARES - 1;
const fileSeconds = (0.9 * minutes * 60 * WORKERS) / Math.max(shares, WORKERS);

/** Tests whose random cases are cut short in `npm test` (`tests/runs.ts`): all of them, where there is time. */
const shortened = [
  'cell',
  'cli',
  'draft',
  'fabric',
  'paper',
  'plan',
  'relax',
  'worker',
  'yarn',
].map((area) => `tests/${area}/*.test.ts`);

const common = {
  environment: 'node',
  testTimeout: 0,
  hookTimeout: 0,
  env: { LIEFLAT_SOAK_FILE_SECONDS: String(fileSeconds), LIEFLAT_PROPERTY_PART: '1' },
} as const;

/** As long as a user would, and at every width. */
const browser = {
  test: {
    ...common,
    name: 'browser',
    include: ['tests/browser/**/*.test.ts'],
    globalSetup: ['tests/browser/shared-browser.ts'],
    expect: { poll: { timeout: 60_000, interval: 100 } },
    sequence: { groupOrder: 1 },
  },
};

export default defineConfig({
  test: {
    maxWorkers: WORKERS,
    reporters: ['verbose'],
    projects: [
      {
        test: {
          ...common,
          name: 'soak',
          include: ['tests/soak/**/*.soak.ts', ...(minutes > 0 ? [] : shortened)],
          sequence: { groupOrder: 0 },
        },
      },
      ...(minutes > 0 ? [] : [browser]),
    ],
  },
});
