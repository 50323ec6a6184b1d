import { resolve } from 'node:path';
import react from '@vitejs/plugin-react';
import { defineConfig } from 'electron-vite';
import type { UserConfig } from 'vite';

const here = import.meta.dirname;

/** The page: the same build serves Electron and a plain browser. */
export const renderer: UserConfig = {
  root: resolve(here, 'renderer'),
  base: './',
  publicDir: resolve(here, 'assets'),
  plugins: [react()],
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
