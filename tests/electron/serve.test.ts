import { mkdirSync, symlinkSync, writeFileSync } from 'node:fs';
import http from 'node:http';
import net from 'node:net';
import path from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { securityHeaders as electronHeaders } from '../../electron/scheme';
import { script } from './scripts';
import { temporaryFolder } from './temporary';

const { fileForUrlPath, hostIsLocal, serveFolder, whoServes } = await script('static-server.mjs');

let folder: string;
let server: { address: string; port: number; close(): Promise<void> };

beforeEach(async () => {
  const outer = temporaryFolder();
  folder = path.join(outer, 'page');
  mkdirSync(path.join(folder, 'assets'), { recursive: true });
  writeFileSync(path.join(outer, 'secret.txt'), 'secret');
  mkdirSync(path.join(outer, 'page-too'));
  writeFileSync(path.join(outer, 'page-too/secret.txt'), 'secret');
  writeFileSync(path.join(folder, 'index.html'), '<!doctype html>page');
  writeFileSync(path.join(folder, 'assets/a b.js'), 'script');
  symlinkSync('../secret.txt', path.join(folder, 'link.txt'));
  server = await serveFolder(folder);
});
afterEach(() => server.close());

/** A raw request: fetch() would tidy the path before sending it. */
function get(
  urlPath: string,
  { method = 'GET', host = '127.0.0.1' } = {},
): Promise<{ status: number; body: string; headers: http.IncomingHttpHeaders }> {
  return new Promise((resolve, reject) => {
    const request = http.request(
      { host: '127.0.0.1', port: server.port, path: urlPath, method, headers: { host } },
      (response) => {
        let body = '';
        response.on('data', (chunk) => (body += String(chunk)));
        response.on('end', () => resolve({ status: response.statusCode ?? 0, body, headers: response.headers }));
      },
    );
    request.on('error', reject);
    request.end();
  });
}

/** What a server says to bytes that no client would send. */
const raw = (text: string): Promise<string> =>
  new Promise((resolve) => {
    let said = '';
    const socket = net.connect(server.port, '127.0.0.1', () => socket.write(text, 'latin1'));
    socket.on('data', (piece) => (said += piece.toString('latin1')));
    socket.on('error', () => resolve(said)); // cut off while it still sent: what was said before counts
    socket.on('close', () => resolve(said));
  });

describe('the server of the page', () => {
  it('serves files with their type', async () => {
    expect(await get('/')).toMatchObject({
      status: 200,
      body: '<!doctype html>page',
      headers: { 'content-type': 'text/html; charset=utf-8' },
    });
    expect(await get('/assets/a%20b.js?v=1')).toMatchObject({
      status: 200,
      body: 'script',
      headers: { 'content-type': 'text/javascript; charset=utf-8', 'content-length': '6' },
    });
    expect(await get('/', { method: 'HEAD' })).toMatchObject({ status: 200, body: '' });
  });

  it('serves nothing outside its folder, however it is asked', async () => {
    const climbs = [
      '..',
      '%2e%2e',
      '%2E.',
      '.%2e',
      '..%2f..',
      '..%5c',
      '..\\',
      '....//',
      '..;',
      '%252e%252e',
      '..%00',
      '%e2%80%a4%e2%80%a4',
    ];
    const places = ['secret.txt', 'page-too/secret.txt', 'etc/passwd'];
    const asked = [
      ...climbs.flatMap((climb) => places.map((place) => `/${climb}/${place}`)),
      '/assets/..%2f..%2fsecret.txt',
      '/assets/../../secret.txt',
      '/..%5csecret.txt',
      `/${path.dirname(folder)}/secret.txt`,
      '//etc/passwd',
      '///secret.txt',
      'http://127.0.0.1/../secret.txt',
      '*',
      '/link.txt',
      '/a%00',
      '/index.html%00.txt',
      '/%',
      '/%ff',
      '/assets',
      '/assets/',
      '/none',
      '/.lidwright/x',
      '/C:/secret.txt',
      '/file:///etc/passwd',
      '/index.html/',
    ];
    expect(asked.length).toBeGreaterThan(50);
    for (const urlPath of asked) {
      const { status, body } = await get(urlPath);
      expect([400, 404], urlPath).toContain(status);
      expect(body).not.toContain('secret');
    }
    expect(fileForUrlPath('/x/page', '/../page-too/a')).toBeNull();
    expect(fileForUrlPath('/x/page', '/a/b.js#c')).toBe('/x/page/a/b.js');
  });

  it('gives the same headers as the window, on every answer', async () => {
    for (const answer of [
      await get('/'),
      await get('/none'),
      await get('/', { method: 'POST' }),
      await get('/', { host: 'evil.example' }),
    ])
      for (const [name, value] of Object.entries(electronHeaders))
        expect(answer.headers[name.toLowerCase()], name).toBe(value);
  });

  it('only reads, and only for this machine', async () => {
    expect((await get('/', { method: 'PUT' })).status).toBe(405);
    expect((await get('/', { host: 'evil.example' })).status).toBe(403);
    for (const host of ['127.0.0.1:5199', 'localhost:80', '[::1]:1']) expect(hostIsLocal(host), host).toBe(true);
    for (const host of ['127.0.0.1.evil.example', 'localhost.evil', '', undefined])
      expect(hostIsLocal(host)).toBe(false);
    expect(server.address).toBe(`http://127.0.0.1:${server.port}/`);
  });

  it('answers fifty odd requests in kind: other methods, hosts, ranges, encodings, long and broken heads', async () => {
    const head = (method: string, urlPath = '/', more = 'Host: 127.0.0.1'): string =>
      `${method} ${urlPath} HTTP/1.1\r\n${more}\r\nConnection: close\r\n\r\n`;
    const local = (more: string): string => head('GET', '/', `Host: 127.0.0.1\r\n${more}`);
    const odd: [text: string, statuses: readonly number[]][] = [
      ...[
        'POST',
        'PUT',
        'DELETE',
        'PATCH',
        'OPTIONS',
        'TRACE',
        'PROPFIND',
        'MKCOL',
        'COPY',
        'MOVE',
        'LOCK',
        'SEARCH',
      ].map((method): [string, number[]] => [head(method), [405]]),
      ...[
        'evil.example',
        '127.0.0.1.evil.example',
        'localhost.',
        '127.0.0.2',
        '0.0.0.0',
        '[::]',
        '127.0.0.1@evil',
        '2130706433',
        'xn--localhost',
        '127.0.0.1:80:80',
        'localhost evil',
        '10.0.0.1:5199',
      ].map((host): [string, number[]] => [head('GET', '/', `Host: ${host}`), [403]]),
      [head('GET', '/', 'X-None: 1'), [400]],
      [head('GET', '/', 'Host: 127.0.0.1\r\nHost: evil.example'), [200, 400]],
      ...['0-1', '0-', '-1', '99999999-', '0-0,0-0,0-0', '1-0', 'x'].map((range): [string, number[]] => [
        local(`Range: bytes=${range}`),
        [200],
      ]),
      ...['gzip', 'br;q=1', 'identity;q=0', '*;q=0', '\u00ff'].map((coding): [string, number[]] => [
        local(`Accept-Encoding: ${coding}`),
        [200],
      ]),
      [local('If-None-Match: *'), [200]],
      [local('If-Modified-Since: Thu, 01 Jan 2099 00:00:00 GMT'), [200]],
      [local('Origin: https://evil.example'), [200]],
      [local('Upgrade: websocket\r\nSec-WebSocket-Key: x'), [200]],
      [local('X-HTTP-Method-Override: DELETE'), [200]],
      [local('X-Forwarded-Host: evil.example'), [200]],
      [local('X-Original-URL: /../secret.txt'), [200]],
      [local(`X-Long: ${'a'.repeat(100_000)}`), [431]],
      [local(Array.from({ length: 3000 }, (_, i) => `X-${i}: 1`).join('\r\n')), [200, 431]],
      [head('GET', `/${'a'.repeat(100_000)}`), [431]],
      [head('GET', `/${'a'.repeat(8000)}`), [404]],
      [head('GET', `/${'a/'.repeat(3000)}`), [404]],
      [head('GET', '/assets%2fa%20b.js'), [200]],
      [head('GET', '/INDEX.HTML'), [404]],
      [head('GET', '/\u0001'), [400, 404]],
      ['GET / HTTP/9.9\r\nHost: 127.0.0.1\r\n\r\n', [400, 505]],
      ['GET /\r\n\r\n', [403]],
      ['\u0000\u0001\u0002\r\n\r\n', [400]],
      ['GET / HTTP/1.1\r\nHost: 127.0.0.1\r\nContent-Length: 5\r\nTransfer-Encoding: chunked\r\n\r\n', [400]],
      ['GET / HTTP/1.1\r\nHost : 127.0.0.1\r\n\r\n', [400]],
    ];
    expect(odd.length).toBeGreaterThanOrEqual(50);
    for (const [text, statuses] of odd) {
      const answer = await raw(text);
      expect(statuses, `${JSON.stringify(text.slice(0, 80))}: ${answer.slice(0, 60)}`).toContain(
        Number(/^HTTP\/1\.1 (\d+)/.exec(answer)?.[1]),
      );
      expect(answer).not.toContain('secret');
      expect(answer).not.toMatch(/access-control-allow|^location:/im);
    }
    expect((await get('/')).status).toBe(200); // and it lives on
  });

  it('tells a server of ours on a port from a stranger’s', async () => {
    expect(await whoServes(folder, server.port)).toBe('this');
    expect(await whoServes(path.join(folder, 'assets'), server.port)).toBe('other');
    const stranger = http.createServer((_request, response) => response.end('hello'));
    const silent = http.createServer(() => undefined);
    for (const each of [stranger, silent]) {
      await new Promise<void>((done) => each.listen(0, '127.0.0.1', done));
      const { port } = each.address() as { port: number };
      expect(await whoServes(folder, port)).toBe('stranger');
      each.closeAllConnections();
      await new Promise((done) => each.close(done));
    }
    expect(await whoServes(folder, 1)).toBe('stranger');
  });

  it('says so in words when the port is taken', async () => {
    await expect(serveFolder(folder, server.port)).rejects.toThrow(
      /Port \d+ is taken by another program\. Give another one with --port N.*drafts/,
    );
  });
});
