// The host of a plain browser.
import { checkJobSize } from '../../core/job';
import {
  askLeave,
  download,
  fileOf,
  pickToRead,
  pickToWrite,
  pickWithInput,
  writeWhole,
  type FileHandle,
  type PickerWindow,
} from './browser-files';
import { browserDrafts } from './drafts';
import { fetchedBytes } from './fetched';
import type { Host, OpenedJob, Saved } from './interface';
import { indexedDbStore, type KeyStore } from './key-store';
import { checkAssetName, fileNameFor } from './names';
import { recentJobs, type KnownJob } from './recent-jobs';
import { checkUnchanged } from './unchanged';

const JOB_MIME = 'application/octet-stream'; // plain or packed; the name says what it is

/** SHA-256 of bytes, hex. */
export async function digestOf(bytes: Uint8Array<ArrayBuffer>): Promise<string> {
  const sum = new Uint8Array(await crypto.subtle.digest('SHA-256', bytes));
  return Array.from(sum, (byte) => byte.toString(16).padStart(2, '0')).join('');
}

/** The bytes of a file that was opened or dropped. Throws a LidwrightError before it reads one that is too large, or empty. */
export async function fileBytes(file: File): Promise<Uint8Array<ArrayBuffer>> {
  checkJobSize(file.name, file.size);
  return new Uint8Array(await file.arrayBuffer());
}

/** Digest of what lies behind a handle now; null when it has gone. Throws when it can't be read, or is too large for a job. */
async function digestAt(handle: FileHandle): Promise<string | null> {
  try {
    return await digestOf(await fileBytes(await handle.getFile()));
  } catch (cause) {
    if (cause instanceof DOMException && cause.name === 'NotFoundError') return null;
    throw cause;
  }
}

/**
 * The browser host: writes in place through the File System Access API where the browser has it, else downloads copies
 * and keeps the last of them in the browser.
 * @param store where to keep recent jobs and drafts; the browser's database unless a test brings its own
 */
export function browserHost(win: PickerWindow = window, store: KeyStore = indexedDbStore()): Host {
  const writes = typeof win.showOpenFilePicker === 'function' && typeof win.showSaveFilePicker === 'function';
  const jobs = recentJobs(store);
  // not there where a page came over plain http
  const locks = (win.navigator.locks as LockManager | undefined) ?? null;
  const newToken = (): string => win.crypto.randomUUID();
  const tokenFor = async (handle: FileHandle): Promise<string> => (await jobs.tokenOf(handle)) ?? newToken();

  const remember = (job: Omit<KnownJob, 'whenMs'>): Promise<void> => jobs.remember({ ...job, whenMs: Date.now() });

  const writeTo = async (
    token: string,
    handle: FileHandle,
    bytes: Uint8Array<ArrayBuffer>,
    over: string | null,
  ): Promise<Saved> => {
    await askLeave(handle, 'readwrite');
    // no browser writes on a condition: looked at as late as can be
    const look = (): Promise<void> => checkUnchanged(handle.name, over, () => digestAt(handle));
    const write = (): Promise<void> => writeWhole(handle, new Blob([bytes], { type: JOB_MIME }), look);
    // another tab must not write between the look and the writing
    await (locks ? locks.request(`lidwright-file-${token}`, write) : write());
    await remember({ token, name: handle.name, handle });
    return { token, name: handle.name, how: 'written', digest: await digestOf(bytes) };
  };

  const downloadJob = async (token: string, name: string, bytes: Uint8Array<ArrayBuffer>): Promise<Saved> => {
    const fileName = fileNameFor(name, '.lidjob');
    download(win, fileName, new Blob([bytes], { type: JOB_MIME }));
    await remember({ token, name: fileName, bytes });
    return { token, name: fileName, how: 'downloaded', digest: await digestOf(bytes) };
  };

  const saveJobAs: Host['saveJobAs'] = async (name, bytes) => {
    if (!writes) return downloadJob(newToken(), name, bytes);
    const handle = await pickToWrite(win, fileNameFor(name, '.lidjob'));
    return handle && writeTo(await tokenFor(handle), handle, bytes, null);
  };

  const openFile = async (token: string, file: File, handle?: FileHandle): Promise<OpenedJob> => {
    const bytes = await fileBytes(file);
    await remember({ token, name: file.name, ...(handle ? { handle } : { bytes }) });
    return { token, name: file.name, bytes, digest: await digestOf(bytes) };
  };

  return {
    kind: 'browser',
    canWriteInPlace: writes,

    async openJob() {
      const handle = writes ? await pickToRead(win) : null;
      const file = writes ? handle && (await fileOf(handle)) : await pickWithInput(win);
      return file && openFile(handle ? await tokenFor(handle) : newToken(), file, handle ?? undefined);
    },

    recent: () => jobs.list(),

    async openRecent(token) {
      const { handle, name, ...known } = await jobs.find(token);
      if (handle) {
        await askLeave(handle, 'read');
        return openFile(token, await fileOf(handle), handle);
      }
      const bytes = known.bytes ?? new TextEncoder().encode(known.text);
      return { token, name, bytes, digest: await digestOf(bytes) };
    },

    async saveJob(token, name, bytes, over) {
      if (token === null) return saveJobAs(name, bytes);
      const known = await jobs.find(token);
      return known.handle ? writeTo(token, known.handle, bytes, over) : downloadJob(token, known.name, bytes);
    },

    saveJobAs,

    async presentDigest(token) {
      const { handle, bytes, text } = await jobs.find(token);
      if (!handle) return digestOf(bytes ?? new TextEncoder().encode(text));
      await askLeave(handle, 'read');
      return digestAt(handle);
    },

    async exportFile(name, bytes, mime) {
      // A copy of the bytes: a Blob takes no view on shared memory.
      download(win, name, new Blob([Uint8Array.from(bytes)], { type: mime }));
      return { token: null, name, how: 'downloaded', digest: null };
    },

    async readAsset(name) {
      const address = new URL(checkAssetName(name), win.document.baseURI);
      return fetchedBytes((from) => win.fetch(from), address, name);
    },

    // A browser gives the one file that was picked, never its neighbours.
    readBeside: async () => null,

    ...browserDrafts(store, locks),

    onAskClose(isUnsaved) {
      win.addEventListener('beforeunload', (event) => {
        if (isUnsaved()) event.preventDefault();
      });
    },

    // A page in a browser is never asked from outside, and has no menu of its own window.
    onOpenAsked: () => undefined,
    onCommand: () => undefined,
  };
}
