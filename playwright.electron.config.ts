// The window's own tests: run by scripts/test.mjs where Electron's program is on the machine.
import { defineConfig } from '@playwright/test';

export default defineConfig({
  testDir: 'tests/e2e-electron',
  timeout: 1_800_000,
  expect: { timeout: 120_000 },
  workers: 1,
  retries: 0,
  reporter: [['list'], ['json', { outputFile: 'test-results/e2e-electron.json' }]],
  outputDir: 'test-results/e2e-electron',
});
