// What can be held of the installers without making one: what goes in, how it is locked, and the notices that go along.
import { readFileSync } from 'node:fs';
import path from 'node:path';
import { describe, expect, it } from 'vitest';
import config from '../../electron-builder.config';
import { noticeOf, noticesText, shippedPackages } from '../../scripts/lib/notices';

const ROOT = path.resolve(import.meta.dirname, '../..');
const { dependencies } = JSON.parse(readFileSync(path.join(ROOT, 'package.json'), 'utf8')) as {
  dependencies: Record<string, string>;
};

describe('the package', () => {
  it('holds what was built and nothing else', () => {
    const taken = config.files.filter((pattern) => !pattern.startsWith('!'));
    expect(
      taken.every((pattern) => /^out\/(main|preload|renderer)\//.test(pattern) || pattern === 'package.json'),
    ).toBe(true);
    expect(config.files).toContain('!node_modules');
  });

  it('has every fuse as Electron’s security guide wants it', () => {
    expect(config.asar).toBe(true);
    expect(config.electronFuses).toEqual({
      runAsNode: false,
      enableCookieEncryption: true,
      enableNodeOptionsEnvironmentVariable: false,
      enableNodeCliInspectArguments: false,
      enableEmbeddedAsarIntegrityValidation: true,
      onlyLoadAppFromAsar: true,
      grantFileProtocolExtraPrivileges: false,
    });
    expect(config.mac.hardenedRuntime).toBe(true);
  });

  it('opens job files, looks for no newer edition, and has an icon large enough for every system', () => {
    expect(config.fileAssociations.map(({ ext }) => ext)).toEqual(['lidjob']);
    expect(config.publish).toBeNull();
    const icon = readFileSync(path.join(ROOT, config.icon));
    expect(icon.subarray(1, 4).toString('latin1')).toBe('PNG');
    expect([icon.readUInt32BE(16), icon.readUInt32BE(20)]).toEqual([1024, 1024]);
  });
});

describe('the notices', () => {
  it('name every package that is shipped, with the words of its licence', () => {
    const shipped = shippedPackages();
    for (const name of Object.keys(dependencies)) expect(shipped).toContain(`node_modules/${name}`);
    const text = noticesText();
    for (const folder of shipped) {
      const { name, version, licence, text: words } = noticeOf(folder);
      expect(text, folder).toContain(`${name} ${version} (${licence})`);
      expect(words.length, folder).toBeGreaterThan(200);
      expect(text, folder).toContain(words);
    }
  });

  it('hold no licence that asks more than to be named', () => {
    const known = /^(MIT|ISC|0BSD|Apache-2\.0|OFL-1\.1|BSD-[23]-Clause|SEE LICENSE IN README\.md AND LICENSE)$/;
    for (const folder of shippedPackages()) expect(noticeOf(folder).licence, folder).toMatch(known);
  });
});
