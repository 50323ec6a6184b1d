import { type Issue, LidwrightError } from '../../core/error';

/** What goes to a worker: a question, or that its answer is no longer wanted. */
export type ToWorker = { readonly run: number; readonly question: unknown } | { readonly cancel: number };

/** What comes back. Errors lose their class on the way: only what is told of them comes over. */
export type FromWorker = { readonly run: number } & (
  | { readonly progress: unknown }
  | { readonly answer: unknown }
  | { readonly issue: Issue }
  | { readonly cancelled: true }
);

export interface AskOptions<P = number> {
  /** Of questions with the same key only the newest is answered; the others are rejected with an AbortError. */
  readonly latestWins?: string;
  readonly signal?: AbortSignal;
  /** Hears how far it is: the share that is done, 0 … 1, or what else that worker tells on its way. */
  readonly progress?: (so: P) => void;
  /** Handed over, not copied. */
  readonly transfer?: Transferable[];
}

/** A worker that has not let go of a question this long after it was cancelled is ended, ms. */
export const GRACE_MS = 250;

interface Open {
  readonly run: number;
  readonly question: unknown;
  readonly options: AskOptions<never>;
  readonly resolve: (answer: never) => void;
  readonly reject: (error: unknown) => void;
  cancelled: boolean;
}

/** A worker of one kind, made when it is first asked. Q: what it is asked, A: what it answers. It has one question at a time. */
export interface Desk<Q, A, P = number> {
  readonly make: () => Worker;
  /** Told to all who wait when the worker stops by itself. */
  readonly stopped: Issue;
  /** It keeps what it was given (photos), so that a cancel never ends it. */
  readonly keeps: boolean;
  worker: Worker | null;
  working: Open | null;
  waiting: Open[];
  /** Never set: it ties Q, A and P to the desk. */
  readonly kinds?: (question: Q) => readonly [A, P];
}

export const desk = <Q, A, P = number>(
  make: () => Worker,
  stopped: Omit<Issue, 'where'>,
  keeps = false,
): Desk<Q, A, P> => ({
  make,
  keeps,
  stopped: { ...stopped, where: [] },
  worker: null,
  working: null,
  waiting: [],
});

let runs = 0;
const aborted = (): DOMException => new DOMException('no longer wanted', 'AbortError');
export const isAborted = (error: unknown): boolean => error instanceof DOMException && error.name === 'AbortError';

/**
 * Asks a worker. Rejects with a LidwrightError when the question can't be answered or the worker stops by itself (the next
 * question gets a new one), and with an AbortError when the answer is no longer wanted.
 */
export function ask<Q, A, P = number>(desk: Desk<Q, A, P>, question: Q, options: AskOptions<P> = {}): Promise<A> {
  return new Promise<A>((resolve, reject) => {
    const { signal, latestWins } = options;
    if (signal?.aborted) return reject(aborted());
    const open: Open = { run: ++runs, question: withoutPictures(question), options, resolve, reject, cancelled: false };
    if (latestWins !== undefined)
      for (const older of [...desk.waiting, desk.working])
        if (older?.options.latestWins === latestWins) cancel(desk, older);
    signal?.addEventListener('abort', () => cancel(desk, open), { once: true });
    desk.waiting.push(open);
    next(desk);
  });
}

function cancel(desk: Desk<never, unknown, unknown>, open: Open): void {
  open.cancelled = true;
  open.reject(aborted());
  desk.waiting = desk.waiting.filter((o) => o !== open);
  if (desk.working !== open) return;
  desk.worker?.postMessage({ cancel: open.run } satisfies ToWorker);
  // one that is deep in its work does not hear it
  setTimeout(() => {
    if (desk.working !== open || desk.keeps) return;
    end(desk);
    next(desk);
  }, GRACE_MS);
}

function end(desk: Desk<never, unknown, unknown>): void {
  desk.worker?.terminate();
  desk.worker = null;
  desk.working = null;
}

function next(desk: Desk<never, unknown, unknown>): void {
  if (desk.working) return;
  const open = desk.waiting.shift();
  if (!open) return;
  desk.worker ??= made(desk);
  desk.working = open;
  try {
    desk.worker.postMessage({ run: open.run, question: open.question } satisfies ToWorker, open.options.transfer ?? []);
  } catch (error) {
    // what can't be copied never reaches the worker
    desk.working = null;
    open.reject(error);
    next(desk);
  }
}

function made(desk: Desk<never, unknown, unknown>): Worker {
  const worker = desk.make();
  worker.onmessage = ({ data }: MessageEvent<FromWorker>) => {
    const open = desk.working;
    if (!open || data.run !== open.run) return;
    if ('progress' in data) {
      if (!open.cancelled) open.options.progress?.(data.progress as never);
      return;
    }
    desk.working = null;
    if ('answer' in data) open.resolve(data.answer as never);
    else open.reject('issue' in data ? new LidwrightError(data.issue) : aborted());
    next(desk);
  };
  worker.onerror = () => {
    const open = [desk.working, ...desk.waiting];
    end(desk);
    desk.waiting = [];
    for (const one of open) one?.reject(new LidwrightError(desk.stopped));
  };
  return worker;
}

/** A job's pictures stay here: no worker reads them, and they can be many megabytes. */
function withoutPictures(question: unknown): unknown {
  const bare = leanJob(question);
  if (typeof bare !== 'object' || bare === null) return bare;
  return Object.fromEntries(Object.entries(bare).map(([key, value]) => [key, leanJob(value)]));
}

function leanJob(value: unknown): unknown {
  const photos = (value as { photos?: unknown } | null)?.photos;
  if (!Array.isArray(photos)) return value;
  return {
    ...(value as object),
    photos: photos.map((p: { source?: object }) =>
      p.source && 'inside' in p.source ? { ...p, source: { ...p.source, inside: '' } } : p,
    ),
  };
}
