// The page's own scheme, app://lidwright/…: files of the built page only, with the same headers as the browser host's server.
import { readFile } from 'node:fs/promises';
import path from 'node:path';
import type { CustomScheme, Protocol } from 'electron';
import { realInside } from './files';
import securityHeaders from './security-headers.json';

const SCHEME = 'app';
const HOST = 'lidwright';
export const START_URL = `${SCHEME}://${HOST}/index.html`;

export { securityHeaders };

/** To be registered before the program is ready. */
export const PRIVILEGES: CustomScheme = {
  scheme: SCHEME,
  privileges: { standard: true, secure: true, supportFetchAPI: true, corsEnabled: true, codeCache: true },
};

const MIME: Record<string, string> = {
  '.html': 'text/html; charset=utf-8',
  '.js': 'text/javascript; charset=utf-8',
  '.mjs': 'text/javascript; charset=utf-8',
  '.css': 'text/css; charset=utf-8',
  '.json': 'application/json; charset=utf-8',
  '.lidjob': 'application/json; charset=utf-8',
  '.svg': 'image/svg+xml',
  '.png': 'image/png',
  '.jpg': 'image/jpeg',
  '.jpeg': 'image/jpeg',
  '.webp': 'image/webp',
  '.ico': 'image/x-icon',
  '.ttf': 'font/ttf',
  '.woff2': 'font/woff2',
  '.wasm': 'application/wasm',
};

/** True for addresses of our own page. */
export function isOurs(url: string): boolean {
  try {
    const { protocol, host } = new URL(url);
    return protocol === `${SCHEME}:` && host === HOST;
  } catch {
    return false;
  }
}

/** The name inside the page's folder that an address asks for; null for any other host, and for names that climb out. */
export function nameForUrl(url: string): string | null {
  if (!isOurs(url)) return null;
  let name: string;
  try {
    name = decodeURIComponent(new URL(url).pathname).replace(/^\//, '');
  } catch {
    return null;
  }
  if (/[\0\\]/.test(name) || name.startsWith('/') || name.split('/').includes('..')) return null;
  return name === '' ? 'index.html' : name;
}

/** Answers one request out of `folder`. */
export async function answer(url: string, folder: string): Promise<Response> {
  const name = nameForUrl(url);
  const file = name === null ? null : await realInside(folder, name);
  if (file === null)
    return new Response('There is no such file here.', {
      status: 404,
      headers: { ...securityHeaders, 'Content-Type': 'text/plain; charset=utf-8' },
    });
  const type = MIME[path.extname(file).toLowerCase()] ?? 'application/octet-stream';
  return new Response(new Uint8Array(await readFile(file)), {
    headers: { ...securityHeaders, 'Content-Type': type },
  });
}

/** Serves `folder` under the scheme. */
export function serveScheme(protocol: Pick<Protocol, 'handle'>, folder: string): void {
  protocol.handle(SCHEME, (request) => answer(request.url, folder));
}
