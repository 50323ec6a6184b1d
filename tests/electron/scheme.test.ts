import { mkdirSync, symlinkSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { describe, expect, it } from 'vitest';
import { answer, isOurs, nameForUrl, PRIVILEGES, serveScheme } from '../../electron/scheme';
import { temporaryFolder } from './temporary';

function page(): string {
  const outer = temporaryFolder();
  const folder = path.join(outer, 'renderer');
  mkdirSync(path.join(folder, 'assets'), { recursive: true });
  writeFileSync(path.join(outer, 'secret.txt'), 'secret');
  writeFileSync(path.join(folder, 'index.html'), '<!doctype html>');
  writeFileSync(path.join(folder, 'assets/a b.js'), '1');
  symlinkSync('../secret.txt', path.join(folder, 'link.txt'));
  return folder;
}

describe('the page’s own scheme', () => {
  it('knows its own addresses', () => {
    expect(isOurs('app://lidwright/index.html')).toBe(true);
    for (const url of [
      'app://other/index.html',
      'https://lidwright/',
      'file:///etc/passwd',
      'nonsense',
      '',
      'app:lidwright',
    ])
      expect(isOurs(url), url).toBe(false);
  });

  it('turns an address into a name inside the folder, or nothing', () => {
    expect(nameForUrl('app://lidwright/')).toBe('index.html');
    expect(nameForUrl('app://lidwright/assets/a%20b.js?x=1#y')).toBe('assets/a b.js');
    for (const url of [
      'app://lidwright/%2e%2e%2fsecret.txt',
      'app://lidwright/assets/..%2f..%2fsecret.txt',
      'app://lidwright/a%5c..%5csecret.txt',
      'app://lidwright/a%00.js',
      'app://lidwright//etc/passwd',
      'app://lidwright/%2fetc%2fpasswd',
      'app://lidwright/%',
      'app://elsewhere/index.html',
    ])
      expect(nameForUrl(url), url).toBeNull();
  });

  it('serves what is inside with the headers, and nothing that lies outside', async () => {
    const folder = page();
    const good = await answer('app://lidwright/assets/a%20b.js', folder);
    expect([good.status, await good.text()]).toEqual([200, '1']);
    expect(good.headers.get('content-type')).toBe('text/javascript; charset=utf-8');
    for (const url of [
      'app://lidwright/../secret.txt',
      'app://lidwright/%2e%2e/secret.txt',
      'app://lidwright/..%2fsecret.txt',
      `app://lidwright/${path.dirname(folder)}/secret.txt`,
      'app://lidwright/link.txt',
      'app://lidwright/assets',
      'app://lidwright/none.js',
    ]) {
      const bad = await answer(url, folder);
      expect(bad.status, url).toBe(404);
      expect(await bad.text()).not.toContain('secret');
      expect(bad.headers.get('content-security-policy')).toContain("default-src 'none'");
    }
  });

  it('is registered as standard and secure, without ways around the policy', () => {
    expect(PRIVILEGES.scheme).toBe('app');
    expect(PRIVILEGES.privileges).toMatchObject({ standard: true, secure: true });
    expect(PRIVILEGES.privileges?.bypassCSP).toBeUndefined();
    const handled: string[] = [];
    serveScheme({ handle: (scheme) => void handled.push(scheme) }, page());
    expect(handled).toEqual(['app']);
  });
});
