/**
 * Tests of the core run what ships: one file built of it once, in which no call goes through an exporting object as in the
 * runner's own modules. Used by `npm test` alone (`--mode built`), so that a failure looked into shows the sources' lines.
 */
import { readdirSync } from 'node:fs';
import { dirname, join, relative, resolve, sep } from 'node:path';
import { build, type Plugin } from 'vite';

const SOURCES = join(import.meta.dirname, '../src');
/** Within the project, so that packages are found from there. */
const OUT_DIR = join(import.meta.dirname, 'built');

/** What runs in Node without a page, but for what starts something when it is imported. */
const CORE =
  /^(?:cell|cli|draft|fabric|flow|gauge|math|paper|plan|relax|report|rod|yarn)\/|^knit\.ts$/;
const STARTS = /^cli\/(?:main|vite\.config)\.ts$/;

/** Plugin: reads every import of a core file, wherever it stands, as one of the same file built. */
export function builtCore(): Plugin {
  const names = new Set(coreNames());
  return {
    name: 'built-core',
    enforce: 'pre',
    resolveId(source, importer) {
      if (!source.startsWith('.') || !importer) return null;
      const name = nameOf(resolve(dirname(importer), source));
      return names.has(name) ? join(OUT_DIR, `${name}.js`) : null;
    },
  };
}

/** Files that the runner leaves to Node. */
export const BUILT = /[\\/]tests[\\/]built[\\/]/;

const nameOf = (path: string): string =>
  relative(SOURCES, path).split(sep).join('/').replace(/\.ts$/, '');

function coreNames(): string[] {
  return readdirSync(SOURCES, { recursive: true })
    .map((file) => String(file).split(sep).join('/'))
    .filter((file) => file.endsWith('.ts') && CORE.test(file) && !STARTS.test(file))
    .map((file) => file.replace(/\.ts$/, ''));
}

/** Set up once before the tests. */
export default async function buildCore(): Promise<void> {
  await build({
    configFile: false,
    logLevel: 'error',
    publicDir: false,
    build: {
      ssr: true,
      outDir: OUT_DIR,
      emptyOutDir: true,
      minify: false,
      target: 'node20',
      rolldownOptions: {
        input: Object.fromEntries(coreNames().map((name) => [name, join(SOURCES, `${name}.ts`)])),
        preserveEntrySignatures: 'allow-extension',
        output: {
          entryFileNames: '[name].js',
          chunkFileNames: '[name].js',
          codeSplitting: { groups: [{ name: 'core', test: /[\\/]src[\\/]/ }] },
        },
      },
    },
  });
}
