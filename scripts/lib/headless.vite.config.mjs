// Bundles the headless command into one file that starts fast.
import { defineConfig } from 'vite';
import { inRoot, root } from './root.mjs';

export default defineConfig({
  root,
  publicDir: false,
  build: {
    ssr: inRoot('electron/headless.ts'),
    outDir: inRoot('out/headless'),
    emptyOutDir: true,
    target: 'node20',
    minify: false,
    rolldownOptions: { output: { entryFileNames: 'lidwright.js', chunkFileNames: '[name]-[hash].js' } },
  },
});
