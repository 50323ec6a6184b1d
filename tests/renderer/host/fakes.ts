// A browser's parts, as far as the browser host uses them.
import { vi } from 'vitest';
import type { FileHandle, PickerWindow } from '../../../renderer/host/browser-files';

export interface FakeFile extends FileHandle {
  content: string;
  /** What the person answers when asked for leave. */
  leave: PermissionState;
  /** The step that breaks. */
  breaks: 'create' | 'write' | 'close' | null;
  aborted: boolean;
}

/** A file on disk, behind a handle: content written is there only after close(), as the standard says. */
export function fakeFile(name: string, content: string): FakeFile {
  const file: FakeFile = {
    kind: 'file',
    name,
    content,
    leave: 'granted',
    breaks: null,
    aborted: false,
    isSameEntry: async (other) => other === file,
    getFile: async () => new File([file.content], name),
    queryPermission: async () => (file.leave === 'granted' ? 'granted' : 'prompt'),
    requestPermission: async () => file.leave,
    async createWritable() {
      const broken = (step: FakeFile['breaks']): void => {
        if (file.breaks === step) throw new DOMException('the disk is gone', 'InvalidStateError');
      };
      broken('create');
      let pending = '';
      return {
        async write(data: Blob) {
          broken('write');
          pending += await data.text();
        },
        async close() {
          broken('close');
          file.content = pending;
        },
        abort: async () => void (file.aborted = true),
      };
    },
  };
  return file;
}

export interface FakeBrowser {
  win: PickerWindow;
  /** What the person picks next; null calls off. */
  picks: (FakeFile | null)[];
  suggested: string[];
  downloads: { name: string; blob: Blob }[];
  /** The file chosen in a plain input; null cancels. */
  inputFile: File | null;
  listeners: Map<string, (event: { preventDefault(): void }) => void>;
  fetched: string[];
}

/** @param pickers whether the File System Access API is there */
export function fakeBrowser({ pickers }: { pickers: boolean }): FakeBrowser {
  const blobs = new Map<string, Blob>();
  vi.spyOn(URL, 'createObjectURL').mockImplementation((blob) => {
    const url = `blob:${blobs.size}`;
    blobs.set(url, blob as Blob);
    return url;
  });
  const browser: FakeBrowser = {
    picks: [],
    suggested: [],
    downloads: [],
    inputFile: null,
    listeners: new Map(),
    fetched: [],
    win: {} as PickerWindow,
  };
  const pick = async (): Promise<FakeFile> => {
    const picked = browser.picks.shift();
    if (!picked) throw new DOMException('The user aborted a request.', 'AbortError');
    return picked;
  };
  const element = (tag: string) => {
    const node = {
      href: '',
      download: '',
      files: [] as File[],
      on: new Map<string, () => void>(),
      addEventListener: (name: string, listener: () => void) => node.on.set(name, listener),
      remove: () => undefined,
      click() {
        if (tag === 'a') browser.downloads.push({ name: node.download, blob: blobs.get(node.href)! });
        else if (browser.inputFile) {
          node.files = [browser.inputFile];
          node.on.get('change')?.();
        } else node.on.get('cancel')?.();
      },
    };
    return node;
  };
  browser.win = {
    navigator: {},
    crypto: globalThis.crypto,
    setTimeout: () => 0,
    addEventListener: (name: string, listener: never) => browser.listeners.set(name, listener),
    document: { baseURI: 'http://127.0.0.1:1/', createElement: element, body: { append: () => undefined } },
    fetch: async (address: URL) => {
      browser.fetched.push(address.href);
      return address.pathname.endsWith('none') ? new Response('', { status: 404 }) : new Response('shipped');
    },
    ...(pickers
      ? {
          showOpenFilePicker: async () => [await pick()],
          showSaveFilePicker: async ({ suggestedName = '' } = {}) => {
            browser.suggested.push(suggestedName);
            return pick();
          },
        }
      : {}),
  } as unknown as PickerWindow;
  return browser;
}
