import { resolve } from 'node:path';
import { defineConfig } from 'vitest/config';

// An unmocked `import 'electron'` would start a download: every test gets the stand-in unless it mocks its own.
const alias = { electron: resolve(import.meta.dirname, 'tests/electron/electron-stand-in.ts') };

export default defineConfig({
  test: {
    // all cores: the default leaves one for nobody
    maxWorkers: '100%',
    projects: [
      {
        resolve: { alias },
        test: {
          name: 'unit-core',
          include: ['tests/core/**/*.test.{ts,tsx}'],
          setupFiles: ['tests/support/seed.ts'],
          testTimeout: 30_000,
          // core is pure: loaded once a worker, not once a file
          isolate: false,
        },
      },
      {
        resolve: { alias },
        test: {
          name: 'unit',
          include: ['tests/{renderer,electron}/**/*.test.{ts,tsx}'],
          setupFiles: ['tests/support/seed.ts'],
          testTimeout: 30_000,
        },
      },
      {
        resolve: { alias },
        test: {
          name: 'published',
          include: ['tests/published/**/*.test.ts'],
          setupFiles: ['tests/support/seed.ts'],
          testTimeout: 30_000,
          isolate: false,
        },
      },
      { resolve: { alias }, test: { name: 'bench', include: ['tests/bench/**/*.bench.ts'], testTimeout: 600_000 } },
    ],
  },
});
