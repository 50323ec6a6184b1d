import {
  existsSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  rmSync,
  statSync,
  symlinkSync,
  truncateSync,
  writeFileSync,
} from 'node:fs';
import { createHash } from 'node:crypto';
import path from 'node:path';
import { beforeEach, describe, expect, it } from 'vitest';
import { draftFolder } from '../../electron/autosave';
import { fileHandlers, type FileHandlers } from '../../electron/host-handlers';
import { KEPT_STATES, type Draft } from '../../renderer/host/interface';
import { Places } from '../../electron/places';
import { folderWords, recentList, RECENT_LENGTH, withRecent } from '../../electron/recent';
import { issueFrom, temporaryFolder } from './temporary';

let folder: string;
let picks: (string | null)[];
/** What is answered when a file would be replaced that the dialog did not see; the names asked about. */
let replace: boolean;
let askedAbout: string[];
let now: number;
let host: FileHandlers;

/** A fresh start of the program over the same disk. */
function start(): FileHandlers {
  return fileHandlers({
    dialogs: {
      askOpen: async () => picks.shift() ?? null,
      askSave: async () => picks.shift() ?? null,
      askReplace: async (name) => {
        askedAbout.push(name);
        return replace;
      },
    },
    journal: null,
    places: new Places(),
    recent: recentList(path.join(folder, 'own/recent.json')),
    drafts: draftFolder(path.join(folder, 'own/drafts'), () => undefined),
    assets: path.join(folder, 'assets'),
    home: folder,
    now: () => (now += 1),
  });
}

const file = (name: string): string => path.join(folder, name);
const utf8 = (text: string): Uint8Array<ArrayBuffer> => new TextEncoder().encode(text);
const sum = (text: string): string => createHash('sha256').update(text).digest('hex');
/** Saves over what the file is thought to hold; null: whatever it holds. */
const save = async (token: string | null, name: string, text: string, over: string | null = null) =>
  host.saveJob(token, name, utf8(text), over === null ? null : sum(over));
const saveAs = async (name: string, text: string) => host.saveJobAs(name, utf8(text));
const keep = async (draft: Partial<Draft> & { id: string }, pictures: [string, Uint8Array<ArrayBuffer>][] = []) =>
  host.putDraft(
    {
      ...{ name: 'a', text: '{}', whenMs: 1, token: null, digest: null },
      ...{ pictures: pictures.map(([name]) => name), ...draft },
    },
    pictures,
  );

beforeEach(() => {
  folder = temporaryFolder();
  for (const name of ['own', 'assets/examples', 'jobs/photos']) mkdirSync(file(name), { recursive: true });
  writeFileSync(file('jobs/hatch.lidjob'), '{"title":"hatch"}');
  writeFileSync(file('assets/examples/one.lidjob'), '{"title":"one"}');
  picks = [];
  replace = false;
  askedAbout = [];
  now = 1000;
  host = start();
});

describe('opening and saving', () => {
  it('opens what the person picks, and gives a token in place of the path', async () => {
    picks = [file('jobs/hatch.lidjob')];
    const job = await host.openJob();
    expect(job).toMatchObject({
      name: 'hatch.lidjob',
      bytes: utf8('{"title":"hatch"}'),
      digest: sum('{"title":"hatch"}'),
    });
    expect(JSON.stringify(job)).not.toContain(folder);
    expect(await host.openJob()).toBeNull();
  });

  it('saves to the token’s place, and to no place that was not issued', async () => {
    picks = [file('jobs/hatch.lidjob')];
    const job = (await host.openJob())!;
    expect(await save(job.token, 'ignored', '{"title":"two"}')).toEqual({
      token: job.token,
      name: 'hatch.lidjob',
      how: 'written',
      digest: sum('{"title":"two"}'),
    });
    expect(readFileSync(file('jobs/hatch.lidjob'), 'utf8')).toBe('{"title":"two"}');
    for (const made of ['made-up', file('jobs/hatch.lidjob'), '', '00000000-0000-4000-8000-000000000000']) {
      expect((await issueFrom(() => save(made, 'a', '{}'))).what).toMatch(/not known/);
      expect((await issueFrom(async () => host.openRecent(made))).what).toMatch(/not known/);
      expect((await issueFrom(async () => host.readBeside(made, 'a.png'))).what).toMatch(/not known/);
      expect((await issueFrom(() => keep({ id: 'a', name: 'a', text: 'b', whenMs: 1, token: made }))).what).toMatch(
        /not known/,
      );
    }
    expect(readFileSync(file('jobs/hatch.lidjob'), 'utf8')).toBe('{"title":"two"}');
  });

  it('without a token asks where, adds the ending, and can be called off', async () => {
    picks = [file('jobs/new'), null];
    expect(await save(null, 'New', '{}')).toMatchObject({ name: 'new.lidjob', how: 'written' });
    expect(readFileSync(file('jobs/new.lidjob'), 'utf8')).toBe('{}');
    expect(await saveAs('New', '{}')).toBeNull();
  });

  it('does not overwrite what another program changed, but puts back a file that has gone', async () => {
    picks = [file('jobs/hatch.lidjob'), file('jobs/hatch.lidjob')];
    const { token } = (await host.openJob())!;
    writeFileSync(file('jobs/hatch.lidjob'), '{"title":"theirs"}');
    expect((await issueFrom(() => save(token, 'a', '{"title":"mine"}', '{"title":"hatch"}'))).what).toMatch(
      /changed by another program/,
    );
    expect(readFileSync(file('jobs/hatch.lidjob'), 'utf8')).toBe('{"title":"theirs"}');
    await saveAs('a', '{"title":"mine"}'); // chosen again: the person means it
    expect(readFileSync(file('jobs/hatch.lidjob'), 'utf8')).toBe('{"title":"mine"}');
    rmSync(file('jobs/hatch.lidjob'));
    await save(token, 'a', '{"title":"again"}', '{"title":"mine"}');
    expect(readFileSync(file('jobs/hatch.lidjob'), 'utf8')).toBe('{"title":"again"}');
  });

  it('an ending that makes another file’s name is asked about first; refused, the place is asked for again', async () => {
    const old = () => readFileSync(file('jobs/hatch.lidjob'), 'utf8');
    picks = [file('jobs/hatch'), null];
    expect(await saveAs('hatch', '{"title":"mine"}')).toBeNull();
    expect([askedAbout, old()]).toEqual([['hatch.lidjob'], '{"title":"hatch"}']);
    picks = [file('jobs/hatch'), file('jobs/lid v1.2')];
    expect(await saveAs('hatch', '{}')).toMatchObject({ name: 'lid v1.2.lidjob' });
    expect(old()).toBe('{"title":"hatch"}');
    replace = true;
    picks = [file('jobs/hatch')];
    expect(await saveAs('hatch', '{"title":"mine"}')).toMatchObject({ name: 'hatch.lidjob' });
    expect(old()).toBe('{"title":"mine"}');
    writeFileSync(file('jobs/precious.pdf'), 'theirs');
    replace = false;
    picks = [file('jobs/precious'), null];
    expect(await host.exportFile('a.pdf', new Uint8Array([1]), 'application/pdf')).toBeNull();
    expect(readFileSync(file('jobs/precious.pdf'), 'utf8')).toBe('theirs');
  });

  it('many saves in a row end with the last one', async () => {
    picks = [file('jobs/hatch.lidjob')];
    const { token } = (await host.openJob())!;
    const texts = Array.from({ length: 20 }, (_, at) => JSON.stringify({ at, fill: 'x'.repeat((20 - at) * 50_000) }));
    await Promise.all(texts.map((text) => save(token, 'a', text)));
    expect(readFileSync(file('jobs/hatch.lidjob'), 'utf8')).toBe(texts.at(-1));
  });

  it('a file that grew too large for a job, or turned unreadable, counts as changed, not as gone', async () => {
    picks = [file('jobs/hatch.lidjob')];
    const { token } = (await host.openJob())!;
    truncateSync(file('jobs/hatch.lidjob'), 65 * 1024 * 1024);
    const held = '{"title":"hatch"}';
    expect((await issueFrom(() => save(token, 'a', '{}', held))).what).toMatch(/changed by another program/);
    expect(statSync(file('jobs/hatch.lidjob')).size).toBe(65 * 1024 * 1024);
    rmSync(file('jobs/hatch.lidjob'));
    mkdirSync(file('jobs/hatch.lidjob'));
    expect((await issueFrom(() => save(token, 'a', '{}', held))).what).toMatch(/changed by another program/);
  });

  it('says so when saving fails, and the file stays', async () => {
    picks = [file('jobs/no-such-folder/a.lidjob')];
    expect((await issueFrom(() => saveAs('a', '{}'))).what).toMatch(/is not there/);
  });

  it('counts a job as saved when only the list of recent jobs can’t be kept', async () => {
    rmSync(file('own'), { recursive: true });
    writeFileSync(file('own'), 'a file where the folder should be');
    picks = [file('jobs/b.lidjob')];
    const silenced = console.error;
    console.error = () => undefined;
    expect(await saveAs('b', '{}')).toMatchObject({ how: 'written' });
    console.error = silenced;
  });

  it('exports bytes where the person says', async () => {
    picks = [file('jobs/sheet'), null];
    expect(await host.exportFile('Sheet.pdf', new Uint8Array([1, 2, 3]), 'application/pdf')).toEqual({
      token: null,
      name: 'sheet.pdf',
      how: 'written',
      digest: null,
    });
    expect([...readFileSync(file('jobs/sheet.pdf'))]).toEqual([1, 2, 3]);
    expect(await host.exportFile('Sheet.pdf', new Uint8Array([1]), 'application/pdf')).toBeNull();
  });
});

describe('what ships, and what lies beside', () => {
  it('reads what ships, and nothing outside', async () => {
    expect(new TextDecoder().decode(await (host.readAsset('examples/one.lidjob') as Promise<Uint8Array>))).toBe(
      '{"title":"one"}',
    );
    for (const name of [
      '../jobs/hatch.lidjob',
      '/etc/passwd',
      'examples/../../jobs/hatch.lidjob',
      'examples',
      'a\\b',
      '%2e%2e/a',
    ])
      expect((await issueFrom(async () => host.readAsset(name))).what, name).toMatch(/shipped/);
  });

  it('reads pictures beside the job, and no other files', async () => {
    writeFileSync(file('jobs/photos/side.png'), 'png');
    writeFileSync(file('secret.png'), 'png');
    symlinkSync('../../secret.png', file('jobs/photos/link.png'));
    picks = [file('jobs/hatch.lidjob')];
    const token = (await host.openJob())!.token!;
    expect(await host.readBeside(token, 'photos/side.png')).toEqual(new Uint8Array(Buffer.from('png')));
    expect(await host.readBeside(token, 'photos/none.png')).toBeNull();
    expect(await host.readBeside(token, 'photos/link.png')).toBeNull();
    for (const name of ['../secret.png', 'hatch.lidjob', '/etc/passwd', 'photos'])
      expect((await issueFrom(async () => host.readBeside(token, name))).what, name).toMatch(/no picture/);
  });
});

describe('recent jobs', () => {
  it('lists the newest first, without doubles, at most as many as fit, across a restart', async () => {
    for (let number = 0; number < RECENT_LENGTH + 3; number++) {
      writeFileSync(file(`jobs/${number}.lidjob`), '{}');
      await host.openPath(file(`jobs/${number}.lidjob`));
    }
    await host.openPath(file('jobs/5.lidjob'));
    host = start();
    const list = (await host.recent()) as { name: string; where: string; token: string }[];
    expect(list).toHaveLength(RECENT_LENGTH);
    expect(list.slice(0, 3).map(({ name }) => name)).toEqual(['5.lidjob', '12.lidjob', '11.lidjob']);
    expect(list.filter(({ name }) => name === '5.lidjob')).toHaveLength(1);
    expect(list[0]!.where).toBe(`~${path.sep}jobs`);
    expect(await host.openRecent(list[1]!.token)).toMatchObject({ name: '12.lidjob' });
    rmSync(file('jobs/12.lidjob'));
    expect((await issueFrom(async () => host.openRecent(list[1]!.token))).what).toBe('"12.lidjob" is not there.');
  });

  it('starts anew from a torn list', async () => {
    writeFileSync(file('own/recent.json'), '[{"path":');
    expect(await host.recent()).toEqual([]);
    await host.openPath(file('jobs/hatch.lidjob'));
    expect(await host.recent()).toHaveLength(1);
  });

  it('trims and names folders by pure rules', () => {
    const long = Array.from({ length: RECENT_LENGTH }, (_, at) => ({ path: `/p${at}`, whenMs: at }));
    expect(withRecent(long, '/new', 99)).toHaveLength(RECENT_LENGTH);
    expect(withRecent(long, '/p3', 99)[0]).toEqual({ path: '/p3', whenMs: 99 });
    expect(folderWords('/home/me/a.lidjob', '/home/me')).toBe('~');
    expect(folderWords('/home/meagre/a.lidjob', '/home/me')).toBe('/home/meagre');
  });
});

describe('drafts', () => {
  it('are there after a kill, with a token for the place the job was saved last', async () => {
    const { token } = await host.openPath(file('jobs/hatch.lidjob'));
    await keep({ id: 'a', name: 'hatch', text: '{"title":"unsaved"}', whenMs: 5, token });
    await keep({ id: 'b', name: 'other', text: '{}', whenMs: 9, token: null });
    host = start(); // nothing was closed in between
    const [newest, older] = (await host.listDrafts()) as { id: string; text: string; token: string | null }[];
    expect(newest).toMatchObject({ id: 'b', token: null });
    expect(older).toMatchObject({ id: 'a', text: '{"title":"unsaved"}' });
    expect(older!.token).not.toBe(token);
    await save(older!.token, 'x', older!.text, '{"title":"hatch"}');
    expect(readFileSync(file('jobs/hatch.lidjob'), 'utf8')).toBe('{"title":"unsaved"}');
    await host.dropDraft('a');
    expect(await host.listDrafts()).toHaveLength(1);
  });

  it('a torn draft is left alone and hides no other', async () => {
    await keep({ id: 'good', name: 'g', text: '{}', whenMs: 1, token: null });
    writeFileSync(file('own/drafts/torn.json'), '{"id":"to');
    expect(((await host.listDrafts()) as { id: string }[]).map(({ id }) => id)).toEqual(['good']);
    expect(existsSync(file('own/drafts/torn.json'))).toBe(true);
  });

  it('many at once end with the last one, whole, and leave nothing else lying about', async () => {
    await Promise.all(
      Array.from({ length: 20 }, (_, at) => keep({ id: 'a', name: 'a', text: `{"n":${at}}`, whenMs: at, token: null })),
    );
    const kept = (await host.listDrafts()) as Draft[];
    expect(kept.map(({ text }) => text)).toEqual([19, 18, 17, 16, 15].map((n) => `{"n":${n}}`));
    expect(readdirSync(file('own/drafts')).filter((name) => name !== 'pictures')).toHaveLength(KEPT_STATES);
    await host.dropDraft('a');
    expect(readdirSync(file('own/drafts'))).toEqual(['pictures']);
  });

  it('keep their pictures once, as long as a state has them, and give them back', async () => {
    const [one, two] = ['1', '2'].map((digit) => `${digit.repeat(64)}.jpg`) as [string, string];
    expect(await host.missingPictures([one, two])).toEqual([one, two]);
    await keep({ id: 'a', whenMs: 1, pictures: [one, two] }, [
      [one, utf8('one')],
      [two, utf8('two')],
    ]);
    await keep({ id: 'b', whenMs: 1, pictures: [two] });
    expect(await host.missingPictures([one, two])).toEqual([]);
    host = start();
    expect(await host.draftPicture(one)).toEqual(utf8('one'));
    for (let whenMs = 2; whenMs < 2 + KEPT_STATES; whenMs++) await keep({ id: 'a', whenMs });
    expect(readdirSync(file('own/drafts/pictures'))).toEqual([two]); // no state of a has one any more
    await host.dropDraft('b');
    expect(readdirSync(file('own/drafts/pictures'))).toEqual([]);
    expect(await host.draftPicture(two)).toBeNull();
    expect(await host.draftPicture('../a.1.json')).toBeNull();
  });

  it('of an earlier edition are listed and dropped', async () => {
    mkdirSync(file('own/drafts'), { recursive: true });
    writeFileSync(file('own/drafts/old.json'), '{"id":"old","name":"o","text":"{}","whenMs":1,"path":null}');
    await keep({ id: 'new', whenMs: 2 });
    expect(await host.listDrafts()).toMatchObject([{ id: 'new' }, { id: 'old', pictures: [], digest: null }]);
    await host.dropDraft('old');
    expect(await host.listDrafts()).toHaveLength(1);
  });

  it('know what their file held, and the host what it holds now', async () => {
    const { token, digest } = await host.openPath(file('jobs/hatch.lidjob'));
    await keep({ id: 'a', token, digest });
    writeFileSync(file('jobs/hatch.lidjob'), '{"title":"newer"}');
    host = start();
    const [draft] = (await host.listDrafts()) as Draft[];
    expect(draft!.digest).toBe(sum('{"title":"hatch"}'));
    expect(await host.presentDigest(draft!.token!)).toBe(sum('{"title":"newer"}'));
    rmSync(file('jobs/hatch.lidjob'));
    expect(await host.presentDigest(draft!.token!)).toBeNull();
  });

  it('no id leaves the folder', async () => {
    const drafts = draftFolder(file('own/drafts'));
    for (const id of ['../x', 'a/b', '', 'a.b'])
      expect((await issueFrom(() => drafts.drop(id))).what, id).toMatch(/odd name/);
  });
});
