import { spawn } from 'node:child_process';
import { once } from 'node:events';
import {
  chmodSync,
  existsSync,
  lstatSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  statSync,
  symlinkSync,
  truncateSync,
  writeFileSync,
} from 'node:fs';
import * as nodeFs from 'node:fs/promises';
import path from 'node:path';
import { build } from 'vite';
import { describe, expect, it } from 'vitest';
import { jobFileBytes, openJournal, realInside, writeWhole, type WritingFs } from '../../electron/files';
import { utf8Text } from '../../core/job';
import { runs } from '../support/tier';
import { crashingFs } from './crashing-fs';
import { issueFrom, temporaryFolder } from './temporary';

const OLD = 'the old content, all of it';
const NEW = 'the new content, longer than the old one, all of it';

describe('saving is atomic', () => {
  it('a crash at any step leaves the old or the new file, whole', async () => {
    const seen: string[] = [];
    let crashes = 0;
    for (let crashAt = 0; ; crashAt++) {
      const file = path.join(temporaryFolder(), 'a.lidjob');
      writeFileSync(file, OLD);
      const { fs, steps } = crashingFs(crashAt);
      await writeWhole(file, NEW, fs).catch(() => (crashes += 1));
      const content = readFileSync(file, 'utf8');
      expect([OLD, NEW], `crash at step ${crashAt} (${steps.at(-1)})`).toContain(content);
      seen.push(`${steps[crashAt] ?? 'end'}: ${content === OLD ? 'old' : 'new'}`);
      if (steps.length <= crashAt) break; // it came to its end before the crash
    }
    expect(crashes).toBeGreaterThan(7);
    // up to the rename the old file stands, from then on the new one
    expect(seen).toEqual([
      'readlink: old',
      'stat: old',
      'access: old',
      'open file: old',
      'write: old',
      'chmod: old',
      'sync file: old',
      'close file: old',
      'rename: old',
      'open folder: new',
      'sync folder: new',
      'close folder: new',
      'end: new',
    ]);
  });

  it('a crash while a new file is made leaves no file or the whole one', async () => {
    for (let crashAt = 0; crashAt < 14; crashAt++) {
      const file = path.join(temporaryFolder(), 'a.lidjob');
      await writeWhole(file, NEW, crashingFs(crashAt).fs).catch(() => undefined);
      if (existsSync(file)) expect(readFileSync(file, 'utf8')).toBe(NEW);
    }
  });

  it('the content is flushed before the name changes, and the folder after', async () => {
    const { fs, steps } = crashingFs(Infinity);
    const file = path.join(temporaryFolder(), 'a.lidjob');
    expect(await writeWhole(file, NEW, fs)).toBe('new');
    expect(steps.filter((step) => /write|sync|rename/.test(step))).toEqual([
      'write',
      'sync file',
      'rename',
      'sync folder',
    ]);
  });

  const kills = runs(2000, 5);
  it(`a process killed while it saves, ${kills} times, leaves one of the contents, whole, and nothing else after the next start`, async () => {
    const folder = temporaryFolder();
    await build({
      configFile: false,
      logLevel: 'error',
      ssr: { noExternal: true },
      build: { ssr: path.join(import.meta.dirname, 'endless-writer.ts'), outDir: path.join(folder, 'program') },
    });
    const jobs = path.join(folder, 'jobs');
    mkdirSync(jobs);
    const file = path.join(jobs, 'a.lidjob');
    const notes = path.join(folder, 'unfinished.txt');
    let cut = 0;
    for (let kill = 0; kill < kills; kill++) {
      const child = spawn(process.execPath, [path.join(folder, 'program/endless-writer.js'), file, notes], {
        stdio: ['ignore', 'pipe', 'inherit'],
      });
      await once(child.stdout, 'data');
      await new Promise((resolve) => setTimeout(resolve, (kill * 7) % 29));
      child.kill('SIGKILL');
      await once(child, 'exit');
      cut += readdirSync(jobs).length - 1;
      await openJournal(notes);
      expect(readdirSync(jobs)).toEqual(['a.lidjob']);
      expect(readFileSync(file, 'utf8')).toMatch(/^(a{400000}|b{400000})$/);
    }
    // were no write ever cut, this test would show nothing
    if (kills > 100) expect(cut).toBeGreaterThan(kills / 20);
  });

  it('an error on the way (a full disk) leaves the old file, takes the temporary one away and says what to do', async () => {
    const folder = temporaryFolder();
    const file = path.join(folder, 'a.lidjob');
    writeFileSync(file, OLD);
    const full: WritingFs = {
      ...nodeFs,
      rename: () => Promise.reject(Object.assign(new Error('no space'), { code: 'ENOSPC' })),
    };
    const issue = await issueFrom(writeWhole(file, NEW, full));
    expect(issue.what).toBe('"a.lidjob" does not fit: the disk is full.');
    expect(issue.advice).toMatch(/Free some space/);
    expect(readdirSync(folder)).toEqual(['a.lidjob']);
    expect(readFileSync(file, 'utf8')).toBe(OLD);
  });
});

describe('saving keeps what belongs to the file', () => {
  it('keeps the mode', async () => {
    const file = path.join(temporaryFolder(), 'a.lidjob');
    writeFileSync(file, OLD);
    chmodSync(file, 0o664);
    expect(await writeWhole(file, NEW)).toBe('replaced');
    expect((statSync(file).mode & 0o777).toString(8)).toBe('664');
  });

  it('writes through a symlink, also one whose target is not there yet', async () => {
    const folder = temporaryFolder();
    mkdirSync(path.join(folder, 'real'));
    for (const [link, target] of [
      ['one', 'real/there'],
      ['two', 'real/not-yet'],
    ] as const) {
      if (target.endsWith('there')) writeFileSync(path.join(folder, target), OLD);
      symlinkSync(target, path.join(folder, link));
      await writeWhole(path.join(folder, link), NEW);
      expect(lstatSync(path.join(folder, link)).isSymbolicLink()).toBe(true);
      expect(readFileSync(path.join(folder, target), 'utf8')).toBe(NEW);
    }
    expect(readdirSync(folder).sort()).toEqual(['one', 'real', 'two']);
  });

  it('a relative link in a folder that is a link itself counts from where the folder really lies', async () => {
    const folder = temporaryFolder();
    mkdirSync(path.join(folder, 'deep/er'), { recursive: true });
    writeFileSync(path.join(folder, 'deep/real'), OLD);
    symlinkSync('../real', path.join(folder, 'deep/er/link'));
    symlinkSync('deep/er', path.join(folder, 'short'));
    await writeWhole(path.join(folder, 'short/link'), NEW);
    expect(readFileSync(path.join(folder, 'deep/real'), 'utf8')).toBe(NEW);
    expect(readdirSync(folder).sort()).toEqual(['deep', 'short']);
  });

  it('what a killed write left is cleared away at the next start, and nothing else', async () => {
    const folder = temporaryFolder();
    const notes = path.join(folder, 'unfinished.txt');
    const journal = await openJournal(notes);
    const file = path.join(folder, 'a.lidjob');
    await writeWhole(file, OLD, undefined, journal);
    // steps 0 to 3 and 4: the temporary file is made, and half of it is written
    await writeWhole(file, NEW, crashingFs(4).fs, journal).catch(() => undefined);
    writeFileSync(path.join(folder, '.other.tmp'), 'somebody else’s');
    writeFileSync(notes, `${readFileSync(notes, 'utf8')}${path.join(folder, 'a.lidjob')}\n../x\n`);
    expect(readdirSync(folder).filter((name) => name.startsWith('.a.lidjob'))).toHaveLength(1);
    await openJournal(notes);
    expect(readdirSync(folder).sort()).toEqual(['.other.tmp', 'a.lidjob']);
    expect(readFileSync(file, 'utf8')).toBe(OLD);
  });

  it('refuses a link that leads back to itself, a folder, and a folder that is not there', async () => {
    const folder = temporaryFolder();
    symlinkSync('loop', path.join(folder, 'loop'));
    expect((await issueFrom(writeWhole(path.join(folder, 'loop'), NEW))).what).toMatch(/back to itself/);
    expect((await issueFrom(writeWhole(folder, NEW))).what).toMatch(/is a folder/);
    expect((await issueFrom(writeWhole(path.join(folder, 'no/such'), NEW))).what).toMatch(/is not there/);
  });

  it('does not replace a file that it may not write', async () => {
    const file = path.join(temporaryFolder(), 'a.lidjob');
    writeFileSync(file, OLD);
    const locked: WritingFs = {
      ...nodeFs,
      access: () => Promise.reject(Object.assign(new Error('denied'), { code: 'EACCES' })),
    };
    expect((await issueFrom(writeWhole(file, NEW, locked))).what).toMatch(/may not be used/);
    expect(readFileSync(file, 'utf8')).toBe(OLD);
  });
});

describe('reading a job file', () => {
  const wrong = async (name: string, prepare: (file: string) => void): Promise<string> => {
    const file = path.join(temporaryFolder(), name);
    prepare(file);
    return (await issueFrom(jobFileBytes(file))).what;
  };

  it('gives its bytes', async () => {
    const file = path.join(temporaryFolder(), 'a.lidjob');
    writeFileSync(file, '\uFEFF{"ö": 1}');
    expect(utf8Text('a', await jobFileBytes(file))).toBe('{"ö": 1}'); // read without the byte order mark
  });

  it('says what is wrong with a file that is missing, a folder, empty, or too large', async () => {
    expect(await wrong('a', () => undefined)).toBe('"a" is not there.');
    expect(await wrong('b', (file) => mkdirSync(file))).toBe('"b" is a folder.');
    expect(await wrong('c', (file) => writeFileSync(file, ''))).toBe('"c" is empty.');
    expect(
      await wrong('d', (file) => {
        writeFileSync(file, '');
        truncateSync(file, 200 * 1024 * 1024);
      }),
    ).toBe('"d" is 200 MiB long; a job may be 64 MiB at most.');
  });
});

describe('realInside', () => {
  it('finds files inside and nothing outside, whatever the name or link', async () => {
    const outer = temporaryFolder();
    const folder = path.join(outer, 'in');
    mkdirSync(path.join(folder, 'sub'), { recursive: true });
    writeFileSync(path.join(folder, 'sub/a.png'), 'x');
    writeFileSync(path.join(outer, 'secret'), 'x');
    mkdirSync(path.join(outer, 'in-too'));
    writeFileSync(path.join(outer, 'in-too/b'), 'x');
    symlinkSync('../secret', path.join(folder, 'link'));
    expect(await realInside(folder, 'sub/a.png')).toBe(path.join(folder, 'sub/a.png'));
    for (const name of [
      '../secret',
      'sub/../../secret',
      '../in-too/b',
      path.join(outer, 'secret'),
      'link',
      'sub',
      '',
      'no',
      'sub\\a.png',
      'a\0',
    ])
      expect(await realInside(folder, name), name).toBeNull();
  });
});
