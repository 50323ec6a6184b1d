import { LidwrightError, attempt as tried } from '../../core/error';
import {
  type Job,
  NO_OTHERS,
  checkPictureRoom,
  pictureText,
  picturesBytes,
  readJob,
  readJobFile,
  setPhoto,
  sizeWords,
  writeJobFile,
} from '../../core/job';
import { type Draft, type Host, type OpenedJob, digestOf, fileBytes } from '../host/host';
import { oneAtATime } from '../host/queue';
import { isAborted } from '../workers';
import { ask } from './ask';
import { draftSaved, fromDraft, keepNow, noteKept, startDrafts } from './drafts';
import { relationsAnswered } from './relations';
import { askFit } from './session';
import { type FileState, bench, isUnsaved, notify, openJob, redoStep, takeJob, undoStep } from './store';
import { enterTyped, heldWords, isHolding } from './unentered';

/** Jobs shipped with the program. */
export const EXAMPLES = [
  {
    name: 'workboat-hatch.lidjob',
    words: 'Workboat engine hatch',
    about: 'A life-raft canister rides on top; one strut beside it, where the search put it.',
  },
  {
    name: 'trailer-locker.lidjob',
    words: 'Trailer locker lid',
    about: 'Plywood that opens up, a pair of light struts.',
  },
  { name: 'machine-guard.lidjob', words: 'Machine guard, opens down', about: 'The strut lets it down gently.' },
] as const;

let host: Host;

/** All work with job files, one after the other: what is opened while a job is being saved comes when it is saved. */
let inTurn = oneAtATime();

function say(error: unknown): void {
  notify(
    error instanceof LidwrightError
      ? error.message
      : `Something went wrong: ${error instanceof Error ? error.message : String(error)}. Nothing was changed.`,
    'bad',
  );
}

/** Runs something that talks to the host; what goes wrong is said, never swallowed. */
async function attempt<T>(run: () => Promise<T>): Promise<T | null> {
  try {
    return await run();
  } catch (error) {
    say(error);
    return null;
  }
}

/** Takes what is typed and not entered; false, and said, where a field holds what can't be taken. */
async function entered(but: string): Promise<boolean> {
  let field = enterTyped();
  // what has to be checked against the relations first is taken when the answer comes
  if (field && (await relationsAnswered())) field = enterTyped();
  if (field) notify(heldWords(but, field), 'bad');
  return !field;
}

/** True when the present job may be left: saved, kept as a draft that can be brought back, or dropped by the person's own word. */
async function leavePresent(): Promise<boolean> {
  if (!(await entered('Not opened'))) return false;
  if (!isUnsaved(bench.getState()) || (await keepNow())) return true;
  return ask({
    what: `“${bench.getState().file.name}” has changes that are not saved, and they can’t be kept aside. Drop them?`,
    safe: 'Keep working',
    risky: 'Drop the changes',
  });
}

const newDocument = (opened: Pick<OpenedJob, 'name' | 'token' | 'digest'>): Omit<FileState, 'saved'> => ({
  ...{ name: opened.name, token: opened.token, digest: opened.digest },
  photosFrom: opened.token,
  draftId: crypto.randomUUID(),
});

/** Opens what `read` gives in its turn, in place of the present job; what reading left out or filled in is said. */
const open = (read: () => Promise<OpenedJob | null>, words?: string): Promise<void> =>
  inTurn(async () => {
    await attempt(async () => {
      const opened = await read();
      if (!opened) return;
      const { value, error } = tried(() => readJobFile(opened.name, opened.bytes));
      if (error) return notify(`${opened.name} was not opened: ${error.message}`, 'bad');
      const { job, others, notes } = value;
      if (!(await leavePresent())) return;
      openJob(job, { ...newDocument(opened), others, saved: job });
      askFit();
      const filled = notes
        .filter((note) => note.kind !== 'lost')
        .map(({ text }) => ` ${text[0]!.toUpperCase()}${text.slice(1)}.`);
      if (words !== undefined) notify(`Opened ${opened.name}.${words}${filled.join('')}`);
      for (const { text } of notes.filter((note) => note.kind === 'lost'))
        notify(`${opened.name}: ${text}. Look it over before you save.`, 'bad');
    });
  });

/** Opens a job that was just made; it lies nowhere yet. False: the present job stays. */
export const openMade = (job: Job, name: string): Promise<boolean> =>
  inTurn(async () => {
    if (!(await leavePresent())) return false;
    openJob(job, { name, token: null, photosFrom: null, saved: null, draftId: crypto.randomUUID() });
    askFit();
    return true;
  });

/** An example as it is shipped. */
export const readExample = async (name: string): Promise<Job> =>
  readJobFile(name, await host.readAsset(`examples/${name}`)).job;

export const openExample = (name: string): Promise<void> =>
  open(async () => {
    const bytes = await host.readAsset(`examples/${name}`);
    return { token: null, name, bytes, digest: await digestOf(bytes) };
  });

export async function openFile(): Promise<void> {
  // outside the queue: a list of files that is never answered must not hold up a save
  const opened = await attempt(() => host.openJob());
  if (opened) await open(async () => opened, '');
}

export const openRecentFile = (token: string): Promise<void> => open(() => host.openRecent(token), '');

/** A job file dropped on the bench. */
export const openDropped = (file: File): Promise<void> =>
  open(async () => {
    const bytes = await fileBytes(file);
    return { token: null, name: file.name, bytes, digest: await digestOf(bytes) };
  }, ' Saving will ask where.');

/** The job with the photos that lie beside it inside, as far as they can be read and have room; says how many and how large. */
async function withPhotosIn(job: Job, { photosFrom }: FileState): Promise<Job> {
  let count = 0;
  let size = 0;
  for (const photo of job.photos ?? []) {
    if (!('beside' in photo.source)) continue;
    const name = photo.source.beside;
    await attempt(async () => {
      const bytes = await (photosFrom === null
        ? host.readAsset(`examples/${name}`)
        : host.readBeside(photosFrom, name));
      const inside = bytes && pictureText(name, bytes);
      if (!inside)
        return notify(`"${name}" lies beside the job and can't be read from here; the job still names it.`, 'bad');
      checkPictureRoom(job, name, bytes.length);
      job = setPhoto(job, { id: photo.id, patch: { source: { inside } } });
      count++;
      size += bytes.length;
    });
  }
  if (count > 0)
    notify(
      `${count} photo${count > 1 ? 's' : ''} taken into the job (${sizeWords(size)}; its photos are ${sizeWords(picturesBytes(job))} now), so that they travel with it.`,
    );
  return job;
}

/** Puts the photos that `from` has inside into the present job too, as one undo step; gives the job that was to be saved. */
function takeOver(from: Job, to: Job): Job {
  if (from === to) return to;
  const { present } = bench.getState().history;
  const next =
    present === from ? to : (to.photos ?? []).reduce((job, { id, source }) => putIn(job, id, source), present);
  takeJob(next, 'Take photos into the job');
  return to;
}

/** The photo's source changed where the photo is still there and lies beside. */
const putIn = (job: Job, id: string, source: NonNullable<Job['photos']>[number]['source']): Job =>
  job.photos?.some((photo) => photo.id === id && 'beside' in photo.source) && 'inside' in source
    ? setPhoto(job, { id, patch: { source } })
    : job;

/** Takes photos that lie beside the job into it, as one undo step. */
export async function takePhotosIn(): Promise<void> {
  const { history, file } = bench.getState();
  const taken = await withPhotosIn(history.present, file);
  if (bench.getState().file.draftId === file.draftId) takeOver(history.present, taken);
}

/** Saves the present job as it is now, in its turn, to where this document belongs, whatever is open by then. */
export async function saveFile(as = false): Promise<void> {
  if (isHolding() && !(await entered('Not saved'))) return;
  const { history, file } = bench.getState();
  if (file.draftId === '') return notify('There is no job open to save. Begin one, or open one.', 'bad');
  // what a drag has moved and not laid down is no edit yet: saved, it would make the edit before it look saved, too
  await inTurn(() => attempt(() => save(history.mark ?? history.present, file, as)));
}

async function save(asked: Job, begun: FileState, as: boolean): Promise<void> {
  const isOpen = (): boolean => bench.getState().file.draftId === begun.draftId;
  const file = isOpen() ? bench.getState().file : begun; // a save before this one may have found its place
  let job = asked;
  // a file in a new place would lose the photos that lie beside the old one
  if (as || file.token === null || file.token !== file.photosFrom) {
    job = await withPhotosIn(job, file);
    if (isOpen()) takeOver(asked, job);
  }
  const bytes = writeJobFile({ job, others: file.others ?? NO_OTHERS });
  const name = file.name || 'lid.lidjob';
  const saved = await (as || file.token === null
    ? host.saveJobAs(name, bytes)
    : host.saveJob(file.token, name, bytes, file.digest ?? null));
  if (!saved) return;
  const { token, digest } = saved;
  if (isOpen()) bench.setState((s) => ({ file: { ...s.file, name: saved.name, token, digest, saved: job } }));
  await attempt(() => draftSaved(begun.draftId, job));
  notify(
    saved.how === 'written'
      ? `Saved ${saved.name}.`
      : `${saved.name} was downloaded: this browser can't write in place.`,
  );
}

/** A file to hand out: its name, its media type, and a text or bytes. */
export interface OutFile {
  readonly name: string;
  readonly type: string;
  readonly content: Uint8Array | string;
}

/** Makes a file and hands it out; what goes wrong is said. */
export async function exportFile(make: () => OutFile | Promise<OutFile>): Promise<void> {
  await attempt(async () => {
    const { name, type, content } = await make();
    const bytes = typeof content === 'string' ? new TextEncoder().encode(content) : content;
    const saved = await host.exportFile(name, bytes, type);
    if (saved) notify(saved.how === 'written' ? `Wrote ${saved.name}.` : `${saved.name} was downloaded.`);
  });
}

/** How a draft stands to its file: the file is as the draft knew it (or gone), has changed since, or can't be looked at. */
export type Standing = 'same' | 'newer' | 'unknown';

export async function standingOf({ token, digest }: Draft): Promise<Standing> {
  if (token === null) return 'same';
  try {
    const present = await host.presentDigest(token);
    return present === null || present === digest ? 'same' : digest === null ? 'unknown' : 'newer';
  } catch {
    return 'unknown';
  }
}

/** Brings a draft back; as a copy it has no place yet, so that nothing of its file is overwritten. False: the present job stays. */
export const bringBack = (draft: Draft, copy: boolean): Promise<boolean> =>
  inTurn(async () => {
    const done = await attempt(async () => {
      const { job, others } = await fromDraft(host, draft, readJob(draft.text));
      if (!(await leavePresent())) return false;
      noteKept(draft.id, job);
      const token = copy ? null : draft.token;
      openJob(job, {
        ...{ name: draft.name, token, digest: copy ? null : draft.digest, others },
        ...{ photosFrom: draft.token, saved: null, draftId: draft.id },
      });
      askFit();
      notify(
        `${draft.name} is back as it was; it is not saved yet.${copy && draft.token !== null ? ' Saving will ask where.' : ''}`,
      );
      return true;
    });
    return done === true;
  });

/** What nobody caught is said, and the work is kept: a fault in one corner must not cost the rest. */
function catchTheRest(): void {
  const caught = (error: unknown): void => {
    if (isAborted(error)) return;
    say(error);
    void keepNow();
  };
  window.addEventListener('unhandledrejection', (e) => caught(e.reason));
  window.addEventListener('error', (e) => e.error && caught(e.error)); // notes about layout have no error
  document.addEventListener('visibilitychange', () => document.hidden && void keepNow());
}

/** Looks for drafts, and keeps drafts from then on. Returns how to leave off. */
export async function startFiles(theHostOfThisPage: Host): Promise<() => void> {
  host = theHostOfThisPage;
  inTurn = oneAtATime();
  if (typeof window !== 'undefined') catchTheRest();
  host.onAskClose(() => {
    const isHeld = enterTyped() !== null;
    const unsaved = isUnsaved(bench.getState());
    if (unsaved) void keepNow();
    return isHeld || unsaved;
  });
  host.onOpenAsked((opened) => void open(async () => opened, ''));
  host.onCommand((command) => {
    if (command === 'open') void openFile();
    else if (command === 'new') bench.setState({ startPage: true });
    else if (command === 'save') void saveFile();
    else if (command === 'saveAs') void saveFile(true);
    else if (command === 'undo') undoStep();
    else redoStep();
  });
  const leave = startDrafts(host);
  return leave;
}
