/**
 * Set-up of every browser test: with `LIEFLAT_BROWSER_TIME=1` says what each test took of the shared browser, in processor
 * seconds. Run with `--no-file-parallelism`: files at the same time share the browser.
 */
import { afterEach, beforeEach, inject } from 'vitest';
import { processorSeconds } from './processor-seconds.ts';

if (process.env.LIEFLAT_BROWSER_TIME) {
  const root = inject('browserProcess');
  let since = processorSeconds(root);
  const lap = (name: string) => {
    const now = processorSeconds(root);
    console.log(`${(now - since).toFixed(1).padStart(6)} s of Chromium: ${name}`);
    since = now;
  };
  beforeEach(() => lap('before it'));
  afterEach(({ task }) => lap(task.name));
}
