/**
 * Development server, production build and tests.
 *
 * The page's content security policy stands in index.html. The built page may not connect anywhere,
 * not even to its own server; only the development server needs its own socket for reloading.
 */
import { availableParallelism } from 'node:os';
import type { Plugin } from 'vite';
import { defineConfig } from 'vitest/config';

/** Closes `connect-src` in the built page: nothing that Lieflat ships opens a connection. */
function closeConnections(): Plugin {
  return {
    name: 'close-connections',
    apply: 'build',
    transformIndexHtml: (html) => html.replace("connect-src 'self'", "connect-src 'none'"),
  };
}

/**
 * Cross-origin isolation lets the page share one flag with the worker, so that a running relaxation
 * can be told to stop without being torn down. Where a host does not send these headers the page
 * stops the worker and starts a new one instead.
 */
const isolation = {
  'Cross-Origin-Opener-Policy': 'same-origin',
  'Cross-Origin-Embedder-Policy': 'require-corp',
};

export default defineConfig({
  base: './',
  plugins: [closeConnections()],
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
    testTimeout: 120_000,
    hookTimeout: 120_000,
    expect: { poll: { timeout: 20_000 } },
    reporters: ['default', './tests/file-budget.ts'],
    projects: [
      {
        extends: true,
        test: {
          name: 'core',
          include: ['tests/**/*.test.ts'],
          exclude: ['tests/browser/**'],
          // Nothing there keeps state in a module, and a fresh one per file costs more than most files.
          isolate: false,
          sequence: { groupOrder: 0 },
        },
      },
      {
        extends: true,
        test: {
          name: 'browser',
          include: ['tests/browser/**/*.test.ts'],
          globalSetup: ['tests/browser/shared-browser.ts'],
          // After the others, so that a page's patience is not spent on waiting for a processor.
          sequence: { groupOrder: 1 },
        },
      },
    ],
  },
});
