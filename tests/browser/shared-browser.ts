/**
 * Set up once for all browser tests: the page built and served, and one Chromium that every file connects to.
 * Out: `pageOrigin` and `browserAddress`, provided to the tests.
 */
import { readdirSync, readFileSync } from 'node:fs';
import { chromium } from 'playwright-core';
import { build, preview } from 'vite';
import type { TestProject } from 'vitest/node';
import { launchOptions } from './launch-options.ts';

const OUT_DIR = 'tests/browser/out';

declare module 'vitest' {
  export interface ProvidedContext {
    pageOrigin: string;
    browserAddress: string;
  }
}

export default async function setup(project: TestProject): Promise<() => Promise<void>> {
  const [browser] = await Promise.all([
    chromium.launchServer(launchOptions()),
    build({ logLevel: 'error', build: { outDir: OUT_DIR, emptyOutDir: true } }),
  ]);
  const server = await preview({
    logLevel: 'error',
    build: { outDir: OUT_DIR },
    preview: { port: 0, host: '127.0.0.1' },
  });
  const address = server.httpServer.address();
  if (!address || typeof address === 'string') throw new Error('the preview server has no port');
  project.provide('pageOrigin', `http://127.0.0.1:${address.port}`);
  project.provide('browserAddress', browser.wsEndpoint());
  return async () => {
    const seconds = processorSeconds(browser.process().pid ?? 0);
    if (seconds > 0) console.log(`Chromium took ${seconds.toFixed(0)} processor seconds`);
    await browser.close();
    await server.close();
  };
}

/** Of a process and all it started, ended ones included; 0 where the system does not tell (proc(5), clock ticks of 10 ms). */
function processorSeconds(root: number): number {
  const spent = new Map<number, number>();
  const parents = new Map<number, number>();
  try {
    for (const name of readdirSync('/proc').filter((entry) => /^\d+$/.test(entry))) {
      try {
        const stat = readFileSync(`/proc/${name}/stat`, 'utf8');
        const fields = stat
          .slice(stat.lastIndexOf(')') + 2)
          .split(' ')
          .map(Number);
        parents.set(Number(name), fields[1]);
        spent.set(Number(name), fields.slice(11, 15).reduce((sum, ticks) => sum + ticks, 0) / 100);
      } catch {
        // Ended meanwhile.
      }
    }
  } catch {
    return 0;
  }
  const within = (pid: number): boolean =>
    pid === root || (pid > 1 && within(parents.get(pid) ?? 0));
  return [...spent].reduce((sum, [pid, seconds]) => sum + (within(pid) ? seconds : 0), 0);
}
