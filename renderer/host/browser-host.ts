// The host of a plain browser.
import { fail } from '../../core/error';
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
import type { Host, OpenedJob, Saved } from './interface';
import { checkJobSize, jobText } from './job-bytes';
import { indexedDbStore, type KeyStore } from './key-store';
import { checkAssetName, fileNameFor } from './names';
import { recentJobs, type KnownJob } from './recent-jobs';

const JOB_MIME = 'application/json';

/**
 * The browser host: writes in place through the File System Access API where the browser has it, else downloads copies
 * and keeps the last of them in the browser.
 * @param store where to keep recent jobs and drafts; the browser's database unless a test brings its own
 */
export function browserHost(win: PickerWindow = window, store: KeyStore = indexedDbStore(() => win.indexedDB)): Host {
  const writes = typeof win.showOpenFilePicker === 'function' && typeof win.showSaveFilePicker === 'function';
  const jobs = recentJobs(store);
  const drafts = browserDrafts(store, win.navigator.locks ?? null);
  const newToken = (): string => win.crypto.randomUUID();
  const tokenFor = async (handle: FileHandle): Promise<string> => (await jobs.tokenOf(handle)) ?? newToken();

  const read = async (file: File): Promise<string> => {
    checkJobSize(file.name, file.size); // before reading: a huge file must not fill the memory first
    return jobText(file.name, new Uint8Array(await file.arrayBuffer()));
  };

  const remember = (job: Omit<KnownJob, 'whenMs'>): Promise<void> => jobs.remember({ ...job, whenMs: Date.now() });

  const writeTo = async (token: string, handle: FileHandle, text: string): Promise<Saved> => {
    await askLeave(handle, 'readwrite');
    await writeWhole(handle, new Blob([text], { type: JOB_MIME }));
    await remember({ token, name: handle.name, handle });
    return { token, name: handle.name, how: 'written' };
  };

  const downloadJob = async (token: string, name: string, text: string): Promise<Saved> => {
    const fileName = fileNameFor(name, '.lidjob');
    download(win, fileName, new Blob([text], { type: JOB_MIME }));
    await remember({ token, name: fileName, text });
    return { token, name: fileName, how: 'downloaded' };
  };

  const saveJobAs = async (name: string, text: string): Promise<Saved | null> => {
    if (!writes) return downloadJob(newToken(), name, text);
    const handle = await pickToWrite(win, fileNameFor(name, '.lidjob'));
    return handle && writeTo(await tokenFor(handle), handle, text);
  };

  const openHandle = async (token: string, handle: FileHandle): Promise<OpenedJob> => {
    const file = await fileOf(handle);
    const text = await read(file);
    await remember({ token, name: file.name, handle });
    return { token, name: file.name, text };
  };

  return {
    kind: 'browser',
    canWriteInPlace: writes,

    async openJob() {
      if (writes) {
        const handle = await pickToRead(win);
        return handle && openHandle(await tokenFor(handle), handle);
      }
      const file = await pickWithInput(win);
      if (file === null) return null;
      const [token, text] = [newToken(), await read(file)];
      await remember({ token, name: file.name, text });
      return { token, name: file.name, text };
    },

    recent: () => jobs.list(),

    async openRecent(token) {
      const known = await jobs.find(token);
      if (known.handle) {
        await askLeave(known.handle, 'read');
        return openHandle(token, known.handle);
      }
      return { token, name: known.name, text: known.text ?? '' };
    },

    async saveJob(token, name, text) {
      if (token === null) return saveJobAs(name, text);
      const known = await jobs.find(token);
      return known.handle ? writeTo(token, known.handle, text) : downloadJob(token, known.name, text);
    },

    saveJobAs,

    async exportFile(name, bytes, mime) {
      // A copy of the bytes: a Blob takes no view on shared memory.
      download(win, name, new Blob([Uint8Array.from(bytes)], { type: mime }));
      return { token: null, name, how: 'downloaded' };
    },

    async readAsset(name) {
      const address = new URL(checkAssetName(name), win.document.baseURI);
      const response = await win
        .fetch(address)
        .catch((cause: unknown) =>
          fail(
            `"${name}" could not be fetched (${cause instanceof Error ? cause.message : String(cause)}).`,
            [],
            'Is "npm start" still running? Start it again and reload the page.',
          ),
        );
      if (!response.ok)
        fail(
          `"${name}" is not among what was shipped (${response.status}).`,
          [],
          'Build the program again with npm start.',
        );
      return new Uint8Array(await response.arrayBuffer());
    },

    // A browser gives the one file that was picked, never its neighbours.
    readBeside: async () => null,

    putDraft: (draft) => drafts.put(draft),
    listDrafts: () => drafts.list(),
    dropDraft: (id) => drafts.drop(id),

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
