// The list of jobs used lately, kept in the program's own folder.
import { readFile } from 'node:fs/promises';
import path from 'node:path';
import { z } from 'zod';
import { writeWhole } from './files';
import { oneAtATime } from '../renderer/host/queue';

export const RECENT_LENGTH = 10;

const schema = z.array(z.object({ path: z.string().min(1), whenMs: z.number() }));
export type RecentEntry = z.infer<typeof schema>[number];

/** The list with `file` put first, without doubles, cut to length. */
export function withRecent(list: readonly RecentEntry[], file: string, whenMs: number): RecentEntry[] {
  return [{ path: file, whenMs }, ...list.filter((entry) => entry.path !== file)].slice(0, RECENT_LENGTH);
}

/** A folder in words: the home folder as "~". */
export function folderWords(file: string, home: string): string {
  const folder = path.dirname(file);
  if (folder === home) return '~';
  return folder.startsWith(home + path.sep) ? `~${folder.slice(home.length)}` : folder;
}

export interface RecentList {
  list(): Promise<RecentEntry[]>;
  add(file: string, whenMs: number): Promise<void>;
  remove(file: string): Promise<void>;
}

/** The list kept in `file`. One that can't be read is begun anew: it holds nothing that is not elsewhere. */
export function recentList(file: string): RecentList {
  const inOrder = oneAtATime();

  const read = async (): Promise<RecentEntry[]> => {
    try {
      return schema.parse(JSON.parse(await readFile(file, 'utf8'))).slice(0, RECENT_LENGTH);
    } catch {
      return [];
    }
  };
  const write = async (list: RecentEntry[]): Promise<void> => void (await writeWhole(file, JSON.stringify(list)));

  return {
    list: () => inOrder(read),
    add: (job, whenMs) => inOrder(async () => write(withRecent(await read(), job, whenMs))),
    remove: (job) => inOrder(async () => write((await read()).filter((entry) => entry.path !== job))),
  };
}
