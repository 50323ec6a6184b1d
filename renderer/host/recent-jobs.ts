// The browser host's list of jobs used lately: handles where the browser gives them, copies where it does not.
import { fail } from '../../core/error';
import type { FileHandle } from './browser-files';
import type { RecentJob } from './interface';
import type { KeyStore } from './key-store';
import { inTime } from './queue';

const RECENT_LENGTH = 10;
/** A store that takes longer is not waited for: the list is a convenience, a save is not. */
const PATIENCE_MS = 2000;

/** One job known to the browser host. */
export interface KnownJob {
  token: string;
  name: string;
  whenMs: number;
  /** Where the browser lets us write in place. */
  handle?: FileHandle;
  /** Else a copy of what was last opened or downloaded; an earlier edition kept its text. */
  bytes?: Uint8Array<ArrayBuffer>;
  text?: string;
}

export interface RecentJobs {
  remember(job: KnownJob): Promise<void>;
  find(token: string): Promise<KnownJob>;
  /** The token of a file that is known already, under whatever handle; null when it is new. */
  tokenOf(handle: FileHandle): Promise<string | null>;
  list(): Promise<RecentJob[]>;
}

const isKnown = (value: unknown): value is KnownJob =>
  typeof value === 'object' && value !== null && 'token' in value && 'name' in value && 'whenMs' in value;

export function recentJobs(store: KeyStore): RecentJobs {
  // A job stays known while the page is open even where the store refuses to keep it: saving must not fail for that.
  const here = new Map<string, KnownJob>();

  const kept = async (): Promise<KnownJob[]> => {
    const stored = (await store.all('jobs')).filter(isKnown);
    const all = new Map([...stored.map((job) => [job.token, job] as const), ...here]);
    return [...all.values()].sort((a, b) => b.whenMs - a.whenMs);
  };

  return {
    async remember(job) {
      here.set(job.token, job);
      const keep = async (): Promise<void> => {
        await store.change([{ table: 'jobs', key: job.token, value: job }]);
        const old = (await kept()).slice(RECENT_LENGTH);
        await store.change(old.map(({ token }) => ({ table: 'jobs', key: token })));
        for (const { token, handle } of old) if (!handle) here.delete(token);
      };
      // Told where it matters: list() and putDraft() meet the same store and reject with the reason.
      await inTime(
        keep().catch(() => undefined),
        undefined,
        PATIENCE_MS,
      );
    },

    async find(token) {
      const known = here.get(token) ?? (await store.get('jobs', token));
      if (!isKnown(known)) return fail('That job is no longer in the list.', [], 'Open it with "Open".');
      return known;
    },

    async tokenOf(handle) {
      const own = (): KnownJob[] => [...here.values()]; // a store that fails knows no others
      const known = await inTime(kept().catch(own), own(), PATIENCE_MS);
      for (const job of known) if (job.handle && (await handle.isSameEntry?.(job.handle))) return job.token;
      return null;
    },

    async list() {
      return (await kept()).slice(0, RECENT_LENGTH).map((job) => ({
        token: job.token,
        name: job.name,
        where: job.handle ? 'a file on this machine' : 'a copy kept in this browser',
        whenMs: job.whenMs,
      }));
    },
  };
}
