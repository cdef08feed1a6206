/** A Chromium of its own with a profile on disk, that a test can kill as a crash or a power cut would. */
import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { setTimeout as wait } from 'node:timers/promises';
import { type BrowserContext, chromium } from 'playwright-core';
import { launchOptions } from './launch-options.ts';

export interface OwnBrowser {
  readonly context: BrowserContext;
  /** Ends every process of it at once (SIGKILL); resolves when the first is gone. */
  kill(): Promise<void>;
}

export interface Profile {
  start(): Promise<OwnBrowser>;
  remove(): void;
}

/** A build machine may be ten times as slow as a desk. */
const START_LIMIT_MS = 90_000;

export function newProfile(): Profile {
  const folder = mkdtempSync(join(tmpdir(), 'lieflat-profile-'));
  return {
    start: () => startIn(folder),
    remove: () => rmSync(folder, { recursive: true, force: true, maxRetries: 5 }),
  };
}

async function startIn(folder: string): Promise<OwnBrowser> {
  const portFile = join(folder, 'DevToolsActivePort');
  rmSync(portFile, { force: true });
  const { executablePath, args = [] } = launchOptions();
  const child = spawn(
    String(executablePath),
    [...args, `--user-data-dir=${folder}`, '--remote-debugging-port=0', 'about:blank'],
    { detached: true, stdio: 'ignore' },
  );
  const port = await portIn(portFile);
  const browser = await chromium.connectOverCDP(`http://127.0.0.1:${port}`);
  const [context] = browser.contexts();
  context.setDefaultTimeout(START_LIMIT_MS);
  return {
    context,
    async kill() {
      const gone = once(child, 'exit');
      // Its group: the process that writes the storage goes down with it.
      process.kill(-Number(child.pid), 'SIGKILL');
      await gone;
    },
  };
}

async function portIn(file: string): Promise<string> {
  const until = Date.now() + START_LIMIT_MS;
  while (Date.now() < until) {
    try {
      const [port] = readFileSync(file, 'utf8').split('\n');
      if (port) return port;
    } catch {
      // Not yet written.
    }
    await wait(50);
  }
  throw new Error('the browser did not start');
}
