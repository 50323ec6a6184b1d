import { resolve } from 'node:path';
import react from '@vitejs/plugin-react';
import { defineConfig } from 'electron-vite';
import type { UserConfig } from 'vite';
import { version } from './package.json';
import { commitHere, noticesText } from './scripts/lib/notices';
import { guidePages } from './scripts/lib/guide';

const here = import.meta.dirname;

/** Which edition this is: the version, and the commit it was built of where that is known. */
const define = { EDITION: JSON.stringify([version, commitHere()].filter(Boolean).join(', ')) };
const notices = {
  name: 'notices',
  generateBundle(this: { emitFile: (file: object) => void }) {
    this.emitFile({ type: 'asset', fileName: 'notices.txt', source: noticesText() });
  },
};

/** The page: the same build serves Electron and a plain browser. */
export const renderer: UserConfig = {
  root: resolve(here, 'renderer'),
  base: './',
  publicDir: resolve(here, 'assets'),
  define,
  plugins: [guidePages(), react(), notices],
  worker: { format: 'es' },
  build: {
    outDir: resolve(here, 'out/renderer'),
    emptyOutDir: true,
    minify: true,
    chunkSizeWarningLimit: 1500,
    rolldownOptions: { input: resolve(here, 'renderer/index.html') },
  },
};

export default defineConfig({
  main: {
    build: {
      outDir: resolve(here, 'out/main'),
      minify: true,
      externalizeDeps: false, // what is packaged carries no node_modules
      rolldownOptions: { input: { main: resolve(here, 'electron/main.ts') } },
    },
  },
  preload: {
    build: {
      outDir: resolve(here, 'out/preload'),
      minify: true,
      externalizeDeps: false,
      rolldownOptions: {
        input: { preload: resolve(here, 'electron/preload.ts') },
        output: { format: 'cjs', entryFileNames: '[name].cjs' },
      },
    },
  },
  renderer,
});
