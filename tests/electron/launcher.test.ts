import { existsSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { describe, expect, it } from 'vitest';
import { script } from './scripts';
import { temporaryFolder } from './temporary';

const { nodeIsOldIn, oldNodeWords, OLDEST_NODE } = await script('node-version.mjs');
const { installedMatches, setupNeed } = await script('installed.mjs');
const { OWN_PORT, browserCommand, hasDisplay, parseStartArgs, whyNoWindow, windowFailed } =
  await script('start-options.mjs');
const { downloadDecision, findElectron } = await script('electron-binary.mjs');
const { isFresh, sourceStamp, withLock } = await script('stamp.mjs');
const { findChromium, missingPackages } = await script('test-tools.mjs');
const { callerDir, root } = await script('root.mjs');

describe('Node', () => {
  it('too old is told apart from new enough, and package.json says the same', () => {
    for (const old of ['18.20.4', '20.18.9', '20.0.0', '8.0.0', '', 'x']) expect(nodeIsOldIn(old), old).toBe(true);
    for (const good of ['20.19.0', '20.20.2', '22.0.0', '100.1.1']) expect(nodeIsOldIn(good), good).toBe(false);
    const { engines } = JSON.parse(readFileSync(path.join(root, 'package.json'), 'utf8')) as {
      engines: { node: string };
    };
    expect(engines.node).toBe(`>=${OLDEST_NODE.join('.')}`);
    expect(oldNodeWords('18.1.0')).toMatch(/needs Node 20\.19 or newer; this is Node 18\.1\.0/);
  });
});

describe('set-up', () => {
  const lock = {
    packages: {
      '': {},
      'node_modules/a': { version: '1.0.0' },
      'node_modules/b': { version: '2.0.0', optional: true },
    },
  };
  const need = (more: object): string =>
    setupNeed({
      lockText: JSON.stringify(lock),
      wantedStamp: 'new',
      stamp: 'old',
      installedText: JSON.stringify(lock),
      ...more,
    });

  it('installs when nothing is there, when it does not match, or when its record is torn', () => {
    expect(need({ installedText: null, stamp: 'new' })).toBe('install');
    expect(need({ installedText: '{"packages":' })).toBe('install');
    expect(need({ installedText: '{"packages":{"node_modules/a":{"version":"1.0.1"}}}' })).toBe('install');
  });

  it('does nothing when marked right, and only marks what matches', () => {
    expect(need({ stamp: 'new' })).toBe('ready');
    expect(need({})).toBe('mark');
  });

  it('bears the absence of other machines’ optional packages, and of nothing else', () => {
    expect(installedMatches(lock, { packages: { 'node_modules/a': { version: '1.0.0' } } })).toBe(true);
    expect(installedMatches(lock, { packages: { 'node_modules/b': { version: '2.0.0' } } })).toBe(false);
    expect(
      installedMatches(lock, {
        packages: { 'node_modules/a': { version: '1.0.0' }, 'node_modules/b': { version: '2.0.1' } },
      }),
    ).toBe(false);
    expect(installedMatches(lock, null)).toBe(false);
  });
});

describe('what npm start was asked for', () => {
  it('reads its options', () => {
    expect(parseStartArgs([])).toEqual({
      serve: false,
      open: true,
      port: OWN_PORT,
      fetch: false,
      help: false,
      job: null,
    });
    expect(parseStartArgs(['--serve', '--no-open', '--port', '5199'])).toMatchObject({
      serve: true,
      open: false,
      port: 5199,
    });
    expect(parseStartArgs(['--port=80', 'my.lidjob'])).toMatchObject({ serve: true, port: 80, job: 'my.lidjob' });
    expect(parseStartArgs(['--', '-odd.lidjob']).job).toBe('-odd.lidjob');
  });

  it('refuses the rest in words', () => {
    for (const port of ['0', '65536', 'x', '1.5', '-1', ''])
      expect(() => parseStartArgs(['--port', port]), port).toThrow(/from 1 to 65535/);
    expect(() => parseStartArgs(['--port'])).toThrow(/needs a number/);
    expect(() => parseStartArgs(['--frob'])).toThrow(/no option/);
    expect(() => parseStartArgs(['a', 'b'])).toThrow(/One job/);
  });

  it('resolves a job from where the person stood, and trusts nobody else’s word for that', () => {
    const env = { npm_lifecycle_event: 'start', INIT_CWD: '/somewhere' };
    expect(callerDir('start', { env, cwd: root })).toBe('/somewhere');
    expect(callerDir('start', { env, cwd: '/else' })).toBe('/else');
    expect(callerDir('lidwright', { env, cwd: root })).toBe(root);
    expect(callerDir('start', { env: {}, cwd: root })).toBe(root);
  });
});

describe('window or browser', () => {
  const options = { serve: false };
  const screen = { DISPLAY: ':0' };

  it('knows a display when it sees one', () => {
    expect(hasDisplay({ platform: 'linux', env: {} })).toBe(false);
    expect(hasDisplay({ platform: 'linux', env: { DISPLAY: '' } })).toBe(false);
    expect(hasDisplay({ platform: 'linux', env: { WAYLAND_DISPLAY: 'wayland-0' } })).toBe(true);
    expect(hasDisplay({ platform: 'win32', env: {} })).toBe(true);
    expect(hasDisplay({ platform: 'darwin', env: { SSH_CONNECTION: 'x' } })).toBe(false);
  });

  it('says why there is no window, and opens one where nothing speaks against it', () => {
    expect(whyNoWindow({ options, platform: 'linux', env: screen, uid: 1000 })).toBeNull();
    expect(whyNoWindow({ options: { serve: true }, platform: 'linux', env: screen, uid: 1000 })).toMatch(/--serve/);
    expect(whyNoWindow({ options, platform: 'linux', env: {}, uid: 1000 })).toMatch(/no display/);
    expect(whyNoWindow({ options, platform: 'linux', env: screen, uid: 0 })).toMatch(/root/);
  });

  it('tells a window that never came from one that ended', () => {
    expect(windowFailed({ code: null, signal: 'SIGTRAP', ranMs: 300 })).toBe(true);
    expect(windowFailed({ code: 127, signal: null, ranMs: 20 })).toBe(true);
    expect(windowFailed({ code: null, signal: null, error: new Error('ENOEXEC'), ranMs: 1 })).toBe(true);
    expect(windowFailed({ code: 0, signal: null, ranMs: 300 })).toBe(false);
    expect(windowFailed({ code: null, signal: 'SIGINT', ranMs: 300 })).toBe(false);
    expect(windowFailed({ code: 1, signal: null, ranMs: 60_000 })).toBe(false);
  });

  it('opens the system’s own browser', () => {
    const address = 'http://127.0.0.1:1/';
    expect(browserCommand('linux', address)).toEqual({ command: 'xdg-open', args: [address] });
    expect(browserCommand('darwin', address)).toEqual({ command: 'open', args: [address] });
    expect(browserCommand('win32', address).args).toContain(address);
  });
});

describe('Electron’s program', () => {
  const find = (files: string[], more: object = {}): string | null =>
    findElectron({
      packageDir: '/p',
      readText: (file: string) => (file === '/p/path.txt' && files.includes(file) ? 'electron\n' : null),
      exists: (file: string) => files.includes(file),
      ...more,
    });

  it('is found by the package’s own note, and only if it is really there', () => {
    expect(find(['/p/path.txt', '/p/dist/electron'])).toBe('/p/dist/electron');
    expect(find(['/p/path.txt'])).toBeNull();
    expect(find(['/p/dist/electron'])).toBeNull();
    expect(find(['/mine/electron'], { override: '/mine' })).toBe('/mine/electron');
    expect(find(['/p/path.txt', '/p/dist/electron'], { override: '/mine' })).toBeNull();
  });

  it('is fetched once, not in automatic runs, not against orders, and not again after a failure', () => {
    const decide = (env: object, lastFailure: object | null = null) =>
      downloadDecision({ env, lastFailure, version: '45' });
    expect(decide({})).toEqual({ tryIt: true, why: '' });
    expect(decide({ CI: 'true' }).tryIt).toBe(false);
    expect(decide({ LIDWRIGHT_NO_DOWNLOAD: '1' }).tryIt).toBe(false);
    expect(decide({ ELECTRON_OVERRIDE_DIST_PATH: '/x' }).tryIt).toBe(false);
    expect(decide({}, { version: '45', day: '2026-05-17' })).toMatchObject({
      tryIt: false,
      why: expect.stringMatching(/2026-05-17.*--fetch/),
    });
    expect(decide({}, { version: '44', day: '2026-05-17' }).tryIt).toBe(true);
  });
});

describe('what is built', () => {
  it('is stale exactly when a source changes, comes or goes', () => {
    const folder = temporaryFolder();
    mkdirSync(path.join(folder, 'core/x'), { recursive: true });
    writeFileSync(path.join(folder, 'core/x/a.ts'), '1');
    const stamp = (): string => sourceStamp(folder, ['core', 'none', 'file.json']);
    const first = stamp();
    expect(stamp()).toBe(first);
    writeFileSync(path.join(folder, 'core/x/a.ts'), '2');
    const second = stamp();
    expect(second).not.toBe(first);
    writeFileSync(path.join(folder, 'core/x/b.ts'), '');
    expect(stamp()).not.toBe(second);
    writeFileSync(path.join(folder, 'file.json'), '{}');
    expect(new Set([first, second, stamp()]).size).toBe(3);
    expect(isFresh({ stamp: 'a', wantedStamp: 'a', productsExist: true })).toBe(true);
    expect(isFresh({ stamp: 'a', wantedStamp: 'a', productsExist: false })).toBe(false);
    expect(isFresh({ stamp: null, wantedStamp: 'a', productsExist: true })).toBe(false);
  });

  it('is built by one at a time, also after a builder died', async () => {
    const lock = path.join(temporaryFolder(), 'deep/build.lock');
    const log: string[] = [];
    const work = (name: string) => async () => {
      log.push(`${name} in`);
      await new Promise((resolve) => setTimeout(resolve, 30));
      log.push(`${name} out`);
    };
    await Promise.all([withLock(lock, work('a'), { waitMs: 5 }), withLock(lock, work('b'), { waitMs: 5 })]);
    expect(log).toHaveLength(4);
    expect(log[0]!.slice(0, 1)).toBe(log[1]!.slice(0, 1));
    expect(existsSync(lock)).toBe(false);

    mkdirSync(lock);
    writeFileSync(path.join(lock, 'pid'), '4242');
    await withLock(lock, work('c'), { waitMs: 5, isAlive: () => false });
    expect(log.slice(-2)).toEqual(['c in', 'c out']);
    await expect(withLock(lock, () => Promise.reject(new Error('broken')))).rejects.toThrow('broken');
    expect(existsSync(lock)).toBe(false);
  });
});

describe('what the tests need', () => {
  it('finds a Chromium on the PATH, or takes the one that is named and no other', () => {
    const env = { PATH: '/a:/b' };
    const only = (file: string) => (each: string) => each === file;
    expect(findChromium({ env, isRunnable: only('/b/chromium') })).toBe('/b/chromium');
    expect(findChromium({ env, isRunnable: only('/a/chromium-browser') })).toBe('/a/chromium-browser');
    expect(findChromium({ env: { ...env, LIDWRIGHT_CHROMIUM: '/c' }, isRunnable: only('/c') })).toBe('/c');
    expect(findChromium({ env: { ...env, LIDWRIGHT_CHROMIUM: '/d' }, isRunnable: only('/b/chromium') })).toBeNull();
  });

  it('names the packages that bring what is missing, each once', () => {
    expect(missingPackages({ chromium: '/x', hasProgram: () => true })).toEqual([]);
    expect(missingPackages({ chromium: null, hasProgram: () => false })).toEqual([
      'chromium',
      'fonts-dejavu-core',
      'poppler-utils',
      'librsvg2-bin',
    ]);
  });
});
