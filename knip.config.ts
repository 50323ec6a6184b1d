import type { KnipConfig } from 'knip';

/**
 * Nothing that nobody uses: files, packages, exports. Run twice, as tests must not keep alive what the product has left:
 * over everything (a test may use an export), and with --production over the product alone, where an export of one file
 * may be for the tests if that file uses it itself. `@internal` marks what is there for the tests only, with a reason.
 */
export default ({ production }: { production?: boolean }): KnipConfig => ({
  entry: [
    'renderer/workers/*.worker.ts!',
    'electron/{main,preload,headless}.ts!',
    'scripts/*.{mjs,ts}!',
    'scripts/lint/house.mjs!',
    'scripts/lib/*.vite.config.mjs!',
    'scripts/photos/{shots,page/index}.mjs!',
    'scripts/photos/render.mjs!',
    'tests/{core,renderer,electron,published}/**/*.test.{ts,tsx}',
    'tests/{e2e,e2e-electron}/**/*.spec.ts',
    'tests/bench/**/*.{bench.ts,mjs}',
    'tests/electron/{electron-stand-in,endless-writer}.ts',
    'playwright.electron.config.ts',
    'electron-builder.config.ts',
    'scripts/lib/{guide,notices}.ts!',
  ],
  project: ['{core,renderer,electron,scripts}/**/*.{ts,tsx,mjs}!', 'tests/**/*.{ts,tsx,mjs}'],
  ignoreBinaries: ['cc', 'pdftocairo', 'pdfinfo'],
  // the tests load the scripts by name: plain JavaScript that runs before anything is installed; a room's door may be
  // wider than the product needs today
  ignoreIssues: { 'scripts/lib/*.mjs': ['exports'], ...(production && { 'core/*/index.ts': ['exports', 'types'] }) },
  // taken by the style sheets
  ignoreDependencies: ['@fontsource-variable/encode-sans'],
  ...(production && {
    exclude: ['types'],
    ignoreExportsUsedInFile: true,
  }),
});
