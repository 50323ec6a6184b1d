// npm test: everything that must be green. Goes on after a failing stage; the last line adds all of it up.
//   npm test -- unit lint     only these stages
//   npm run test:deep         unit, published and browser tests with the long random runs (tests/support/tier.ts)
import './lib/require-node.mjs';
import { closeSync, mkdirSync, openSync, readFileSync, rmSync } from 'node:fs';
import { createServer } from 'node:net';
import { build } from './lib/build.mjs';
import { electronHere } from './lib/electron-binary.mjs';
import { npmCommand } from './lib/npm.mjs';
import { inRoot, root } from './lib/root.mjs';
import { run } from './lib/run.mjs';
import { hasDisplay } from './lib/start-options.mjs';
import { countPlaywright, countVitest, judgeSuite, lastLine, stageLine } from './lib/test-report.mjs';
import { obtainTools, onPath } from './lib/test-tools.mjs';
import { setUp } from './setup.mjs';

const say = (line) => process.stdout.write(`${line}\n`);
const report = (name) => inRoot('test-results', `${name}.json`);

/** Runs one of package.json's scripts. */
function script(name, args = [], { env = {}, stdio = 'inherit' } = {}) {
  const { command, first, shell } = npmCommand();
  const all = [...first, 'run', '--silent', name, ...(args.length > 0 ? ['--', ...args] : [])];
  return run(command, all, { cwd: root, shell, stdio, env: { ...process.env, ...env } });
}

const oneCheck = (good) => ({ passed: good ? 1 : 0, failed: good ? 0 : 1, skipped: 0, remarks: [] });

/** A script that speaks only of faults; what it said is handed back, so that another can run beside it. */
const checkStage = (name) => async () => {
  const file = inRoot('test-results', `${name}.log`);
  const log = openSync(file, 'w');
  const { code } = await script(name, [], { stdio: ['ignore', log, log] });
  closeSync(log);
  return { ...oneCheck(code === 0), said: readFileSync(file, 'utf8') };
};

const suiteStage = (name, count, start) => async () => {
  rmSync(report(name), { force: true }); // a report of an earlier run must not be taken for this one's
  const { code } = await start(report(name));
  let json = null;
  try {
    json = JSON.parse(readFileSync(report(name), 'utf8'));
  } catch {
    // judged below
  }
  return judgeSuite({ code, count: json && count(json) });
};

const vitestStage = (name) =>
  suiteStage(name, countVitest, (file) =>
    script(name, ['--reporter=default', '--reporter=json', `--outputFile.json=${file}`]),
  );

async function buildStage() {
  try {
    for (const which of ['program', 'headless']) await build(which, { log: say, force: true });
    return oneCheck(true);
  } catch (error) {
    say(error.message);
    return oneCheck(false);
  }
}

function browserStage(tools) {
  if (tools.chromium === null)
    return async () => ({
      passed: 0,
      failed: 1,
      skipped: 0,
      remarks: [`there is no Chromium to test in. ${tools.advice}`],
    });
  return suiteStage('e2e', countPlaywright, async () =>
    script('e2e', [], {
      env: {
        LIDWRIGHT_CHROMIUM: tools.chromium,
        LIDWRIGHT_TEST_PORT: process.env['LIDWRIGHT_TEST_PORT'] ?? String(await freePort()),
      },
    }),
  );
}

/** A port that nothing listens on: another run, or a forgotten server, must not stop the tests. */
const freePort = () =>
  new Promise((resolve, reject) => {
    const probe = createServer();
    probe.on('error', reject);
    probe.listen(0, '127.0.0.1', () => {
      const { port } = probe.address();
      probe.close(() => resolve(port));
    });
  });

/** The window's own tests; a string says why they can't run here. */
function windowStage() {
  if (electronHere() === null) return "Electron's program is not on this machine, so its window was not tested";
  const display = hasDisplay({ platform: process.platform, env: process.env });
  const xvfb = display ? null : onPath(['xvfb-run']);
  if (!display && xvfb === null) return 'there is no display (and no xvfb-run) to open a window on';
  const playwright = [process.execPath, inRoot('node_modules/@playwright/test/cli.js')];
  const [command, ...args] = [
    ...(xvfb ? [xvfb, '-a'] : []),
    ...playwright,
    'test',
    '--config',
    inRoot('playwright.electron.config.ts'),
  ];
  return suiteStage('e2e-electron', countPlaywright, () => run(command, args, { cwd: root }));
}

async function main() {
  const started = process.hrtime.bigint();
  const deep = process.argv.includes('--deep');
  if (deep) process.env['LIDWRIGHT_DEEP'] = '1';
  const named = process.argv.slice(2).filter((word) => word !== '--deep');
  const wanted = deep && named.length === 0 ? ['unit', 'published', 'build', 'e2e'] : named;
  await setUp(say);
  mkdirSync(inRoot('test-results'), { recursive: true });
  const tools = await obtainTools(say);
  if (tools.advice !== null) say(tools.advice);

  const stages = {
    types: checkStage('types'),
    lint: checkStage('lint'),
    unit: vitestStage('unit'),
    published: vitestStage('published'),
    build: buildStage,
    e2e: browserStage(tools),
    window: windowStage(),
  };
  const unknown = wanted.filter((name) => !(name in stages));
  if (unknown.length > 0)
    throw new Error(`No such stage: ${unknown.join(', ')}. There are ${Object.keys(stages).join(', ')}.`);

  const lines = [];
  const counts = [];
  const asked = Object.keys(stages).filter((name) => wanted.length === 0 || wanted.includes(name));
  // they need one core each and say nothing on the way: they run beside the others and are heard last
  const quiet = ['types', 'lint'].filter((name) => asked.includes(name));
  const beside = new Map(quiet.map((name) => [name, timed(stages[name])]));
  for (const name of [...asked.filter((name) => !beside.has(name)), ...quiet]) {
    const stage = stages[name];
    say(`\n── ${name} ${'─'.repeat(Math.max(0, 60 - name.length))}`);
    if (typeof stage === 'string') {
      say(`Skipped: ${stage}.`);
      lines.push(stageLine({ name, skippedWhy: stage }));
      continue;
    }
    const { count, seconds } = await (beside.get(name) ?? timed(stage));
    if (count.said) say(count.said);
    counts.push(count);
    lines.push(stageLine({ name, count, seconds }));
  }
  say(`\nSummary (${secondsSince(started).toFixed(0)} s)`);
  lines.forEach(say);
  const { line, code } = lastLine(counts);
  process.exitCode = code;
  say(line);
}

async function timed(stage) {
  const from = process.hrtime.bigint();
  return { count: await stage(), seconds: secondsSince(from) };
}

const secondsSince = (from) => Number(process.hrtime.bigint() - from) / 1e9;

main().catch((error) => {
  process.stderr.write(`${error.message}\n`);
  process.stdout.write('0 passed, 1 failed\n');
  process.exitCode = 2;
});
