/**
 * Set-up of every test file: notes the processor seconds that its own process spends on it, for `file-budget.ts`; with
 * `LIEFLAT_TEST_TIME=1` says what each test took. Tests of one process follow each other, so none is counted twice.
 */
import { afterAll, afterEach, beforeEach } from 'vitest';

declare module '@vitest/runner' {
  interface TaskMeta {
    processorSeconds?: number;
  }
}

const before = process.cpuUsage();

function secondsSince(then: NodeJS.CpuUsage): number {
  const { user, system } = process.cpuUsage(then);
  return (user + system) / 1e6;
}

if (process.env.LIEFLAT_TEST_TIME) {
  let begun = before;
  beforeEach(() => {
    begun = process.cpuUsage();
  });
  afterEach(({ task }) => {
    console.log(`${secondsSince(begun).toFixed(2).padStart(7)} s of processor: ${task.name}`);
  });
}

// biome-ignore lint/correctness/noEmptyPattern: the runner reads from the pattern that nothing is wanted
afterAll(({}, { file }) => {
  file.meta.processorSeconds = secondsSince(before);
});
