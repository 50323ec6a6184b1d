// npm run build:web [-- --out FOLDER]: the web edition, a folder of files for any host and any path. It is the page as it is built, and with it
// what an app in a browser needs: a manifest, icons, a content policy of its own, and a worker that keeps all of it offline.
import './lib/require-node.mjs';
import { createHash } from 'node:crypto';
import { cpSync, existsSync, readFileSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { parseArgs } from 'node:util';
import { build } from './lib/build.mjs';
import { callerDir, inRoot } from './lib/root.mjs';
import { securityHeaders } from './lib/static-server.mjs';
import { setUp } from './setup.mjs';

const MANIFEST = {
  name: 'Lidwright',
  short_name: 'Lidwright',
  description:
    'Gas springs for heavy hinged lids: measure, weigh, place, choose, check the joints, make the bracket, print.',
  start_url: './',
  scope: './',
  display: 'standalone',
  background_color: '#f8faf7',
  theme_color: '#f8faf7',
  icons: [
    { src: './icons/lidwright-192.png', sizes: '192x192', type: 'image/png' },
    { src: './icons/lidwright-512.png', sizes: '512x512', type: 'image/png' },
    { src: './icons/lidwright.svg', sizes: 'any', type: 'image/svg+xml' },
  ],
};

/** A policy in the page itself: a host elsewhere sends no headers of ours. Who may frame it can't be said here. */
const policy = securityHeaders['Content-Security-Policy'].replace(/frame-ancestors [^;]*; ?/, '');

/** Names of all files of a folder, with slashes, sorted. */
const filesOf = (folder) =>
  readdirSync(folder, { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile())
    .map((entry) => path.relative(folder, path.join(entry.parentPath, entry.name)).replaceAll(path.sep, '/'))
    .sort();

/** Writes the web edition of a built page into `out`, and says what it holds. */
function makeWeb(page, out) {
  rmSync(out, { recursive: true, force: true });
  cpSync(page, out, { recursive: true });
  rmSync(path.join(out, 'screenshots'), { recursive: true, force: true }); // the README's
  writeFileSync(path.join(out, 'manifest.webmanifest'), `${JSON.stringify(MANIFEST, null, 2)}\n`);
  cpSync(inRoot('scripts/lib/web/register.js'), path.join(out, 'register.js'));
  const html = readFileSync(path.join(out, 'index.html'), 'utf8');
  const head = [
    `<meta http-equiv="Content-Security-Policy" content="${policy}" />`,
    '<link rel="manifest" href="./manifest.webmanifest" />',
    '<script src="./register.js" defer></script>',
  ];
  writeFileSync(path.join(out, 'index.html'), html.replace('<title>', `${head.join('\n    ')}\n    <title>`));
  const files = filesOf(out);
  const hash = createHash('sha256');
  let bytes = 0;
  for (const file of files) {
    const content = readFileSync(path.join(out, file));
    hash.update(file).update(content);
    bytes += content.length;
  }
  const edition = hash.digest('hex').slice(0, 12);
  const worker = readFileSync(inRoot('scripts/lib/web/service-worker.js'), 'utf8')
    .replace('@EDITION@', edition)
    .replace("'@FILES@'", files.map((file) => JSON.stringify(`./${file}`)).join(', '));
  writeFileSync(path.join(out, 'service-worker.js'), worker);
  return { edition, files: files.length + 1, bytes };
}

try {
  const say = (line) => process.stdout.write(`${line}\n`);
  const asked = parseArgs({ options: { out: { type: 'string' } } }).values.out;
  const out = asked === undefined ? inRoot('out/web') : path.resolve(callerDir('build:web'), asked);
  if (existsSync(out) && readdirSync(out).length > 0 && !existsSync(path.join(out, 'service-worker.js')))
    throw new Error(`${out} holds something else than a web edition: name an empty folder, or one that is not there.`);
  await setUp(say);
  await build('program', { log: say });
  const { edition, files, bytes } = makeWeb(inRoot('out/renderer'), out);
  say(
    `The web edition ${edition} is in ${out}: ${files} files, ${(bytes / 1e6).toFixed(1)} MB. Put the folder on any host.`,
  );
} catch (error) {
  process.stderr.write(`${error.message}\n`);
  process.exitCode = 2;
}
