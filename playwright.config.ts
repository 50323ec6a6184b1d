import { defineConfig } from '@playwright/test';
import { DEEP } from './tests/support/tier';

const port = Number(process.env['LIDWRIGHT_TEST_PORT'] ?? 5188);

export default defineConfig({
  testDir: 'tests/e2e',
  // The only limits there are: they end a test that hangs. A slow machine must not fail one, so no test sets its own.
  timeout: 600_000,
  expect: { timeout: 120_000 },
  // tagged @deep: one more way to what another test goes to at the desk
  ...(DEEP ? {} : { grepInvert: /@deep/ }),
  fullyParallel: true,
  workers: 2, // four take a third longer on two cores: drawing without a graphics card is what takes the time
  retries: 0,
  reporter: [['list'], ['json', { outputFile: 'test-results/e2e.json' }]],
  outputDir: 'test-results/e2e',
  use: {
    baseURL: `http://127.0.0.1:${port}/`,
    viewport: { width: 1440, height: 900 },
    launchOptions: {
      executablePath: process.env['LIDWRIGHT_CHROMIUM'] ?? '/usr/bin/chromium',
      args: [
        '--no-sandbox',
        '--enable-unsafe-swiftshader',
        '--disable-background-networking',
        '--disable-component-update',
        '--disable-sync',
        '--no-first-run',
      ],
    },
    screenshot: 'only-on-failure',
    trace: 'off',
  },
  webServer: {
    command: `node scripts/start.mjs --serve --no-open --port ${port}`,
    url: `http://127.0.0.1:${port}/`,
    reuseExistingServer: false,
    timeout: 600_000,
  },
});
