// A small server for the built page: this machine only, files of one folder only, the headers that Electron gives too.
import { createHash } from 'node:crypto';
import { createReadStream, readFileSync } from 'node:fs';
import { realpath, stat } from 'node:fs/promises';
import { createServer } from 'node:http';
import path from 'node:path';
import { inRoot } from './root.mjs';

/** One file of headers for both hosts: the scheme handler in electron/ reads the same one. */
export const securityHeaders = JSON.parse(readFileSync(inRoot('electron/security-headers.json'), 'utf8'));

const MIME = {
  '.html': 'text/html; charset=utf-8',
  '.js': 'text/javascript; charset=utf-8',
  '.mjs': 'text/javascript; charset=utf-8',
  '.css': 'text/css; charset=utf-8',
  '.json': 'application/json; charset=utf-8',
  '.lidjob': 'application/json; charset=utf-8',
  '.map': 'application/json; charset=utf-8',
  '.txt': 'text/plain; charset=utf-8',
  '.md': 'text/plain; charset=utf-8',
  '.csv': 'text/csv; charset=utf-8',
  '.svg': 'image/svg+xml',
  '.webmanifest': 'application/manifest+json',
  '.png': 'image/png',
  '.jpg': 'image/jpeg',
  '.jpeg': 'image/jpeg',
  '.webp': 'image/webp',
  '.ico': 'image/x-icon',
  '.pdf': 'application/pdf',
  '.ttf': 'font/ttf',
  '.woff': 'font/woff',
  '.woff2': 'font/woff2',
  '.wasm': 'application/wasm',
};

export const mimeOf = (file) => MIME[path.extname(file).toLowerCase()] ?? 'application/octet-stream';

/**
 * The file that a request's path names, inside `folder`; null for anything that would leave it.
 * Looks at the text only: `served` checks symlinks too.
 */
export function fileForUrlPath(folder, urlPath) {
  let name;
  try {
    name = decodeURIComponent(urlPath.split(/[?#]/, 1)[0]);
  } catch {
    return null;
  }
  if (!name.startsWith('/') || name.includes('\0') || name.includes('\\')) return null;
  if (name.split('/').includes('..')) return null;
  const file = path.join(folder, name.endsWith('/') ? `${name}index.html` : name);
  return file.startsWith(folder + path.sep) ? file : null;
}

/** Where a server of ours says that it is one, and of which folder. */
const WHO_PATH = '/.lidwright';

/** A page elsewhere that makes its own name point at this machine gets nothing. */
export const hostIsLocal = (host) => /^(127\.0\.0\.1|localhost|\[::1\])(:\d+)?$/i.test(host ?? '');

async function served(folder, urlPath) {
  const file = fileForUrlPath(folder, urlPath);
  if (file === null) return null;
  try {
    const [real, realFolder] = await Promise.all([realpath(file), realpath(folder)]);
    if (!real.startsWith(realFolder + path.sep)) return null;
    const facts = await stat(real);
    return facts.isFile() ? { file: real, size: facts.size } : null;
  } catch {
    return null;
  }
}

/** Files that the build names after what is in them: another build never means the same one. */
const HASHED = /[\\/]assets[\\/][^\\/]+-[\w-]{8}\.(js|css|woff2|ttf)$/;

/** The request handler for a folder. */
export function handlerFor(folder) {
  return async (request, response) => {
    const answer = (status, words) => {
      response.writeHead(status, { ...securityHeaders, 'Content-Type': 'text/plain; charset=utf-8' });
      response.end(request.method === 'HEAD' ? undefined : words);
    };
    if (!hostIsLocal(request.headers.host)) return answer(403, 'This address serves this machine only.\n');
    if (request.method !== 'GET' && request.method !== 'HEAD') return answer(405, 'Only reading is possible here.\n');
    if (request.url === WHO_PATH) return answer(200, whoWords(folder));
    const found = await served(folder, request.url ?? '/');
    if (found === null) return answer(404, 'There is no such file here.\n');
    response.writeHead(200, {
      ...securityHeaders,
      'Content-Type': mimeOf(found.file),
      'Content-Length': found.size,
      ...(HASHED.test(found.file) && { 'Cache-Control': 'private, max-age=31536000, immutable' }),
    });
    if (request.method === 'HEAD') return response.end();
    const stream = createReadStream(found.file);
    stream.on('error', () => response.destroy());
    response.on('close', () => stream.destroy());
    return stream.pipe(response);
  };
}

const whoWords = (folder) => `lidwright ${createHash('sha256').update(folder).digest('hex')}\n`;

/**
 * Who listens on a port of this machine.
 * @returns {Promise<'this' | 'other' | 'stranger'>} Lidwright from this folder, from another one, or something else
 */
export async function whoServes(folder, port) {
  try {
    const answer = await fetch(`http://127.0.0.1:${port}${WHO_PATH}`, {
      signal: AbortSignal.timeout(3_000),
      redirect: 'error',
    });
    const words = (await answer.text()).slice(0, 200);
    if (words === whoWords(path.resolve(folder))) return 'this';
    return /^lidwright [0-9a-f]{64}\n$/.test(words) ? 'other' : 'stranger';
  } catch {
    return 'stranger';
  }
}

/**
 * Serves `folder` on 127.0.0.1.
 * @param {string} folder absolute
 * @param {number} port 0: any free one
 * @returns {Promise<{ address: string, port: number, close: () => Promise<void> }>}
 * @throws {Error} in plain words when the port can't be had; its `taken` says whether something else listens there
 */
export function serveFolder(folder, port = 0) {
  const handle = handlerFor(path.resolve(folder));
  const server = createServer((request, response) => void handle(request, response).catch(() => response.destroy()));
  return new Promise((resolve, reject) => {
    server.once('error', (error) =>
      reject(
        Object.assign(new Error(portWords(port, error.code), { cause: error }), { taken: error.code === 'EADDRINUSE' }),
      ),
    );
    server.listen(port, '127.0.0.1', () => {
      const taken = server.address().port;
      resolve({
        port: taken,
        address: `http://127.0.0.1:${taken}/`,
        close: () =>
          new Promise((done) => {
            server.close(() => done());
            server.closeAllConnections();
          }),
      });
    });
  });
}

export function portWords(port, code) {
  const other = 'Give another one with --port N';
  if (code === 'EADDRINUSE')
    return `Port ${port} is taken by another program. ${other}: drafts, recent jobs and imported lists stay with the port they were made on, so use the same one each time.`;
  if (code === 'EACCES') return `Port ${port} may not be used by this account. ${other} above 1023.`;
  return `Port ${port} could not be opened (${code}). ${other}.`;
}
