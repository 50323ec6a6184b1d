// Two tabs of the page over one disk and one store of the browser, all of which can fail, be slow or hang, and be killed at any
// moment; and a ledger of what must be there. The page's own code runs: actions, file queue, drafts, browser host. Made of
// fakes: the files behind handles, the database's tables, the locks, the clock.
import { AsyncLocalStorage } from 'node:async_hooks';
import { createHash } from 'node:crypto';
import { vi } from 'vitest';
import { type Job, readJob, setValue, writeJob } from '../../../core/job';
import type { FileHandle, PickerWindow } from '../../../renderer/host/browser-files';
import { browserHost } from '../../../renderer/host/browser-host';
import { type Locks, browserDrafts } from '../../../renderer/host/drafts';
import type { Draft } from '../../../renderer/host/interface';
import { type KeyStore, memoryStore } from '../../../renderer/host/key-store';
import { fileText } from '../../support/files';

/** "full": it refuses; "slow": it takes so long, half before it is done and half after; "hang": until it is mended. */
export type Fault = 'ok' | 'full' | 'hang' | { readonly slowMs: number };

/** The oldest edit that may be lost unsaid, ms. */
const OLDEST = 5000;

/** One run of a page, from its start to its kill. */
interface Life {
  dead: boolean;
}
const lives = new AsyncLocalStorage<Life>();
const never = new Promise<never>(() => undefined);

/** The page's modules, one instance a tab. */
export async function loadTab() {
  vi.resetModules();
  const files = await import('../../../renderer/state/files');
  const store = await import('../../../renderer/state/store');
  const { question } = await import('../../../renderer/state/ask');
  const { holdField } = await import('../../../renderer/state/unentered');
  return { files, store, question, holdField };
}
type Modules = Awaited<ReturnType<typeof loadTab>>;

/** A document as the person worked on it: its states with their times, and up to which of them nothing is owed. */
interface Doc {
  readonly states: { readonly atMs: number; readonly title: string }[];
  /** Saved, or dropped by the person's own word, up to this state. */
  settled: number;
  /** No page has it open: all of it must be there. */
  left: boolean;
}

interface Tab {
  readonly modules: Modules;
  life: Life;
  leave: () => void;
  /** Since when the page says that work is not kept. */
  toldMs: number | null;
  /** A field that is typed in, and whether it holds what can't be taken. */
  release: (() => void) | null;
  held: boolean;
  document: string;
}

const EXAMPLE = readJob(fileText('tests/fixtures/jobs/workboat-hatch.lidjob'));
/** A job as small as they come, so that an edit costs little. */
const SMALL: Job = {
  ...{ format: 'lidwright-job', version: 1, title: '', grip: EXAMPLE.grip, hinge: EXAMPLE.hinge },
  ...{ travel: EXAMPLE.travel, loadCases: [{ id: 'normal' }], masses: [], struts: [] },
  points: EXAMPLE.points.filter(({ id }) => [EXAMPLE.hinge.a, EXAMPLE.hinge.b, EXAMPLE.grip].includes(id)),
};
const bytesOf = (title: string): Uint8Array<ArrayBuffer> => new TextEncoder().encode(writeJob({ ...SMALL, title }));
const titles = new Map<string, string>();
const titleOf = (text: string): string => {
  const known = titles.get(text) ?? readJob(text).title;
  titles.set(text, known);
  return known;
};

/** Blobs that give their bytes at once. */
class PlainBlob {
  readonly bytes: Uint8Array<ArrayBuffer>;
  constructor(parts: readonly Uint8Array<ArrayBuffer>[]) {
    this.bytes = parts[0]!;
  }
  arrayBuffer = async (): Promise<ArrayBuffer> => this.bytes.slice().buffer;
}

/** Puts the globals in place that the world needs; to be called after the clock is faked. */
export function stubGlobals(): void {
  vi.stubGlobal('Blob', PlainBlob);
  vi.spyOn(crypto.subtle, 'digest').mockImplementation(
    async (_, data) =>
      Uint8Array.from(
        createHash('sha256')
          .update(data as Uint8Array)
          .digest(),
      ).buffer,
  );
  // what a killed page had in mind to do later it does not do
  const { setTimeout: later } = globalThis;
  vi.stubGlobal('setTimeout', (run: () => void, ms?: number) => {
    const life = lives.getStore();
    return later(() => (life ? !life.dead && lives.run(life, run) : run()), ms);
  });
}

export class World {
  readonly disk = new Map<string, Uint8Array<ArrayBuffer>>();
  private readonly raw: KeyStore = memoryStore();
  readonly faults: { disk: Fault; store: Fault } = { disk: 'ok', store: 'ok' };
  readonly docs = new Map<string, Doc>();
  readonly tabs: Tab[];
  /** What was found wrong. */
  readonly wrong: string[] = [];
  readonly counts = { lostTold: 0, lostYoung: 0, kills: 0, recovered: 0, saves: 0, asked: 0 };
  /** What the pickers and the question are answered. */
  picks = 'A';
  risky = false;
  private mended: (() => void)[] = [];
  private readonly held: { readonly name: string; readonly life: Life; free: () => void }[] = [];
  private readonly queued: { readonly name: string; readonly life: Life; take: () => void }[] = [];
  private edits = 0;

  constructor(modules: readonly Modules[]) {
    for (const name of ['A', 'B']) this.disk.set(name, bytesOf(name));
    this.tabs = modules.map((own) => ({
      ...{
        modules: own,
        life: { dead: true },
        leave: () => undefined,
        ...{ toldMs: null, release: null, held: false, document: '' },
      },
    }));
  }

  // --- what fails -----------------------------------------------------------------------------------------------------

  private after = (ms: number): Promise<void> => lives.exit(() => new Promise((done) => setTimeout(done, ms)));

  /** Does what is asked of the disk or the store, as far as it can: what is killed half-way may have been done. */
  private async work<T>(where: 'disk' | 'store', life: Life, name: string, effect: () => Promise<T>): Promise<T> {
    const fault = this.faults[where];
    if (life.dead) await never;
    if (fault === 'full') throw new DOMException(`no room for ${name}`, 'QuotaExceededError');
    if (fault === 'hang') await new Promise<void>((done) => this.mended.push(done));
    const half = typeof fault === 'object' ? fault.slowMs / 2 : 0;
    if (half > 0) await this.after(half);
    if (life.dead && fault === 'hang') await never;
    const value = await effect();
    if (half > 0) await this.after(half);
    if (life.dead) await never;
    return value;
  }

  setFault(where: 'disk' | 'store', fault: Fault): void {
    this.faults[where] = fault;
    if (fault !== 'hang') for (const go of this.mended.splice(0)) go();
  }

  // --- what a browser gives a page ------------------------------------------------------------------------------------

  private storeOf = (life: Life): KeyStore => ({
    get: (table, key) => this.work('store', life, table, () => this.raw.get(table, key)),
    all: (table) => this.work('store', life, table, () => this.raw.all(table)),
    keys: (table) => this.work('store', life, table, () => this.raw.keys(table)),
    change: (changes) => this.work('store', life, 'a change', () => this.raw.change(changes)),
  });

  /** @param asked the person has just chosen this place to save to */
  private handle(name: string, life: Life, asked = false): FileHandle {
    const file = (): File => {
      const bytes = this.disk.get(name);
      if (!bytes) throw new DOMException('gone', 'NotFoundError');
      return { name, size: bytes.length, arrayBuffer: async () => bytes.slice().buffer } as File;
    };
    // what the page last saw in the file since it began to write
    let looked: string | null = null;
    return {
      ...{ kind: 'file', name },
      isSameEntry: async (other) => other.name === name,
      getFile: () =>
        this.work('disk', life, name, async () => {
          looked = this.titleAt(name);
          return file();
        }),
      createWritable: async () => {
        let content: Uint8Array<ArrayBuffer> | null = null;
        return {
          write: async (data) => {
            content = new Uint8Array(await data.arrayBuffer());
            looked = null;
          },
          close: () =>
            this.work('disk', life, name, async () => {
              this.overwrites(name, asked, looked);
              asked = false;
              this.disk.set(name, content!);
            }),
          abort: async () => undefined,
        };
      },
    };
  }

  private titleAt(name: string): string {
    const bytes = this.disk.get(name);
    return bytes ? titleOf(new TextDecoder().decode(bytes)) : '';
  }

  /**
   * What somebody else wrote into a file, and no page has seen, is overwritten by the person's own word alone; but for what
   * comes between the last look, with everything written, and the file's being replaced: there no browser can look.
   */
  private overwrites(name: string, asked: boolean, looked: string | null): void {
    const title = this.titleAt(name);
    if (looked !== null && looked !== title) return;
    const seen = [...this.docs.values()].some(({ states }) => states.some((state) => state.title === title));
    if (title.startsWith('foreign') && !seen && !asked) this.wrong.push(`${title} in ${name} was overwritten unasked`);
  }

  private locksOf(life: Life): Locks {
    const request = <T>(name: string, ...rest: unknown[]): Promise<T> => {
      const run = rest.at(-1) as (lock: unknown) => Promise<T>;
      const free = (): boolean => !this.held.some((lock) => lock.name === name);
      const holding = async (): Promise<T> => {
        const lock = { name, life, free: (): void => undefined };
        this.held.push(lock);
        const over = new Promise<void>((done) => (lock.free = done));
        try {
          return await Promise.race([run(lock), over.then(() => never)]);
        } finally {
          this.unlock(lock);
        }
      };
      if (free()) return holding();
      if ((rest[0] as { ifAvailable?: boolean }).ifAvailable) return run(null);
      return new Promise((resolve, reject) =>
        this.queued.push({ name, life, take: () => void lives.run(life, () => holding().then(resolve, reject)) }),
      );
    };
    return { request, query: async () => ({ held: this.held.map(({ name }) => ({ name })) }) };
  }

  private unlock(lock: (typeof this.held)[number]): void {
    if (!this.held.includes(lock)) return;
    this.held.splice(this.held.indexOf(lock), 1);
    const next = this.queued.findIndex(({ name }) => name === lock.name);
    if (next >= 0) this.queued.splice(next, 1)[0]!.take();
  }

  private windowOf(life: Life): PickerWindow {
    return {
      navigator: { locks: this.locksOf(life) },
      crypto: globalThis.crypto,
      addEventListener: () => undefined,
      document: { baseURI: 'http://127.0.0.1/' },
      fetch: async () => new Response(bytesOf('example')),
      showOpenFilePicker: async () => [this.handle(this.picks, life)],
      showSaveFilePicker: async () => this.handle(this.picks, life, true),
    } as unknown as PickerWindow;
  }

  // --- what a person does ---------------------------------------------------------------------------------------------

  /** Runs something as a tab does it. */
  private in<T>(tab: Tab, run: () => T): T {
    return lives.run(tab.life, run);
  }

  async start(index: number): Promise<void> {
    const tab = this.tabs[index]!;
    const { files, store, question } = tab.modules;
    const { bench } = store;
    const life = { dead: false };
    Object.assign(tab, { life, toldMs: null, document: '' });
    bench.setState(bench.getInitialState(), true);
    const unwatch = [
      bench.subscribe(() => this.watch(tab)),
      question.subscribe(({ asked, answer }) => {
        if (!asked) return;
        this.counts.asked++;
        const doc = this.docs.get(tab.document);
        if (this.risky && doc) doc.settled = doc.states.length - 1; // by the person's own word
        queueMicrotask(() => answer(this.risky));
      }),
    ];
    const host = browserHost(this.windowOf(life), this.storeOf(life));
    const leave = await this.in(tab, () => this.whileFrozen(() => files.startFiles(host)));
    tab.leave = () => {
      leave();
      for (const stop of unwatch) stop();
    };
    this.watch(tab);
  }

  /** Waits for what a page does at its start, however slow the store is; the clock goes on meanwhile. */
  private async whileFrozen<T>(run: () => Promise<T>): Promise<T> {
    let over = false;
    const work = run().finally(() => (over = true));
    for (let turn = 0; !over && turn < 50; turn++) await this.wait(200);
    return work;
  }

  async kill(index: number): Promise<void> {
    const tab = this.tabs[index]!;
    await this.check();
    this.counts.kills++;
    tab.life.dead = true;
    tab.leave();
    tab.release?.();
    tab.release = null;
    for (const lock of this.held.filter(({ life }) => life === tab.life)) {
      lock.free();
      this.unlock(lock);
    }
    for (let i = this.queued.length - 1; i >= 0; i--) if (this.queued[i]!.life === tab.life) this.queued.splice(i, 1);
    const doc = this.docs.get(tab.document);
    if (doc) this.leaveBehind(doc, tab);
    await this.start(index);
  }

  /** What is not there after a kill is gone, and was young enough or told: what is there must stay. */
  private leaveBehind(doc: Doc, tab: Tab): void {
    const there = this.there(tab.document, doc);
    const gone = doc.states.splice(there + 1);
    if (gone.length > 0) this.counts[tab.toldMs === null ? 'lostYoung' : 'lostTold'] += gone.length;
    doc.left = true;
  }

  edit(index: number): void {
    const tab = this.tabs[index]!;
    const { edit, bench } = tab.modules.store;
    if (bench.getState().history.mark) return;
    this.in(tab, () => edit('Name it', (job) => setValue(job, { path: ['title'], value: `t${++this.edits}` })));
  }

  /** Types into a field without entering it; what can't be taken stays until it is given up. */
  type(index: number, good: boolean): void {
    const tab = this.tabs[index]!;
    tab.release?.();
    const letGo = tab.modules.holdField({
      label: 'Title',
      enter: () => {
        if (!good) return false;
        tab.release?.();
        this.edit(index);
        return true;
      },
    });
    tab.held = !good;
    tab.release = () => {
      tab.held = false;
      tab.release = null;
      letGo();
    };
  }

  escape = (index: number): void => this.tabs[index]!.release?.();

  undo(index: number, forth: boolean): void {
    const { undoStep, redoStep, bench } = this.tabs[index]!.modules.store;
    if (!bench.getState().history.mark) this.in(this.tabs[index]!, forth ? redoStep : undoStep);
  }

  /** Begins a drag, moves it, or ends it. */
  drag(index: number, ends: boolean): void {
    const tab = this.tabs[index]!;
    const { startDrag, moveDrag, finishDrag, bench } = tab.modules.store;
    this.in(tab, () => {
      if (!bench.getState().history.mark)
        startDrag({ kind: 'point', pointId: SMALL.grip, plane: 'side', from: [0, 0, 0] });
      moveDrag((job) => ({ ...job, title: `t${++this.edits}` }));
      if (ends) finishDrag('Drag');
    });
  }

  /** Begins a save; it may end later. */
  save(index: number, as: string | null): void {
    const tab = this.tabs[index]!;
    this.picks = as ?? this.picks;
    const { held } = tab;
    void this.in(tab, () => tab.modules.files.saveFile(as !== null)).then(() => {
      const refused = tab.modules.store.bench
        .getState()
        .notices.some(({ text }) => text.startsWith('Not saved: “Title”'));
      if (held && !refused) this.wrong.push('a save went through a field that holds what can’t be taken');
    });
  }

  open(index: number, name: string, risky: boolean): void {
    this.picks = name;
    this.risky = risky;
    const tab = this.tabs[index]!;
    if (tab.modules.store.bench.getState().history.mark) return;
    void this.in(tab, () => tab.modules.files.openFile());
  }

  /** Somebody else changes a file. */
  foreign(name: string): void {
    this.disk.set(name, bytesOf(`foreign ${++this.edits}`));
  }

  /** Kills both pages; with all well again, what was left behind is still there, and nothing of what was saved. */
  async end(): Promise<void> {
    for (const where of ['disk', 'store'] as const) this.setFault(where, 'ok');
    await this.wait(0);
    for (const index of this.tabs.keys()) await this.kill(index);
    await this.wait(10_000);
    for (const tab of this.tabs) {
      tab.life.dead = true;
      tab.leave();
    }
  }

  private drafts = (): Promise<Draft[]> => browserDrafts(this.raw, null).listDrafts();

  /** Brings the newest draft back that the tab is offered, or throws it away. */
  async recover(index: number, how: 'back' | 'copy' | 'drop'): Promise<void> {
    const tab = this.tabs[index]!;
    if (tab.modules.store.bench.getState().history.mark) return;
    const open = new Set(this.tabs.map(({ document }) => document));
    const draft = (await this.drafts()).find(({ id }) => !open.has(id));
    if (!draft) return;
    const doc = this.docs.get(draft.id);
    const title = titleOf(draft.text);
    if (doc && doc.states.length - 1 > doc.settled && !doc.states.some((s) => s.title === title))
      this.wrong.push(`a draft holds ${title}, which nobody made`);
    if (how === 'drop') {
      if (this.faults.store !== 'ok') return;
      if (doc) doc.settled = doc.states.length - 1;
      await this.raw.change(
        (await this.raw.keys('drafts'))
          .filter((key) => key.startsWith(draft.id))
          .map((key) => ({ table: 'drafts', key })),
      );
      return;
    }
    this.risky = false;
    void this.in(tab, () => tab.modules.files.bringBack(draft, how === 'copy')).then((done) => {
      if (done) this.counts.recovered++;
    });
  }

  /** Lets time pass; what a page thinks of meanwhile is done. */
  async wait(ms: number): Promise<void> {
    for (let left = ms; left >= 0; left -= 250) {
      await vi.advanceTimersByTimeAsync(Math.min(left, 250));
      await this.check();
    }
  }

  titleIn = (name: string): string => titleOf(new TextDecoder().decode(this.disk.get(name)));
  shown = (index: number): string => this.tabs[index]!.modules.store.presentJob().title;

  // --- the ledger -----------------------------------------------------------------------------------------------------

  private notices = new WeakSet<object>();

  /** Writes down what a tab shows after each change of its state. */
  private watch(tab: Tab): void {
    const { history, file, notices } = tab.modules.store.bench.getState();
    for (const notice of notices) {
      if (this.notices.has(notice)) continue;
      this.notices.add(notice);
      if (/not being kept aside/.test(notice.text)) tab.toldMs = Date.now();
      if (/kept aside again/.test(notice.text)) tab.toldMs = null;
    }
    if (file.draftId === '') return;
    if (file.draftId !== tab.document) {
      const before = this.docs.get(tab.document);
      if (before) before.left = true;
      tab.toldMs = null;
      tab.document = file.draftId;
    }
    const { title } = history.mark ?? history.present;
    const doc = this.docs.get(file.draftId) ?? { states: [], settled: -1, left: false };
    this.docs.set(file.draftId, doc);
    doc.left = false;
    if (doc.states.at(-1)?.title !== title) doc.states.push({ atMs: Date.now(), title });
    if (history.present !== file.saved || history.mark) return;
    // the page says "saved"
    if (doc.settled < doc.states.length - 1 && file.token !== null) this.counts.saves++;
    doc.settled = doc.states.length - 1;
    tab.toldMs = null;
  }

  private stored = new Map<string, Set<string>>();
  /** Looks into the store past all faults. */
  private async look(): Promise<void> {
    this.stored = new Map();
    for (const { id, text } of await this.drafts())
      this.stored.set(id, (this.stored.get(id) ?? new Set()).add(titleOf(text)));
  }

  /** The newest state of a document that is there, or with which nothing is owed. */
  private there(id: string, { states, settled }: Doc): number {
    const kept = this.stored.get(id);
    return Math.max(
      settled,
      states.findLastIndex(({ title }) => kept?.has(title)),
    );
  }

  /** Writes down what is neither there nor told in time. */
  private async check(): Promise<void> {
    await this.look();
    const onDisk = new Set([...this.disk.values()].map((bytes) => titleOf(new TextDecoder().decode(bytes))));
    for (const [id, doc] of this.docs) {
      // what has come onto the disk is saved, whether the page lives to say so or not
      doc.settled = Math.max(
        doc.settled,
        doc.states.findLastIndex(({ title }) => onDisk.has(title)),
      );
      const next = this.there(id, doc) + 1;
      const owed = doc.states[next];
      if (!owed) continue;
      const tab = this.tabs.find(({ document, life }) => document === id && !life.dead);
      const ageMs = Date.now() - owed.atMs;
      if (doc.left) this.wrong.push(`${owed.title} was left behind and is not there`);
      else if (ageMs >= OLDEST && (!tab || tab.toldMs === null || tab.toldMs > owed.atMs + OLDEST))
        this.wrong.push(`${owed.title} is ${ageMs} ms old, is not there, and nobody was told in time`);
    }
  }
}
