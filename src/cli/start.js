/**
 * What `npm run lieflat` starts: the built command where it is as new as its sources, else a build of them kept under
 * node_modules/.cache, else (nothing can be written there) the sources themselves.
 */
import { createHash } from 'node:crypto';
import { existsSync, mkdirSync, readdirSync, renameSync, rmSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';

const ROOT = join(import.meta.dirname, '../..');
const CACHE = join(ROOT, 'node_modules/.cache/lieflat');
/** Folders that the command does not reach. */
const PAGE_ONLY = new Set(['app', 'view']);

const sources = sourcesIn(join(ROOT, 'src'));
const command = builtCommand() ?? (await cachedCommand());
if (command) await import(pathToFileURL(command).href);
else {
  const { register } = await import('tsx/esm/api');
  register();
  await import('./main.ts');
}

function sourcesIn(folder) {
  return readdirSync(folder, { withFileTypes: true }).flatMap((entry) => {
    const path = join(folder, entry.name);
    if (!entry.isDirectory()) return [{ path, ...pick(statSync(path)) }];
    return PAGE_ONLY.has(entry.name) ? [] : sourcesIn(path);
  });
}

function pick({ mtimeMs, size }) {
  return { mtimeMs, size };
}

function builtCommand() {
  const path = join(ROOT, 'dist/lieflat.js');
  if (!existsSync(path)) return null;
  const { mtimeMs } = statSync(path);
  return sources.every((source) => source.mtimeMs < mtimeMs) ? path : null;
}

async function cachedCommand() {
  const print = createHash('sha256').update(JSON.stringify(sources)).digest('hex').slice(0, 16);
  const path = join(CACHE, `${print}.mjs`);
  if (existsSync(path)) return path;
  const outDir = join(CACHE, `building-${process.pid}`);
  try {
    mkdirSync(CACHE, { recursive: true });
    const { build } = await import('vite');
    await build({
      root: ROOT,
      configFile: join(import.meta.dirname, 'vite.config.ts'),
      logLevel: 'silent',
      build: { outDir },
    });
    for (const old of readdirSync(CACHE)) if (old.endsWith('.mjs')) rmSync(join(CACHE, old));
    // In one step: another call may be looking for it.
    renameSync(join(outDir, 'lieflat.js'), path);
    return path;
  } catch {
    return null;
  } finally {
    rmSync(outDir, { recursive: true, force: true });
  }
}
