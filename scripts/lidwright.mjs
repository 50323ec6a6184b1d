#!/usr/bin/env node
// The headless command: sets up and builds what is missing, with all news of that on stderr, then runs it.
import './lib/require-node.mjs';
import { pathToFileURL } from 'node:url';
import { build } from './lib/build.mjs';
import { callerDir, inRoot } from './lib/root.mjs';
import { setUp } from './setup.mjs';

const log = (line) => process.stderr.write(`${line}\n`);

try {
  await setUp(log, { toStderr: true });
  await build('headless', { log, toStderr: true });
  const { main } = await import(pathToFileURL(inRoot('out/headless/lidwright.js')).href);
  await main(process.argv.slice(2), { cwd: callerDir('lidwright') });
} catch (error) {
  log(error.message);
  process.exitCode = 2;
}
