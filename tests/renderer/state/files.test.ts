// The page's file work against a host that is slow, or fails: what is on the disk, what the page says, what is kept.
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { type Job, picturesBytes, readJob, readJobFile, setValue, writeJob } from '../../../core/job';
import { question } from '../../../renderer/state/ask';
import {
  bringBack,
  openDropped,
  openExample,
  openFile,
  openRecentFile,
  saveFile,
  standingOf,
  startFiles,
} from '../../../renderer/state/files';
import { bench, cancelDrag, edit, finishDrag, isUnsaved, moveDrag, startDrag } from '../../../renderer/state/store';
import { relationStore } from '../../../renderer/state/relations';
import { goTo } from '../../../renderer/state/session';
import { holdField } from '../../../renderer/state/unentered';
import { fileText } from '../../support/files';
import { type SlowHost, held, slowHost, sum, utf8 } from './slow-host';

let host: SlowHost;
let leave: () => void;
const state = () => bench.getState();
const titled = (title: string): string =>
  writeJob({ ...readJob(fileText('tests/fixtures/jobs/workboat-hatch.lidjob')), title });
const setTitle = (title: string): boolean => edit('Name it', (job) => setValue(job, { path: ['title'], value: title }));
const onDisk = (name: string): string => readJobFile(name, host.disk.get(name)!).job.title;
const said = (): string[] => state().notices.map(({ text }) => text);
const drafted = (): string[] => [...host.drafts.values()].map(({ text }) => readJob(text).title);

/** Until something is so, without the clock: sums are made in another thread. */
async function until(isSo: () => boolean): Promise<void> {
  for (let turn = 0; !isSo() && turn < 1e5; turn++) await new Promise((resolve) => setImmediate(resolve));
}

beforeEach(async () => {
  vi.useFakeTimers({ toFake: ['setTimeout', 'clearTimeout', 'Date'] });
  host = slowHost();
  for (const name of ['A', 'B']) host.disk.set(name, utf8(titled(name)));
  leave = await startFiles(host);
  await openRecentFile('A');
  host.drafts.clear(); // what the test before left unsaved was kept
  host.pictures.clear();
  bench.setState({ notices: [] });
});
afterEach(() => {
  leave();
  question.getState().answer(false);
  vi.useRealTimers();
});

describe('file work in one queue, bound to its document', () => {
  it('what is opened while a save goes on never gets the saved one’s name, and the save never its content', async () => {
    const slow = held();
    host.gate = (what) => (what === 'write' ? slow.promise : Promise.resolve());
    setTitle('A mended');
    const saving = saveFile();
    const opening = openRecentFile('B');
    await vi.advanceTimersByTimeAsync(100);
    slow.open();
    await Promise.all([saving, opening]);
    expect([state().file.name, state().history.present.title]).toEqual(['B', 'B']);
    expect([onDisk('A'), onDisk('B')]).toEqual(['A mended', 'B']);
    setTitle('B mended');
    await saveFile();
    expect([onDisk('A'), onDisk('B')]).toEqual(['A mended', 'B mended']);
  });

  it('a save that fails after the next job was asked for leaves a draft behind', async () => {
    const slow = held();
    host.gate = (what) => (what === 'write' ? slow.promise : Promise.resolve());
    setTitle('A mended');
    const both = [saveFile(), openRecentFile('B')];
    slow.fail(new Error('the disk is gone'));
    await Promise.all(both);
    expect(state().file.name).toBe('B');
    expect([onDisk('A'), drafted()]).toEqual(['A', ['A mended']]);
    expect(said().join()).toMatch(/the disk is gone/);
  });

  it('two saves in a row end with the last, however slow the first is', async () => {
    const first = held();
    let writes = 0;
    host.gate = (what) => (what === 'write' && ++writes === 1 ? first.promise : Promise.resolve());
    setTitle('one');
    const saves = [saveFile()];
    setTitle('two');
    saves.push(saveFile());
    await vi.advanceTimersByTimeAsync(50);
    first.open();
    await Promise.all(saves);
    expect([writes, onDisk('A'), isUnsaved(state())]).toEqual([2, 'two', false]);
  });

  it('a first save that is asked where twice asks once more only if the first was called off', async () => {
    await openExample('machine-guard.lidjob');
    host.where = 'C';
    await Promise.all([saveFile(), saveFile()]);
    expect([...host.disk.keys()]).toEqual(['A', 'B', 'C']);
    expect(state().file.token).toBe('C');
  });

  it('a save in the middle of a drag writes what was there before it, and calls the drag not saved', async () => {
    setTitle('before');
    startDrag({ kind: 'point', pointId: 's1-lid', plane: 'side', from: [0, 0, 0] });
    moveDrag((job) => ({ ...job, title: 'on the way' }));
    await saveFile();
    expect([onDisk('A'), isUnsaved(state())]).toEqual(['before', true]);
    cancelDrag();
    expect(isUnsaved(state())).toBe(false);
  });

  it('what is edited while a save goes on is not called saved, and is kept', async () => {
    const slow = held();
    host.gate = (what) => (what === 'write' ? slow.promise : Promise.resolve());
    setTitle('one');
    const saving = saveFile();
    setTitle('two');
    slow.open();
    await saving;
    expect([onDisk('A'), isUnsaved(state())]).toEqual(['one', true]);
    await vi.advanceTimersByTimeAsync(1500);
    expect(drafted()).toEqual(['two']);
    await saveFile();
    expect([onDisk('A'), isUnsaved(state()), drafted()]).toEqual(['two', false, []]);
  });

  it('a file that somebody else changed is not overwritten, by a second save neither', async () => {
    setTitle('mine');
    host.disk.set('A', utf8(titled('theirs')));
    await saveFile();
    await saveFile();
    expect([onDisk('A'), isUnsaved(state())]).toEqual(['theirs', true]);
    expect(state().notices).toMatchObject(
      [{ tone: 'bad', times: 2, text: /changed by another program/ }].map((n) => ({
        ...n,
        text: expect.stringMatching(n.text),
      })),
    );
  });

  it('opening through the list of files does not hold up a save', async () => {
    const never = held();
    host.openJob = async () => (await never.promise, null);
    void openFile();
    setTitle('mended');
    await saveFile();
    expect(onDisk('A')).toBe('mended');
  });

  it('pictures in a job make its file a ZIP, and what else lay in it is written back', async () => {
    const photo = {
      ...readJob(titled('x')).photos![0]!,
      source: { inside: `data:image/jpeg;base64,${btoa('picture')}` },
    };
    edit('Lay one', (job) => ({ ...job, photos: [photo] }) as Job);
    bench.setState((s) => ({ file: { ...s.file, others: new Map([['notes.txt', utf8('rope')]]) } }));
    await saveFile();
    expect([...host.disk.get('A')!.slice(0, 2)]).toEqual([0x50, 0x4b]);
    await openRecentFile('A');
    expect(picturesBytes(state().history.present)).toBeGreaterThan(0);
    expect(state().file.others!.get('notes.txt')).toEqual(utf8('rope'));
  });
});

describe('drop and open share one path', () => {
  const file = (bytes: Uint8Array<ArrayBuffer>, size = bytes.length): File =>
    ({ name: 'x.lidjob', size, arrayBuffer: async () => bytes.buffer }) as unknown as File;

  it('a dropped job opens, and saving asks where', async () => {
    await openDropped(file(utf8(titled('dropped'))));
    expect(state()).toMatchObject({
      file: { name: 'x.lidjob', token: null },
      history: { present: { title: 'dropped' } },
    });
  });

  it('one that is too large is not read, and one that is no UTF-8 is told where', async () => {
    const unread = { name: 'x.lidjob', size: 65 * 1024 * 1024, arrayBuffer: () => Promise.reject(new Error('read')) };
    await openDropped(unread as unknown as File);
    const bytes = utf8(titled('Lüke'));
    const at = bytes.indexOf(0xc3);
    await openDropped(file(Uint8Array.from([...bytes.subarray(0, at), 0xfc, ...bytes.subarray(at + 2)])));
    expect(said()).toEqual([
      expect.stringMatching(/65 MiB long; a job may be 64 MiB at most/),
      expect.stringMatching(new RegExp(`not UTF-8 \\(at byte ${at}\\)`)),
    ]);
    expect(state().file.name).toBe('A');
  });
});

describe('drafts', () => {
  it('are kept at least every 5 s while somebody edits all the time', async () => {
    const seen: number[] = [];
    for (let second = 0; second < 30; second++) {
      setTitle(`at ${second}`);
      await vi.advanceTimersByTimeAsync(1000);
      seen.push(second - Number(/\d+/.exec(drafted()[0] ?? '-99')![0]));
    }
    expect(Math.max(...seen.slice(5))).toBeLessThanOrEqual(4);
  });

  it('are kept in a drag that goes on for long: what was there before it', async () => {
    setTitle('before');
    startDrag({ kind: 'point', pointId: 's1-lid', plane: 'side', from: [0, 0, 0] });
    moveDrag((job) => ({ ...job, title: 'on the way' }));
    await vi.advanceTimersByTimeAsync(5000);
    expect(drafted()).toEqual(['before']);
    moveDrag((job) => ({ ...job, title: 'there' }));
    finishDrag('Drag');
    await vi.advanceTimersByTimeAsync(1500);
    expect(drafted()).toEqual(['there']);
    cancelDrag();
  });

  it('one that fails is told at once, tried again, and told when it is kept again', async () => {
    let full = true;
    host.gate = async (what) => {
      if (what === 'draft' && full) throw new Error('no room');
    };
    setTitle('mine');
    await vi.advanceTimersByTimeAsync(5000);
    expect(said()).toEqual([expect.stringMatching(/not being kept aside: no room/)]);
    expect(host.puts).toBeGreaterThan(1);
    full = false;
    await vi.advanceTimersByTimeAsync(2500);
    expect(drafted()).toEqual(['mine']);
    expect(said()).toEqual(['Unsaved work is kept aside again.']);
  });

  it('a store that never answers is told within 5 s of the first edit', async () => {
    host.gate = (what) => (what === 'draft' ? new Promise(() => undefined) : Promise.resolve());
    setTitle('mine');
    await vi.advanceTimersByTimeAsync(5000);
    expect(said()).toEqual([expect.stringMatching(/not being kept aside/)]);
  });

  it('where none can be kept, opening another job asks before it drops this one', async () => {
    host.gate = async (what) => {
      if (what === 'draft') throw new Error('blocked');
    };
    setTitle('mine');
    let opening = openRecentFile('B');
    await vi.advanceTimersByTimeAsync(5000);
    expect(question.getState().asked?.what).toMatch(/can’t be kept aside\. Drop them\?/);
    question.getState().answer(false);
    await opening;
    expect(state().history.present.title).toBe('mine');
    opening = openRecentFile('B');
    await vi.advanceTimersByTimeAsync(5000);
    question.getState().answer(true);
    await opening;
    expect(state().history.present.title).toBe('B');
  });

  it('pictures are kept beside, once, and come back with what else lay in the ZIP', async () => {
    const photo = {
      ...readJob(titled('x')).photos![0]!,
      source: { inside: `data:image/png;base64,${btoa('picture')}` },
    };
    edit('Lay two', (job) => ({ ...job, photos: [photo, { ...photo, id: 'again' }] }) as Job);
    bench.setState((s) => ({ file: { ...s.file, others: new Map([['notes.txt', utf8('rope')]]) } }));
    const whole = writeJob(state().history.present);
    await vi.advanceTimersByTimeAsync(1500);
    await until(() => host.drafts.size > 0);
    expect([...host.pictures.keys()]).toEqual([`${sum(utf8('picture'))}.png`, `${sum(utf8('rope'))}.bin`]);
    const [draft] = host.drafts.values();
    expect(draft!.text).not.toContain('base64');
    await openRecentFile('B');
    expect(await bringBack(draft!, false)).toBe(true);
    expect(writeJob(state().history.present)).toBe(whole);
    expect(state().file.others!.get('notes.txt')).toEqual(utf8('rope'));
  });

  it('knows whether the file is newer, and as a copy overwrites nothing', async () => {
    setTitle('mine');
    await vi.advanceTimersByTimeAsync(1500);
    const [draft] = host.drafts.values();
    expect(await standingOf(draft!)).toBe('same');
    host.disk.set('A', utf8(titled('newer')));
    expect(await standingOf(draft!)).toBe('newer');
    await openRecentFile('B');
    // brought back in its place it would still not overwrite what it never saw
    await bringBack(draft!, false);
    await saveFile();
    expect(onDisk('A')).toBe('newer');
    await bringBack(draft!, true);
    host.where = 'copy';
    await saveFile();
    expect([onDisk('A'), onDisk('copy'), host.drafts.size]).toEqual(['newer', 'mine', 0]);
    host.disk.delete('A');
    expect(await standingOf(draft!)).toBe('same');
    expect(await standingOf({ ...draft!, token: null })).toBe('same');
    host.presentDigest = () => Promise.reject(new Error('locked'));
    expect(await standingOf(draft!)).toBe('unknown');
  });

  it('bringing one back keeps what is open', async () => {
    setTitle('mine');
    await vi.advanceTimersByTimeAsync(1500);
    const [draft] = host.drafts.values();
    await openRecentFile('B');
    setTitle('B mended');
    await bringBack(draft!, false);
    expect(drafted().sort()).toEqual(['B mended', 'mine']);
  });
});

describe('what is typed and not entered', () => {
  it('is entered before a save; what can’t be taken stops it, by name', async () => {
    let good = true;
    const letGo = holdField({ label: 'Height', enter: () => good && setTitle('typed') });
    await saveFile();
    expect([onDisk('A'), isUnsaved(state())]).toEqual(['typed', false]);
    good = false;
    setTitle('more');
    await saveFile();
    expect(onDisk('A')).toBe('typed');
    expect(said().at(-1)).toMatch(/Not saved: “Height” holds what can’t be taken/);
    await openRecentFile('B');
    expect(state().file.name).toBe('A');
    letGo();
    await saveFile();
    expect(onDisk('A')).toBe('more');
  });

  it('is entered before another stage is shown; what can’t be taken keeps the stage', () => {
    goTo('place');
    let good = false;
    let shown = 0;
    const letGo = holdField({ label: 'Height', enter: () => good && setTitle('typed'), show: () => shown++ });
    goTo('weigh');
    expect([state().stage, shown, said().at(-1)]).toEqual(['place', 1, expect.stringMatching(/^Not left: “Height”/)]);
    goTo('place'); // nothing is left
    expect(said()).toHaveLength(1);
    good = true;
    goTo('weigh');
    expect([state().stage, state().history.present.title]).toEqual(['weigh', 'typed']);
    letGo();
  });

  it('waits for the relations where they are asked first, and saves what they let pass', async () => {
    let waiting = true;
    const letGo = holdField({ label: 'Height', enter: () => !waiting && setTitle('checked') });
    relationStore.setState({ asking: 'Set height' });
    const saving = saveFile();
    await vi.advanceTimersByTimeAsync(100);
    expect(onDisk('A')).toBe('A');
    waiting = false;
    relationStore.setState({ asking: null });
    await vi.advanceTimersByTimeAsync(100);
    await saving;
    expect([onDisk('A'), said().at(-1)]).toEqual(['checked', 'Saved A.']);
    letGo();
  });

  it('counts as unsaved when the page is closed', () => {
    expect(host.isUnsaved()).toBe(false);
    const letGo = holdField({ label: 'Height', enter: () => false });
    expect(host.isUnsaved()).toBe(true);
    letGo();
    const entered = holdField({ label: 'Height', enter: () => setTitle('typed') });
    expect(host.isUnsaved()).toBe(true);
    entered();
  });
});
