// npm start: sets up, builds what is out of date, and opens Lidwright in a window or in the browser.
import './lib/require-node.mjs';
import { spawn } from 'node:child_process';
import { existsSync } from 'node:fs';
import path from 'node:path';
import { callerDir, inRoot, root } from './lib/root.mjs';
import { run } from './lib/run.mjs';
import {
  browserCommand,
  hasDisplay,
  parseStartArgs,
  START_HELP,
  whyNoWindow,
  windowFailed,
} from './lib/start-options.mjs';
import { setUp } from './setup.mjs';

const say = (line) => process.stdout.write(`${line}\n`);
const here = { platform: process.platform, env: process.env, uid: process.getuid?.() ?? -1 };

async function main() {
  const options = parseStartArgs(process.argv.slice(2));
  if (options.help) return process.stdout.write(START_HELP);
  const job = options.job === null ? null : path.resolve(callerDir('start'), options.job);
  if (job !== null && !existsSync(job))
    throw new Error(`There is no file ${job}. Check the name, or start without it.`);

  await setUp(say);
  const { build } = await import('./lib/build.mjs');
  await build('program', { log: say });

  let why = whyNoWindow({ options, ...here });
  if (why === null) {
    const { obtainElectron } = await import('./lib/electron-binary.mjs');
    const had = await obtainElectron({ log: say, retry: options.fetch });
    if (had.binary === null) why = `Electron's program is not here: ${had.why}`;
    else {
      const outcome = await runWindow(had.binary, job);
      if (outcome === 'ended') return undefined;
      why = outcome;
    }
  }
  return serve(options, job, why);
}

/** Runs the window until it is closed. Returns 'ended', or why it did not come up. */
async function runWindow(binary, job) {
  const env = { ...process.env };
  delete env.ELECTRON_RUN_AS_NODE;
  const started = Date.now();
  const ignore = () => {}; // Ctrl-C reaches the window too: it ends, then we do
  process.on('SIGINT', ignore);
  const result = await run(binary, [root, ...(job === null ? [] : [job])], { cwd: root, env });
  process.off('SIGINT', ignore);
  if (!windowFailed({ ...result, ranMs: Date.now() - started })) {
    process.exitCode = result.code ?? 0;
    return 'ended';
  }
  return `Electron could not open its window (${result.error?.message ?? result.code ?? result.signal})`;
}

async function serve(options, job, why) {
  const { serveFolder, whoServes } = await import('./lib/static-server.mjs');
  const folder = inRoot('out/renderer');
  const opens = options.open && hasDisplay(here);
  let server;
  try {
    server = await serveFolder(folder, options.port);
  } catch (error) {
    const who = error.taken ? await whoServes(folder, options.port) : 'stranger';
    if (who === 'stranger') throw error;
    const address = `http://127.0.0.1:${options.port}/`;
    say(
      `Lidwright runs already${who === 'other' ? ', from another folder' : ''}: ${address}${opens ? ' (opening it now)' : ''}`,
    );
    if (who === 'other') say('  End that one first to use this folder’s, or give another port with --port N.');
    if (opens) openBrowser(address);
    return;
  }
  say(`Lidwright runs in the browser: ${why}.`);
  say(`  Address: ${server.address}${opens ? ' (opening it now)' : ''}`);
  if (job !== null) say(`  A browser can't be handed a file: open ${job} from the page ("Open").`);
  say('  Ctrl-C ends it.');
  const end = () => void server.close().then(() => process.exit(0));
  process.on('SIGINT', end);
  process.on('SIGTERM', end);
  if (opens) openBrowser(server.address);
}

function openBrowser(address) {
  const { command, args } = browserCommand(process.platform, address);
  const manual = () => say(`  The browser could not be opened from here: open ${address} yourself.`);
  const child = spawn(command, args, { stdio: 'ignore', detached: true });
  child.on('error', manual);
  child.on('exit', (code) => {
    if (code !== 0 && code !== null) manual();
  });
  child.unref();
}

main().catch((error) => {
  process.stderr.write(`${error.message}\n`);
  process.exitCode = 2;
});
