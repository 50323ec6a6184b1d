// Where the browser host keeps things between visits: a few named tables of keyed records.
import { LidwrightError } from '../../core/error';

export type Table = 'jobs' | 'drafts';
const TABLES: readonly Table[] = ['jobs', 'drafts'];

export interface KeyStore {
  get(table: Table, key: string): Promise<unknown>;
  all(table: Table): Promise<unknown[]>;
  put(table: Table, key: string, value: unknown): Promise<void>;
  remove(table: Table, key: string): Promise<void>;
}

/** The same in memory: for tests. */
export function memoryStore(): KeyStore {
  const tables = new Map<Table, Map<string, unknown>>(TABLES.map((table) => [table, new Map()]));
  return {
    get: async (table, key) => tables.get(table)?.get(key),
    all: async (table) => [...(tables.get(table)?.values() ?? [])],
    put: async (table, key, value) => void tables.get(table)?.set(key, value),
    remove: async (table, key) => void tables.get(table)?.delete(key),
  };
}

function trouble(cause: unknown): LidwrightError {
  const full = cause instanceof DOMException && cause.name === 'QuotaExceededError';
  const error = new LidwrightError({
    what: full
      ? 'The browser has no room left to keep unsaved work.'
      : `The browser keeps nothing for this page (${cause instanceof Error ? cause.message : String(cause)}).`,
    where: [],
    advice: full
      ? 'Save the job to a file now; then remove old drafts or free some disk space.'
      : 'Save the job to a file. Private windows and blocked site data do this: use an ordinary window to have drafts kept.',
  });
  error.cause = cause;
  return error;
}

const answer = <T>(request: IDBRequest<T>): Promise<T> =>
  new Promise((resolve, reject) => {
    request.onsuccess = () => resolve(request.result);
    request.onerror = () => reject(request.error);
  });

/** The browser's own database. Every failure is a LidwrightError. */
export function indexedDbStore(factory: () => IDBFactory, name = 'lidwright'): KeyStore {
  let opening: Promise<IDBDatabase> | null = null;

  const open = (): Promise<IDBDatabase> => {
    opening ??= new Promise<IDBDatabase>((resolve, reject) => {
      const request = factory().open(name, 1);
      request.onupgradeneeded = () => {
        for (const table of TABLES) request.result.createObjectStore(table);
      };
      request.onsuccess = () => {
        request.result.onversionchange = () => {
          request.result.close(); // a newer page in another tab wants to upgrade: let it
          opening = null;
        };
        resolve(request.result);
      };
      request.onerror = () => reject(request.error);
      request.onblocked = () => reject(new Error('another tab holds it'));
    }).catch((cause: unknown) => {
      opening = null; // the next call tries again
      throw cause;
    });
    return opening;
  };

  const within = async <T>(
    table: Table,
    mode: IDBTransactionMode,
    work: (store: IDBObjectStore) => IDBRequest<T>,
  ): Promise<T> => {
    try {
      const transaction = (await open()).transaction(table, mode);
      const finished = new Promise<void>((resolve, reject) => {
        transaction.oncomplete = () => resolve();
        transaction.onabort = () => reject(transaction.error);
      });
      const [value] = await Promise.all([answer(work(transaction.objectStore(table))), finished]);
      return value;
    } catch (cause) {
      throw trouble(cause);
    }
  };

  return {
    get: (table, key) => within<unknown>(table, 'readonly', (store) => store.get(key)),
    all: (table) => within<unknown[]>(table, 'readonly', (store) => store.getAll()),
    put: async (table, key, value) => void (await within(table, 'readwrite', (store) => store.put(value, key))),
    remove: async (table, key) => void (await within(table, 'readwrite', (store) => store.delete(key))),
  };
}
