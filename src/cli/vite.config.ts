/** `lieflat` in one file that needs nothing beside it: `dist/lieflat.js`, part of `npm run build`. */
import { defineConfig } from 'vite';

export default defineConfig({
  publicDir: false,
  ssr: { noExternal: true, target: 'node' },
  build: {
    ssr: 'src/cli/main.ts',
    outDir: 'dist',
    emptyOutDir: false,
    target: 'node20',
    minify: true,
    rolldownOptions: {
      output: {
        entryFileNames: 'lieflat.js',
        codeSplitting: false,
        banner: '#!/usr/bin/env node',
      },
    },
  },
});
