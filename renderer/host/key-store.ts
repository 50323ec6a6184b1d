// Where the page keeps things between visits: a few named tables of keyed records in the browser's own database.
import { type IDBPDatabase, openDB } from 'idb';
import { LidwrightError } from '../../core/error';

const TABLES = ['jobs', 'drafts', 'pictures', 'lists'] as const;
type Table = (typeof TABLES)[number];

/** A record to put; without a value: to take away. */
export interface Change {
  readonly table: Table;
  readonly key: string;
  readonly value?: unknown;
}

export interface KeyStore {
  get(table: Table, key: string): Promise<unknown>;
  all(table: Table): Promise<unknown[]>;
  keys(table: Table): Promise<string[]>;
  /** All of the changes or none. */
  change(changes: readonly Change[]): Promise<void>;
}

/** The same in memory: for tests. @internal for tests */
export function memoryStore(): KeyStore {
  const tables = new Map(TABLES.map((table) => [table, new Map<string, unknown>()]));
  return {
    get: async (table, key) => tables.get(table)!.get(key),
    all: async (table) => [...tables.get(table)!.values()],
    keys: async (table) => [...tables.get(table)!.keys()],
    change: async (changes) => {
      for (const { table, key, value } of changes)
        if (value === undefined) tables.get(table)!.delete(key);
        else tables.get(table)!.set(key, value);
    },
  };
}

function trouble(cause: unknown): LidwrightError {
  const name = cause instanceof Error || cause instanceof DOMException ? cause.name : '';
  const [what, advice] =
    name === 'QuotaExceededError'
      ? ['The browser has no room left to keep this.', 'Save the job to a file now; then free some disk space.']
      : name === 'VersionError'
        ? ['A newer Lidwright keeps its things in this browser.', 'Save the job to a file, then reload this page.']
        : [
            `The browser keeps nothing for this page (${cause instanceof Error ? cause.message : String(cause)}).`,
            'Save the job to a file. Private windows and blocked site data do this: use an ordinary window to have drafts kept.',
          ];
  const error = new LidwrightError({ what: what!, where: [], advice: advice! });
  error.cause = cause;
  return error;
}

/** The browser's own database. Every failure is a LidwrightError. */
export function indexedDbStore(name = 'lidwright'): KeyStore {
  let opened: Promise<IDBPDatabase> | null = null;

  // openDB throws where the browser blocks the database: inside an async function that is a rejection like any other
  const open = async (): Promise<IDBPDatabase> => {
    const base = await openDB(name, 2, {
      upgrade: (fresh) => {
        for (const table of TABLES) if (!fresh.objectStoreNames.contains(table)) fresh.createObjectStore(table);
      },
      blocking: () => {
        base.close(); // a newer page in another tab wants to upgrade: let it
        opened = null;
      },
      terminated: () => void (opened = null),
    });
    return base;
  };

  const within = async <T>(work: (base: IDBPDatabase) => Promise<T>): Promise<T> => {
    for (let again = false; ; again = true) {
      try {
        return await work(await (opened ??= open()));
      } catch (cause) {
        opened = null; // the next call opens it anew
        if (again || !(cause instanceof DOMException && cause.name === 'InvalidStateError')) throw trouble(cause);
      }
    }
  };

  return {
    get: (table, key) => within<unknown>((base) => base.get(table, key)),
    all: (table) => within<unknown[]>((base) => base.getAll(table)),
    keys: (table) => within(async (base) => (await base.getAllKeys(table)).map(String)),
    change: (changes) =>
      within(async (base) => {
        const tables = [...new Set(changes.map(({ table }) => table))];
        if (tables.length === 0) return;
        const run = base.transaction(tables, 'readwrite', { durability: 'strict' });
        const steps = changes.map(({ table, key, value }) =>
          value === undefined ? run.objectStore(table).delete(key) : run.objectStore(table).put(value, key),
        );
        await Promise.all([...steps, run.done]);
      }),
  };
}
