/** Set-up of every test file: notes the processor seconds that its own process spends on it, for `file-budget.ts`. */
import { afterAll } from 'vitest';

declare module '@vitest/runner' {
  interface TaskMeta {
    processorSeconds?: number;
  }
}

const before = process.cpuUsage();

// biome-ignore lint/correctness/noEmptyPattern: the runner reads from the pattern that nothing is wanted
afterAll(({}, { file }) => {
  const { user, system } = process.cpuUsage(before);
  file.meta.processorSeconds = (user + system) / 1e6;
});
