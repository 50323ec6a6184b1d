// Reading jobs and writing files so that a crash at any instant leaves the old file or the new one, whole.
import { createHash, randomBytes } from 'node:crypto';
import * as nodeFs from 'node:fs/promises';
import path from 'node:path';
import { fail } from '../core/error';
import { checkJobSize } from '../core/job';
import { asLidwrightError } from './errors';

/** What atomic writing uses of the file system; a test brings one that fails on purpose. */
export type WritingFs = Pick<typeof nodeFs, 'open' | 'rename' | 'unlink' | 'stat' | 'readlink' | 'realpath' | 'access'>;

/** Where the names of temporary files are noted before they are made, so that a killed write leaves nothing for ever. */
export interface Journal {
  begun(temporary: string): Promise<void>;
}

const MAX_LINKS = 16;

/** Follows symlinks to the place where the content lies or would lie, so that saving keeps the link. */
async function throughLinks(file: string, fs: WritingFs): Promise<string> {
  let place = path.resolve(file);
  for (let hops = 0; hops < MAX_LINKS; hops++) {
    try {
      const link = await fs.readlink(place);
      // a relative link counts from where its folder really lies, which may be behind a link itself
      place = path.resolve(await fs.realpath(path.dirname(place)), link);
    } catch {
      return place; // no link, or nothing there yet
    }
  }
  return fail(`"${file}" is a link that leads back to itself.`, [], 'Name the file itself.');
}

/** The present file's mode, or null when there is none; throws for a folder and for a file that may not be written. */
async function presentMode(file: string, fs: WritingFs): Promise<number | null> {
  let facts;
  try {
    facts = await fs.stat(file);
  } catch (error) {
    if ((error as { code?: string }).code === 'ENOENT') return null;
    throw error;
  }
  if (facts.isDirectory()) fail(`"${file}" is a folder.`, [], 'Name a file.');
  if (!facts.isFile()) fail(`"${file}" is no ordinary file.`, [], 'Name a file.');
  await fs.access(file, nodeFs.constants.W_OK); // a rename would replace a write-protected file without a word
  return facts.mode & 0o777;
}

/** Makes the new name itself last, where the system can (Windows can't open folders, and needs not). */
async function syncFolder(folder: string, fs: WritingFs): Promise<void> {
  try {
    const handle = await fs.open(folder, 'r');
    try {
      await handle.sync();
    } finally {
      await handle.close();
    }
  } catch {
    // The file is whole either way; only its name may fall back to the old content after a power cut.
  }
}

/**
 * Writes the file whole: a temporary one beside it, flushed, renamed over it, the folder flushed. Keeps an existing
 * file's mode; writes through a symlink to its target.
 * @param journal is told the temporary file's name before it is made
 * @param look is the last thing before the renaming; what it throws leaves the file as it was
 * @returns whether a file was replaced
 * @throws LidwrightError; the old file is then as it was
 */
export async function writeWhole(
  file: string,
  content: Uint8Array | string,
  fs: WritingFs = nodeFs,
  journal: Journal | null = null,
  look?: () => Promise<void>,
): Promise<'new' | 'replaced'> {
  try {
    const target = await throughLinks(file, fs);
    const mode = await presentMode(target, fs);
    const folder = path.dirname(target);
    const temporary = path.join(folder, `.${path.basename(target).slice(0, 80)}.${randomBytes(6).toString('hex')}.tmp`);
    await journal?.begun(temporary);
    try {
      const handle = await fs.open(temporary, 'wx', mode ?? 0o666);
      try {
        await handle.writeFile(content);
        if (mode !== null) await handle.chmod(mode); // open() took the umask off
        await handle.sync();
      } finally {
        await handle.close();
      }
      await look?.();
      await fs.rename(temporary, target);
    } catch (error) {
      await fs.unlink(temporary).catch(() => undefined); // it may never have been made
      throw error;
    }
    await syncFolder(folder, fs);
    return mode === null ? 'new' : 'replaced';
  } catch (error) {
    throw asLidwrightError(error, path.basename(file));
  }
}

const TEMPORARY = /^\..+\.[0-9a-f]{12}\.tmp$/;

/**
 * A journal kept in `file`. Clears away, first of all, what writes of an earlier run left behind when it was killed.
 * For a program that runs once at a time: a second one would lose its unfinished writes.
 */
export async function openJournal(file: string): Promise<Journal> {
  const noted = await nodeFs.readFile(file, 'utf8').catch(() => ''); // none yet
  for (const temporary of noted.split('\n'))
    if (path.isAbsolute(temporary) && TEMPORARY.test(path.basename(temporary)))
      await nodeFs.unlink(temporary).catch(() => undefined); // renamed or taken away in good order
  await nodeFs.rm(file, { force: true });
  return {
    begun: async (temporary) => {
      try {
        const handle = await nodeFs.open(file, 'a', 0o600);
        try {
          await handle.writeFile(`${temporary}\n`);
        } finally {
          await handle.close();
        }
      } catch (error) {
        console.error(error); // saving goes first: without a journal a kill may leave a hidden file
      }
    },
  };
}

/** Takes away what killed writes left in a folder of the program's own; for a program that runs once at a time. */
export async function clearTemporary(folder: string): Promise<void> {
  for (const name of await nodeFs.readdir(folder).catch(() => []))
    if (TEMPORARY.test(name)) await nodeFs.unlink(path.join(folder, name)).catch(() => undefined);
}

/** SHA-256 of a file's bytes, whatever its size; null when there is no such file. Throws a LidwrightError when it can't be read. */
export async function fileDigest(file: string): Promise<string | null> {
  const hash = createHash('sha256');
  try {
    const handle = await nodeFs.open(file, 'r');
    try {
      for await (const chunk of handle.createReadStream()) hash.update(chunk as Buffer);
    } finally {
      await handle.close();
    }
  } catch (error) {
    if ((error as { code?: string }).code === 'ENOENT') return null;
    throw asLidwrightError(error, path.basename(file));
  }
  return hash.digest('hex');
}

/** SHA-256 of bytes, hex. */
export const digestOf = (bytes: Uint8Array): string => createHash('sha256').update(bytes).digest('hex');

/**
 * Reads a job file's bytes.
 * @param file path; `name` is what messages call it
 * @throws LidwrightError when it is missing, a folder, empty, or larger than a job may be
 */
export async function jobFileBytes(file: string, name = path.basename(file)): Promise<Uint8Array<ArrayBuffer>> {
  try {
    const facts = await nodeFs.stat(file);
    if (facts.isDirectory()) fail(`"${name}" is a folder.`, [], 'Name a job file: its name ends in .lidjob.');
    if (!facts.isFile()) fail(`"${name}" is no ordinary file.`, [], 'Name a job file: its name ends in .lidjob.');
    checkJobSize(name, facts.size);
    const bytes = new Uint8Array(await nodeFs.readFile(file));
    checkJobSize(name, bytes.byteLength); // it may have grown since
    return bytes;
  } catch (error) {
    throw asLidwrightError(error, name);
  }
}

/**
 * The real path of `name` inside `folder`, or null when it is not there or leads out of it, by symlink too.
 * @param name parts separated by "/"
 */
export async function realInside(folder: string, name: string): Promise<string | null> {
  if (name.includes('\0') || name.includes('\\') || path.isAbsolute(name)) return null;
  const file = path.resolve(folder, name);
  if (!file.startsWith(path.resolve(folder) + path.sep)) return null;
  try {
    const [real, realFolder] = await Promise.all([nodeFs.realpath(file), nodeFs.realpath(folder)]);
    if (!real.startsWith(realFolder + path.sep)) return null;
    return (await nodeFs.stat(real)).isFile() ? real : null;
  } catch {
    return null;
  }
}
