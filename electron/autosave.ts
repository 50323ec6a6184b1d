// Unsaved work in the program's own folder: a file a state, the last few of each job, and their pictures once.
import { mkdir, readdir, readFile, rm } from 'node:fs/promises';
import path from 'node:path';
import { z } from 'zod';
import { fail } from '../core/error';
import { KEPT_STATES } from '../renderer/host/interface';
import { DRAFT_PICTURE } from '../renderer/host/names';
import { type WritingFs, writeWhole } from './files';
import { oneAtATime } from '../renderer/host/queue';

/** A state as it lies on disk: the path instead of the token, because tokens end with the program. */
const schema = z.object({
  id: z.string().regex(/^[a-z0-9-]{1,64}$/i),
  name: z.string(),
  text: z.string(),
  // drafts of an earlier edition have neither pictures (they lie inside) nor digest
  pictures: z.array(z.string().regex(DRAFT_PICTURE)).default([]),
  others: z.record(z.string(), z.string()).optional(),
  whenMs: z.number(),
  path: z.string().nullable(),
  digest: z.string().nullable().default(null),
});
type StoredDraft = z.infer<typeof schema>;

export interface Drafts {
  put(draft: StoredDraft, pictures: readonly (readonly [name: string, bytes: Uint8Array])[]): Promise<void>;
  /** Which of these pictures are not kept. */
  missing(names: readonly string[]): Promise<string[]>;
  list(): Promise<StoredDraft[]>;
  picture(name: string): Promise<Uint8Array<ArrayBuffer> | null>;
  drop(id: string): Promise<void>;
}

/** A state's file: the id, and when it was kept; an earlier edition kept one state, under the id alone. */
const FILE = /^([a-z0-9-]{1,64})(?:\.(\d+))?\.json$/i;

const namesIn = (folder: string): Promise<string[]> => readdir(folder).catch(() => []); // no folder: nothing was ever kept

/**
 * Drafts kept in `folder`, newest first.
 * @param fs writes them; a test's may stop dead
 * @param warn told about a draft file that can't be read: it stays where it is, for a person to look at
 */
export function draftFolder(folder: string, warn: (words: string) => void = console.warn, fs?: WritingFs): Drafts {
  const inOrder = oneAtATime();
  const pictureFolder = path.join(folder, 'pictures');

  const checkedId = (id: string): string =>
    schema.shape.id.safeParse(id).success ? id : fail('A draft has an odd name.', [], 'Save the job to a file.');

  /** Files of one job at work, the newest state first. */
  const filesOf = async (id: string): Promise<string[]> => {
    const wanted = checkedId(id);
    return (await namesIn(folder))
      .flatMap((file) => {
        const [, of, when = '0'] = FILE.exec(file) ?? [];
        return of === wanted ? [{ file: path.join(folder, file), when: Number(when) }] : [];
      })
      .sort((a, b) => b.when - a.when)
      .map(({ file }) => file);
  };

  const read = async (): Promise<{ drafts: StoredDraft[]; torn: boolean }> => {
    const drafts: StoredDraft[] = [];
    let torn = false;
    for (const file of (await namesIn(folder)).filter((name) => FILE.test(name))) {
      try {
        drafts.push(schema.parse(JSON.parse(await readFile(path.join(folder, file), 'utf8'))));
      } catch (error) {
        torn = true;
        warn(`The draft ${file} can't be read and is left alone: ${error instanceof Error ? error.message : error}`);
      }
    }
    return { drafts: drafts.sort((a, b) => b.whenMs - a.whenMs), torn };
  };

  /** Takes states away, and the pictures that no other state has; while one can't be read, all pictures stay. */
  const takeAway = async (files: readonly string[]): Promise<void> => {
    if (files.length === 0) return;
    for (const file of files) await rm(file, { force: true });
    const { drafts, torn } = await read();
    const wanted = new Set(drafts.flatMap(({ pictures }) => pictures));
    for (const name of torn ? [] : await namesIn(pictureFolder))
      if (DRAFT_PICTURE.test(name) && !wanted.has(name)) await rm(path.join(pictureFolder, name), { force: true });
  };

  return {
    put: (draft, pictures) =>
      inOrder(async () => {
        await mkdir(pictureFolder, { recursive: true, mode: 0o700 });
        for (const [name, bytes] of pictures) await writeWhole(path.join(pictureFolder, name), bytes, fs);
        await writeWhole(path.join(folder, `${checkedId(draft.id)}.${draft.whenMs}.json`), JSON.stringify(draft), fs);
        await takeAway((await filesOf(draft.id)).slice(KEPT_STATES));
      }),

    missing: (names) =>
      inOrder(async () => {
        const kept = new Set(await namesIn(pictureFolder));
        return names.filter((name) => !kept.has(name));
      }),

    list: () => inOrder(async () => (await read()).drafts),

    picture: (name) =>
      inOrder(async () =>
        DRAFT_PICTURE.test(name)
          ? readFile(path.join(pictureFolder, name)).then(
              (bytes) => new Uint8Array(bytes),
              () => null,
            )
          : null,
      ),

    drop: (id) => inOrder(async () => takeAway(await filesOf(id))),
  };
}
