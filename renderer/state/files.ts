import { LidwrightError } from '../../core/error';
import { type Job, readJob, setPhoto, writeJob } from '../../core/job';
import type { Draft, Host, OpenedJob } from '../host/host';
import { askFit } from './session';
import { bench, edit, isUnsaved, notify, openJob, redoStep, undoStep } from './store';

/** Jobs shipped with the program; the first opens at the start. */
export const EXAMPLES = [
  { name: 'workboat-hatch.lidjob', words: 'Workboat engine hatch' },
  { name: 'trailer-locker.lidjob', words: 'Trailer locker lid' },
  { name: 'machine-guard.lidjob', words: 'Machine guard, opens down' },
] as const;

/** A draft is written this long after the last change, ms. */
const DRAFT_AFTER_MS = 1200;

let host: Host;
let draftTimer = 0;
/** The job that the last draft holds, so that nothing is written twice. */
let drafted: Job | null = null;

export const theHost = (): Host => host;

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

function take(opened: OpenedJob, saved: boolean): void {
  const job = readJob(opened.text);
  openJob(job, {
    name: opened.name,
    token: opened.token,
    photosFrom: opened.token,
    saved: saved ? job : null,
    draftId: crypto.randomUUID(),
  });
  drafted = job;
  askFit();
}

/** True when the present job may be left: saved, or kept as a draft that can be brought back. */
async function leavePresent(): Promise<boolean> {
  if (!isUnsaved(bench.getState())) return true;
  await keepDraft();
  return true;
}

async function keepDraft(): Promise<void> {
  const { history, file } = bench.getState();
  const job = history.present;
  if (history.mark || job === drafted || file.draftId === '') return;
  drafted = job;
  await attempt(() =>
    host.putDraft({ id: file.draftId, name: file.name, text: writeJob(job), whenMs: Date.now(), token: file.token }),
  );
}

async function forgetDraft(): Promise<void> {
  const { file, history } = bench.getState();
  drafted = history.present;
  await attempt(() => host.dropDraft(file.draftId));
}

export async function openExample(name: string): Promise<void> {
  await attempt(async () => {
    await leavePresent();
    const bytes = await host.readAsset(`examples/${name}`);
    take({ token: null, name, text: new TextDecoder().decode(bytes) }, true);
  });
}

export async function openFile(): Promise<void> {
  await attempt(async () => {
    const opened = await host.openJob();
    if (!opened) return;
    await leavePresent();
    take(opened, true);
    notify(`Opened ${opened.name}.`);
  });
}

export async function openRecentFile(token: string): Promise<void> {
  await attempt(async () => {
    const opened = await host.openRecent(token);
    if (!opened) return;
    await leavePresent();
    take(opened, true);
  });
}

/** A job file dropped on the bench. */
export async function openDropped(file: File): Promise<void> {
  await attempt(async () => {
    const text = await file.text();
    const job = readJob(text);
    await leavePresent();
    openJob(job, { name: file.name, token: null, photosFrom: null, saved: job, draftId: crypto.randomUUID() });
    drafted = job;
    askFit();
    notify(`Opened ${file.name}. Saving will ask where.`);
  });
}

/** Bytes → data URL, in pieces that fit on the stack. */
function dataUrl(bytes: Uint8Array, name: string): string {
  let binary = '';
  for (let i = 0; i < bytes.length; i += 32768) binary += String.fromCharCode(...bytes.subarray(i, i + 32768));
  const mime = /\.png$/i.test(name) ? 'image/png' : /\.webp$/i.test(name) ? 'image/webp' : 'image/jpeg';
  return `data:${mime};base64,${btoa(binary)}`;
}

/** Takes photos that lie beside the job into it, as one undo step; says how many and how large. */
export async function takePhotosIn(): Promise<void> {
  const { history, file } = bench.getState();
  let job = history.present;
  let count = 0;
  let size = 0;
  for (const photo of job.photos ?? []) {
    if (!('beside' in photo.source)) continue;
    const name = photo.source.beside;
    const bytes = await attempt(() =>
      file.photosFrom === null ? host.readAsset(`examples/${name}`) : host.readBeside(file.photosFrom, name),
    );
    if (!bytes) {
      notify(`"${name}" lies beside the job and can't be read from here; the job still names it.`, 'bad');
      continue;
    }
    job = setPhoto(job, { id: photo.id, patch: { source: { inside: dataUrl(bytes, name) } } });
    count++;
    size += bytes.length;
  }
  if (count > 0) {
    edit('Take photos into the job', () => job);
    notify(
      `${count} photo${count > 1 ? 's' : ''} taken into the job (${(size / 1e6).toFixed(1)} MB), so that they travel with it.`,
    );
  }
}

export async function saveFile(as = false): Promise<void> {
  await attempt(async () => {
    let { file } = bench.getState();
    // a file in a new place would lose the photos that lie beside the old one
    if (as || file.token === null || file.token !== file.photosFrom) await takePhotosIn();
    const job = bench.getState().history.present;
    file = bench.getState().file;
    const name = file.name || 'lid.lidjob';
    const text = writeJob(job);
    const saved =
      as || file.token === null ? await host.saveJobAs(name, text) : await host.saveJob(file.token, name, text);
    if (!saved) return;
    const now = bench.getState();
    bench.setState({ file: { ...now.file, name: saved.name, token: saved.token, saved: job } });
    await forgetDraft();
    notify(
      saved.how === 'written'
        ? `Saved ${saved.name}.`
        : `${saved.name} was downloaded: this browser can't write in place.`,
    );
  });
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

export async function bringBack(draft: Draft): Promise<void> {
  await attempt(async () => {
    const job = readJob(draft.text);
    openJob(job, { name: draft.name, token: draft.token, photosFrom: draft.token, saved: null, draftId: draft.id });
    drafted = job;
    askFit();
    notify(`${draft.name} is back as it was; it is not saved yet.`);
  });
}

/** Opens the example, looks for drafts, and keeps drafts from then on. */
export async function startFiles(theHostOfThisPage: Host): Promise<void> {
  host = theHostOfThisPage;
  host.onAskClose(() => isUnsaved(bench.getState()));
  host.onOpenAsked((opened) => void attempt(async () => (await leavePresent(), take(opened, true))));
  host.onCommand((command) => {
    if (command === 'open') void openFile();
    else if (command === 'new') void openExample(EXAMPLES[0].name);
    else if (command === 'save') void saveFile();
    else if (command === 'saveAs') void saveFile(true);
    else if (command === 'undo') undoStep();
    else if (command === 'redo') redoStep();
  });
  bench.subscribe((state, before) => {
    if (state.history.present === before.history.present && state.history.mark === before.history.mark) return;
    window.clearTimeout(draftTimer);
    if (isUnsaved(state) && !state.history.mark) draftTimer = window.setTimeout(() => void keepDraft(), DRAFT_AFTER_MS);
  });
  if (bench.getState().history.present.points.length === 0) await openExample(EXAMPLES[0].name);
}
