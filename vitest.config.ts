import { resolve } from 'node:path';
import { defineConfig } from 'vitest/config';

/** What stands in for a part of the page or of the machine, or keeps something in a module: each file in a world of its own. */
const ALONE = [
  'tests/electron/{preload,security-checklist}.test.ts',
  'tests/renderer/{host,photo,state,workers}/**/*.test.{ts,tsx}',
];

export default defineConfig({
  // An unmocked `import 'electron'` would start a download: every test gets the stand-in unless it mocks its own.
  resolve: { alias: { electron: resolve(import.meta.dirname, 'tests/electron/electron-stand-in.ts') } },
  test: {
    // all cores: the default leaves one for nobody
    maxWorkers: '100%',
    projects: [
      {
        extends: true,
        test: {
          name: 'unit-core',
          include: ['tests/{core,renderer,electron}/**/*.test.{ts,tsx}'],
          exclude: ALONE,
          // core, and what draws from it, is pure: loaded once a worker, not once a file
          isolate: false,
        },
      },
      { extends: true, test: { name: 'unit', include: ALONE } },
      { extends: true, test: { name: 'published', include: ['tests/published/**/*.test.ts'], isolate: false } },
      { extends: true, test: { name: 'bench', include: ['tests/bench/**/*.bench.ts'] } },
    ],
    setupFiles: ['tests/support/seed.ts'],
    // The only limit there is: it ends a test that hangs. A slow machine must not fail one, so no test sets its own.
    testTimeout: 1_800_000,
    hookTimeout: 1_800_000,
  },
});
