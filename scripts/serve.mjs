// Serves what is in out/renderer as it is, without setting up or building: node scripts/serve.mjs [--port N]
import './lib/require-node.mjs';
import { existsSync } from 'node:fs';
import { inRoot } from './lib/root.mjs';
import { parseStartArgs } from './lib/start-options.mjs';
import { serveFolder } from './lib/static-server.mjs';

try {
  const { port } = parseStartArgs(process.argv.slice(2));
  const folder = inRoot('out/renderer');
  if (!existsSync(folder))
    throw new Error('Nothing is built yet (out/renderer is missing). "npm start" builds and serves.');
  const server = await serveFolder(folder, port);
  process.stdout.write(`${server.address}\n`);
  const end = () => void server.close().then(() => process.exit(0));
  process.on('SIGINT', end);
  process.on('SIGTERM', end);
} catch (error) {
  process.stderr.write(`${error.message}\n`);
  process.exitCode = 2;
}
