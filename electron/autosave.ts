// Unsaved work, one file a job, in the program's own folder.
import { mkdir, readdir, readFile, rm } from 'node:fs/promises';
import path from 'node:path';
import { z } from 'zod';
import { fail } from '../core/error';
import { writeWhole } from './files';
import { oneAtATime } from './queue';

/** A draft as it lies on disk: the path instead of the token, because tokens end with the program. */
const schema = z.object({
  id: z.string().regex(/^[a-z0-9-]{1,64}$/i),
  name: z.string(),
  text: z.string(),
  whenMs: z.number(),
  path: z.string().nullable(),
});
export type StoredDraft = z.infer<typeof schema>;

export interface Drafts {
  put(draft: StoredDraft): Promise<void>;
  list(): Promise<StoredDraft[]>;
  drop(id: string): Promise<void>;
}

/**
 * Drafts kept in `folder`, newest first.
 * @param warn told about a draft file that can't be read: it stays where it is, for a person to look at
 */
export function draftFolder(folder: string, warn: (words: string) => void = console.warn): Drafts {
  const inOrder = oneAtATime();

  const fileOf = (id: string): string => {
    if (!schema.shape.id.safeParse(id).success) fail('A draft has an odd name.', [], 'Save the job to a file.');
    return path.join(folder, `${id}.json`);
  };

  return {
    put: (draft) =>
      inOrder(async () => {
        await mkdir(folder, { recursive: true, mode: 0o700 });
        await writeWhole(fileOf(draft.id), JSON.stringify(draft));
      }),

    list: () =>
      inOrder(async () => {
        const names = await readdir(folder).catch(() => []); // no folder: nothing was ever kept
        const drafts: StoredDraft[] = [];
        for (const name of names.filter((each) => each.endsWith('.json') && !each.startsWith('.'))) {
          try {
            drafts.push(schema.parse(JSON.parse(await readFile(path.join(folder, name), 'utf8'))));
          } catch (error) {
            warn(
              `The draft ${name} can't be read and is left alone: ${error instanceof Error ? error.message : error}`,
            );
          }
        }
        return drafts.sort((a, b) => b.whenMs - a.whenMs);
      }),

    drop: (id) => inOrder(() => rm(fileOf(id), { force: true })),
  };
}
