// What main does when the page asks. Paths stay here; the page gets tokens.
import { readFile, stat } from 'node:fs/promises';
import path from 'node:path';
import { fail } from '../core/error';
import { LARGEST_PICTURE_BYTES, sizeWords } from '../core/job';
import type { Draft, OpenedJob, RecentJob, Saved } from '../renderer/host/interface';
import { checkAssetName, checkPictureName, fileNameFor } from '../renderer/host/names';
import { checkUnchanged } from '../renderer/host/unchanged';
import type { Drafts } from './autosave';
import type { Ask } from './channels';
import { asLidwrightError } from './errors';
import { digestOf, fileDigest, type Journal, jobFileBytes, realInside, writeWhole } from './files';
import type { Handlers } from './ipc';
import type { Places } from './places';
import { oneAtATime } from '../renderer/host/queue';
import { folderWords, type RecentList } from './recent';

const JOB_FILTERS = [{ name: 'Lidwright job', extensions: ['lidjob'] }];

export interface Dialogs {
  /** A path, or null when called off. */
  askOpen(filters: { name: string; extensions: string[] }[]): Promise<string | null>;
  askSave(suggested: string, filters: { name: string; extensions: string[] }[]): Promise<string | null>;
  /** Asks whether a file of this name, which the save dialog did not see, may be replaced. */
  askReplace(name: string): Promise<boolean>;
}

export interface Surroundings {
  dialogs: Dialogs;
  journal: Journal | null;
  places: Places;
  recent: RecentList;
  drafts: Drafts;
  /** The built page's folder, with everything that ships. */
  assets: string;
  home: string;
  now: () => number;
}

export type FileHandlers = Pick<Handlers, Exclude<Ask, 'listening' | 'closeAnswer'>> & {
  /** Opens a job by path: for main's own use (start argument, second start), never for the page. */
  openPath(file: string): Promise<OpenedJob>;
};

export function fileHandlers({
  dialogs,
  journal,
  places,
  recent,
  drafts,
  assets,
  home,
  now,
}: Surroundings): FileHandlers {
  /** The list is a convenience: a job that was opened or saved must not count as failed because the list can't be kept. */
  const remember = (file: string): Promise<void> =>
    recent.add(path.resolve(file), now()).catch((error: unknown) => console.error(error));

  const openPath = async (file: string): Promise<OpenedJob> => {
    const bytes = await jobFileBytes(file);
    await remember(file);
    return { token: places.tokenFor(file), name: path.basename(file), bytes, digest: digestOf(bytes) };
  };

  /** Saves to one place come one after the other, the last one last. */
  const queues = new Map<string, ReturnType<typeof oneAtATime>>();
  const inTurn = <T>(file: string, work: () => Promise<T>): Promise<T> => {
    const place = path.resolve(file);
    const queue = queues.get(place) ?? oneAtATime();
    queues.set(place, queue);
    return queue(work);
  };

  const write = async (file: string, bytes: Uint8Array, look?: () => Promise<void>): Promise<Saved> => {
    await writeWhole(file, bytes, undefined, journal, look);
    await remember(file);
    return { token: places.tokenFor(file), name: path.basename(file), how: 'written', digest: digestOf(bytes) };
  };

  /** Where to save, with the right ending: a name that the ending makes another one is asked about like any other. */
  const askWhere = async (
    suggested: string,
    ending: string,
    filters: { name: string; extensions: string[] }[],
  ): Promise<string | null> => {
    for (;;) {
      const picked = await dialogs.askSave(suggested, filters);
      if (picked === null || picked.toLowerCase().endsWith(ending.toLowerCase())) return picked;
      const whole = picked + ending;
      const there = await stat(whole).then(
        () => true,
        () => false,
      );
      if (!there || (await dialogs.askReplace(path.basename(whole)))) return whole;
    }
  };

  const saveJobAs = async (name: string, bytes: Uint8Array): Promise<Saved | null> => {
    const picked = await askWhere(fileNameFor(name, '.lidjob'), '.lidjob', JOB_FILTERS);
    return picked === null ? null : inTurn(picked, () => write(picked, bytes));
  };

  return {
    openPath,

    openJob: async () => {
      const picked = await dialogs.askOpen(JOB_FILTERS);
      return picked === null ? null : openPath(picked);
    },

    recent: async (): Promise<RecentJob[]> =>
      (await recent.list()).map((entry) => ({
        token: places.tokenFor(entry.path),
        name: path.basename(entry.path),
        where: folderWords(entry.path, home),
        whenMs: entry.whenMs,
      })),

    openRecent: async (token) => openPath(places.pathOf(token)),

    saveJob: async (token, name, bytes, over) => {
      if (token === null) return saveJobAs(name, bytes);
      const file = places.pathOf(token);
      const look = (): Promise<void> => checkUnchanged(path.basename(file), over, () => fileDigest(file));
      return inTurn(file, async () => {
        await look();
        // and once more as late as can be: nothing renames on a condition
        return write(file, bytes, look);
      });
    },

    saveJobAs,

    presentDigest: async (token) => fileDigest(places.pathOf(token)),

    exportFile: async (name, bytes): Promise<Saved | null> => {
      const ending = path.extname(name);
      const filters =
        ending === '' ? [] : [{ name: `${ending.slice(1).toUpperCase()} file`, extensions: [ending.slice(1)] }];
      const file = await askWhere(fileNameFor(name, ending), ending, filters);
      if (file === null) return null;
      await inTurn(file, () => writeWhole(file, bytes, undefined, journal));
      return { token: null, name: path.basename(file), how: 'written', digest: null };
    },

    readAsset: async (name) => {
      const file = await realInside(assets, checkAssetName(name));
      if (file === null)
        return fail(`"${name}" is not among what was shipped.`, [], 'Build the program again with npm start.');
      return new Uint8Array(await readFile(file));
    },

    readBeside: async (token, name) => {
      const file = await realInside(path.dirname(places.pathOf(token)), checkPictureName(name));
      if (file === null) return null;
      try {
        if ((await stat(file)).size > LARGEST_PICTURE_BYTES)
          fail(
            `"${name}" is larger than ${sizeWords(LARGEST_PICTURE_BYTES)}.`,
            [],
            'Use a smaller copy of the picture.',
          );
        return new Uint8Array(await readFile(file));
      } catch (error) {
        throw asLidwrightError(error, name);
      }
    },

    missingPictures: (names) => drafts.missing(names),

    putDraft: async ({ token, ...draft }, pictures) => {
      await drafts.put({ ...draft, path: token === null ? null : places.pathOf(token) }, pictures);
    },

    listDrafts: async (): Promise<Draft[]> =>
      (await drafts.list()).map(({ path: file, ...draft }) => ({
        ...draft,
        token: file === null ? null : places.tokenFor(file),
      })),

    draftPicture: (name) => drafts.picture(name),

    dropDraft: (id) => drafts.drop(id),
  };
}
