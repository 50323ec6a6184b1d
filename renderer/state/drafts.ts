// Unsaved work is kept aside: soon after the last change, and at most so long after the first that is not kept yet. What
// can't be kept is tried again, and the person is told while there is time to save.
import {
  type Job,
  type Members,
  NO_OTHERS,
  pictureOf,
  pictureText,
  picturesIn,
  picturesOut,
  writeJob,
} from '../../core/job';
import { type Draft, type Host, digestOf } from '../host/host';
import { inTime as within } from '../host/queue';
import { type BenchState, type FileState, bench, isUnsaved, notify, withdrawNotice } from './store';

/** A state is kept when nothing has changed for so long, ms. */
const REST_MS = 1200;
/** … or when the oldest change that is not kept is so old. */
const AT_MOST_MS = 3500;
const AGAIN_MS = 2000;
/** When it is so old, the person is told. */
const TELL_MS = 4700;
/** What can't be kept within this time does not hold up what was asked for. */
const PATIENCE_MS = 4000;

/** What the draft of a document is: the job before the gesture that goes on, if one does. */
const jobOf = ({ history }: BenchState): Job => history.mark ?? history.present;

/** Names of pictures by their text: made again only for a picture that is new. */
let pictureNames = new Map<string, string>();

/** A job as a draft, and where to find the bytes of its pictures. */
async function draftOf(
  job: Job,
  file: FileState,
): Promise<{ draft: Draft; bytesOf: (name: string) => Uint8Array<ArrayBuffer> }> {
  const names = new Map<string, string>();
  const texts = new Map<string, string>();
  for (const { source } of job.photos ?? []) {
    if (!('inside' in source)) continue;
    const known = pictureNames.get(source.inside);
    const picture = known === undefined ? pictureOf(source.inside) : null;
    const name = known ?? (picture && `${await digestOf(picture.bytes)}.${picture.ending}`);
    if (name === null) continue;
    names.set(source.inside, name);
    texts.set(name, source.inside);
  }
  pictureNames = names;
  const members = new Map<string, Uint8Array<ArrayBuffer>>();
  const others: Record<string, string> = {};
  for (const [name, bytes] of file.others ?? NO_OTHERS) {
    others[name] = `${await digestOf(bytes)}.bin`;
    members.set(others[name]!, bytes);
  }
  return {
    draft: {
      ...{ id: file.draftId, name: file.name || 'lid.lidjob', whenMs: Date.now() },
      ...{ token: file.token, digest: file.digest ?? null, others },
      text: writeJob(picturesOut(job, (_, inside) => names.get(inside) ?? null)),
      pictures: [...texts.keys(), ...members.keys()],
    },
    bytesOf: (name) => members.get(name) ?? pictureOf(texts.get(name)!)!.bytes,
  };
}

/** The job and what else lay in its ZIP, from a draft as `read` gives it without its pictures. */
export async function fromDraft(host: Host, draft: Draft, job: Job): Promise<{ job: Job; others: Members }> {
  const texts = new Map<string, string | null>();
  for (const name of draft.pictures) {
    const bytes = await host.draftPicture(name);
    texts.set(name, bytes && pictureText(name, bytes));
  }
  const others = new Map<string, Uint8Array<ArrayBuffer>>();
  for (const [name, kept] of Object.entries(draft.others ?? {})) {
    const bytes = await host.draftPicture(kept);
    if (bytes) others.set(name, bytes);
  }
  return { job: picturesIn(job, (name) => texts.get(name) ?? null), others };
}

const SILENT = 'the place for it does not answer.';

let host: Host;
/** What was kept last of each document that was open. */
const kept = new Map<string, Job>();
/** When the oldest change of the present document came that is not kept. */
let since: number | null = null;
let keeping: Promise<boolean> | null = null;
let told: string | null = null;
let retryAt = 0;
let timer: ReturnType<typeof setTimeout> | undefined;

/** Whether the present document has something that is neither saved nor kept. */
function isOwing(state: BenchState): boolean {
  const job = jobOf(state);
  return state.file.draftId !== '' && job !== state.file.saved && job !== kept.get(state.file.draftId);
}

function tellOnce(why: string): void {
  if (told !== null) return;
  told = `Unsaved work is not being kept aside: ${why} Save the job to a file; keeping is tried again all the while.`;
  notify(told, 'bad');
}

/** Keeps the present state now; true when nothing is owing after it. */
async function keepOnce(): Promise<boolean> {
  const state = bench.getState();
  if (!isOwing(state)) return true;
  const job = jobOf(state);
  const id = state.file.draftId;
  const begun = Date.now();
  try {
    const { draft, bytesOf } = await draftOf(job, state.file);
    if (
      !(await inTime(
        host.putDraft(draft, bytesOf).then(() => true),
        false,
      ))
    )
      throw new Error(SILENT);
  } catch (error) {
    retryAt = Date.now() + AGAIN_MS;
    // saved meanwhile: there is nothing to tell of
    if (since !== null) tellOnce(error instanceof Error ? error.message : String(error));
    return false;
  }
  kept.set(id, job);
  if (told !== null) {
    withdrawNotice(told); // no longer true, and it may lie over what one wants to press
    notify('Unsaved work is kept aside again.');
  }
  told = null;
  const now = bench.getState();
  if (now.file.draftId === id && since !== null) since = isOwing(now) ? Math.max(since, begun) : null;
  return !isOwing(now);
}

function keep(): Promise<boolean> {
  keeping ??= keepOnce().finally(() => {
    keeping = null;
    plan();
  });
  return keeping;
}

/** What `work` gives, or `late` when it takes too long to wait for. */
const inTime = <T>(work: Promise<T>, late: T): Promise<T> => within(work, late, PATIENCE_MS);

/** Keeps what is owing, for something that waits for it: false when it can't be kept, or not in time. */
export const keepNow = (): Promise<boolean> => inTime((async () => (await keep()) || keep())(), false);

let lastChange = 0;
/** Sets the clock for the next thing to do: keep, try again, or tell. */
function plan(): void {
  clearTimeout(timer);
  if (since === null) return;
  const now = Date.now();
  const due = keeping ? Infinity : Math.max(Math.min(lastChange + REST_MS, since + AT_MOST_MS), retryAt);
  const tell = told !== null ? Infinity : since + TELL_MS;
  const next = Math.min(due, tell);
  if (next === Infinity) return;
  timer = setTimeout(
    () => {
      if (Date.now() >= due) void keep();
      else if (Date.now() >= tell) tellOnce(SILENT);
      plan();
    },
    Math.max(0, next - now),
  );
}

/** The document was saved as `job`: its draft goes, unless something newer is in it or owing. */
export async function draftSaved(id: string, job: Job): Promise<void> {
  await inTime(keeping ?? Promise.resolve(true), false);
  const { file } = bench.getState();
  const present = file.draftId === id ? jobOf(bench.getState()) : (kept.get(id) ?? job);
  if (present !== job) return;
  kept.delete(id);
  await inTime(host.dropDraft(id), undefined);
}

/** The present document is as a draft has it. */
export const noteKept = (id: string, job: Job): void => void kept.set(id, job);

/** Keeps drafts from now on. */
export function startDrafts(theHost: Host): () => void {
  host = theHost;
  [since, keeping, told, retryAt] = [null, null, null, 0];
  kept.clear();
  return bench.subscribe((state, before) => {
    if (state.history === before.history && state.file === before.file) return;
    // what is unsaved from here on is told of anew
    if (!isUnsaved(state) && !state.history.mark) [since, told] = [null, null];
    else if (jobOf(state) !== jobOf(before) || state.file.draftId !== before.file.draftId) {
      lastChange = Date.now();
      if (state.file.draftId !== before.file.draftId) [since, told] = [null, null];
      if (isOwing(state)) since ??= lastChange;
    }
    plan();
  });
}
