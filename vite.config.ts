/**
 * Development server, production build and tests.
 *
 * The page's content security policy stands in index.html. The built page may not connect anywhere,
 * not even to its own server; only the development server needs its own socket for reloading.
 */
import { createHash } from 'node:crypto';
import { readdirSync, readFileSync } from 'node:fs';
import { availableParallelism } from 'node:os';
import { join } from 'node:path';
import type { Plugin } from 'vite';
import { VitePWA } from 'vite-plugin-pwa';
import { defineConfig } from 'vitest/config';
import { BUILT, builtCore } from './tests/built-core.ts';

/** Closes `connect-src` in the built page: nothing that Lieflat ships opens a connection. */
const closed = (html: string) => html.replace("connect-src 'self'", "connect-src 'none'");

function closeConnections(): Plugin {
  return { name: 'close-connections', apply: 'build', transformIndexHtml: closed };
}

/** The page's policy as a header too, which alone can forbid framing. What keeps the page must fetch it. */
function policyHeader(): Plugin {
  const html = closed(readFileSync(new URL('index.html', import.meta.url), 'utf8'));
  const policy = /content="(default-src [^"]+)"/.exec(html)?.[1];
  if (!policy) throw new Error('index.html states no policy');
  return {
    name: 'policy-header',
    configurePreviewServer(server) {
      server.middlewares.use((request, response, next) => {
        const keeper = /^\/sw\.js(\?|$)/.test(request.url ?? '');
        const own = keeper ? policy.replace("connect-src 'none'", "connect-src 'self'") : policy;
        response.setHeader('Content-Security-Policy', `${own}; frame-ancestors 'none'`);
        response.setHeader('X-Content-Type-Options', 'nosniff');
        next();
      });
    },
  };
}

/** The icon of the installed page, beside the built files. */
function icon(): Plugin {
  const source = readFileSync(new URL('src/app/icon.svg', import.meta.url));
  return {
    name: 'icon',
    apply: 'build',
    generateBundle() {
      this.emitFile({ type: 'asset', fileName: 'icon.svg', source });
    },
  };
}

/** Keeps every file of the page in the browser (Workbox), so that all of it works without a network. */
const offline = VitePWA({
  registerType: 'prompt',
  injectRegister: false,
  manifest: {
    name: 'Lieflat',
    short_name: 'Lieflat',
    description: 'Simulates a knitted square in 3D before anyone knits it',
    display: 'standalone',
    background_color: '#f3efe6',
    theme_color: '#1f5b66',
    icons: [{ src: 'icon.svg', sizes: 'any', type: 'image/svg+xml', purpose: 'any' }],
  },
  workbox: {
    globPatterns: ['**/*.{html,js,css,svg}'],
    maximumFileSizeToCacheInBytes: 8_000_000,
    navigateFallback: 'index.html',
    cleanupOutdatedCaches: true,
    // The first visit is kept at once; a newer page waits until the user takes it.
    clientsClaim: true,
    inlineWorkboxRuntime: true,
  },
});

/**
 * Cross-origin isolation lets the page share one flag with the worker, so that a running relaxation
 * can be told to stop without being torn down. Where a host does not send these headers the page
 * stops the worker and starts a new one instead.
 */
const isolation = {
  'Cross-Origin-Opener-Policy': 'same-origin',
  'Cross-Origin-Embedder-Policy': 'require-corp',
};

/** Changes with everything that a result depends on: results kept by another Lieflat are worked out anew. */
function modelMark(): string {
  const page = /^(?:app|view|cli)\b/;
  // Of this Lieflat, wherever it is built from.
  const sources = join(import.meta.dirname, 'src');
  const files = readdirSync(sources, { recursive: true })
    .map(String)
    .filter((file) => file.endsWith('.ts') && !page.test(file));
  const hash = createHash('sha256');
  for (const file of files.sort()) hash.update(readFileSync(join(sources, file)));
  return hash.digest('hex').slice(0, 16);
}

export default defineConfig(({ mode }) => ({
  base: './',
  define: { 'import.meta.env.MODEL_MARK': JSON.stringify(modelMark()) },
  plugins: [closeConnections(), policyHeader(), icon(), offline],
  server: { headers: isolation },
  preview: { headers: isolation },
  worker: { format: 'es' },
  build: {
    target: 'es2022',
    // The polyfill fetches; browsers that run the page preload modules themselves.
    modulePreload: { polyfill: false },
    // The scene (three) is one chunk, loaded after the first paint.
    chunkSizeWarningLimit: 1200,
    rolldownOptions: {
      output: {
        codeSplitting: {
          groups: [
            { name: 'three', test: /node_modules[\\/]three[\\/]/ },
            { name: 'editor', test: /node_modules[\\/]@(?:codemirror|lezer)[\\/]/ },
            { name: 'react', test: /node_modules[\\/](?:react|react-dom|scheduler)[\\/]/ },
          ],
        },
      },
      onLog(level, log, write) {
        // React's "use client" marks mean nothing in a page without a server.
        if (log.code !== 'MODULE_LEVEL_DIRECTIVE') write(level, log);
      },
    },
  },
  test: {
    environment: 'node',
    // One fewer than the cores would be one on a small machine.
    maxWorkers: Math.max(2, availableParallelism() - 1),
    setupFiles: ['./tests/processor-time.ts'],
    // Long enough for a machine that has other work too.
    testTimeout: 180_000,
    hookTimeout: 120_000,
    expect: { poll: { timeout: 60_000, interval: 100 } },
    reporters: ['default', './tests/file-budget.ts'],
    projects: [
      {
        extends: true,
        plugins: mode === 'built' ? [builtCore()] : [],
        test: {
          name: 'core',
          include: ['tests/**/*.test.ts'],
          exclude: ['tests/browser/**'],
          // Nothing there keeps state in a module, and a fresh one per file costs more than most files.
          isolate: false,
          globalSetup: mode === 'built' ? ['tests/built-core.ts'] : [],
          // Of what is alike a part is enough there (`tests/runs.ts`).
          env: mode === 'built' ? { LIEFLAT_ALIKE: 'eighth' } : {},
          server: { deps: { external: [BUILT] } },
          sequence: { groupOrder: 0 },
        },
      },
      {
        extends: true,
        test: {
          name: 'browser',
          include: ['tests/browser/**/*.test.ts'],
          globalSetup: ['tests/browser/shared-browser.ts'],
          setupFiles: ['./tests/browser/browser-time.ts'],
          // Nor there; the browser's library alone takes half a second to read.
          isolate: false,
          // After the others, so that a page's patience is not spent on waiting for a processor.
          sequence: { groupOrder: 1 },
          // A test in a browser often waits for what it has asked for: one more keeps the processors at work.
          maxWorkers: Math.max(3, availableParallelism() - 1),
        },
      },
    ],
  },
}));
