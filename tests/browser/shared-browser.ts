/**
 * Set up once for all browser tests: the page built and served, and one Chromium that every file connects to.
 * Out: `pageOrigin`, `browserAddress` and `browserProcess`, provided to the tests.
 */
import { chromium } from 'playwright-core';
import { build } from 'vite';
import type { TestProject } from 'vitest/node';
import { launchOptions } from './launch-options.ts';
import { processorSeconds } from './processor-seconds.ts';
import { OUT_DIR, servePage } from './serve-page.ts';

declare module 'vitest' {
  export interface ProvidedContext {
    pageOrigin: string;
    browserAddress: string;
    browserProcess: number;
  }
}

export default async function setup(project: TestProject): Promise<() => Promise<void>> {
  const [browser] = await Promise.all([chromium.launchServer(launchOptions()), buildPage()]);
  const server = await servePage(OUT_DIR);
  project.provide('pageOrigin', server.origin);
  project.provide('browserAddress', browser.wsEndpoint());
  project.provide('browserProcess', browser.process().pid ?? 0);
  return async () => {
    const seconds = processorSeconds(browser.process().pid ?? 0);
    if (seconds > 0) console.log(`Chromium took ${seconds.toFixed(0)} processor seconds`);
    await browser.close();
    await server.close();
  };
}

/** The page as it is shipped: in a test's environment React would be its development build, larger and several times as slow. */
async function buildPage(): Promise<void> {
  const { NODE_ENV } = process.env;
  process.env.NODE_ENV = 'production';
  try {
    await build({ logLevel: 'error', build: { outDir: OUT_DIR, emptyOutDir: true } });
  } finally {
    process.env.NODE_ENV = NODE_ENV;
  }
}
