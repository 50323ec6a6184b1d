// The browser's own ways to a file: the File System Access API where it is there, else an input and a download.
import { LidwrightError } from '../../core/error';

/** What we use of the File System Access API; TypeScript's own library does not know the pickers yet. */
export interface FileHandle {
  readonly kind: 'file';
  readonly name: string;
  getFile(): Promise<File>;
  isSameEntry?(other: FileHandle): Promise<boolean>;
  createWritable(): Promise<{
    write(data: Blob): Promise<void>;
    close(): Promise<void>;
    abort(): Promise<void>;
  }>;
  queryPermission?(how: { mode: 'read' | 'readwrite' }): Promise<PermissionState>;
  requestPermission?(how: { mode: 'read' | 'readwrite' }): Promise<PermissionState>;
}

interface PickerOptions {
  id?: string;
  suggestedName?: string;
  types?: { description: string; accept: Record<string, string[]> }[];
}

export type PickerWindow = Window & {
  showOpenFilePicker?(options?: PickerOptions): Promise<FileHandle[]>;
  showSaveFilePicker?(options?: PickerOptions): Promise<FileHandle>;
};

const JOB_TYPES = [{ description: 'Lidwright job', accept: { 'application/octet-stream': ['.lidjob'] } }];

const calledOff = (cause: unknown): boolean => cause instanceof Error && cause.name === 'AbortError';

function refused(what: string, advice: string, cause: unknown): LidwrightError {
  const error = new LidwrightError({ what, where: [], advice });
  error.cause = cause;
  return error;
}

const words = (cause: unknown): string => (cause instanceof Error ? cause.message : String(cause));

/** Asks for a job file to read; null when called off. */
export async function pickToRead(win: PickerWindow): Promise<FileHandle | null> {
  try {
    const [handle] = (await win.showOpenFilePicker?.({ id: 'lidwright-job', types: JOB_TYPES })) ?? [];
    return handle ?? null;
  } catch (cause) {
    if (calledOff(cause)) return null;
    throw refused(
      `The browser did not show its file list (${words(cause)}).`,
      'Drop the file onto the page instead.',
      cause,
    );
  }
}

/** Asks where to save a job; null when called off. */
export async function pickToWrite(win: PickerWindow, suggestedName: string): Promise<FileHandle | null> {
  try {
    return (await win.showSaveFilePicker?.({ id: 'lidwright-job', types: JOB_TYPES, suggestedName })) ?? null;
  } catch (cause) {
    if (calledOff(cause)) return null;
    throw refused(`The browser did not ask where to save (${words(cause)}).`, 'Try again with the Save button.', cause);
  }
}

/** Asks the person's leave for a file known from an earlier visit; throws a LidwrightError when it is not given. */
export async function askLeave(handle: FileHandle, mode: 'read' | 'readwrite'): Promise<void> {
  let state = (await handle.queryPermission?.({ mode })) ?? 'granted';
  if (state !== 'granted') {
    try {
      state = (await handle.requestPermission?.({ mode })) ?? 'granted';
    } catch (cause) {
      throw refused(`The browser gave no leave for "${handle.name}" (${words(cause)}).`, 'Open the file again.', cause);
    }
  }
  if (state !== 'granted')
    throw refused(
      `The browser has no leave to ${mode === 'read' ? 'read' : 'write'} "${handle.name}".`,
      'Allow it when the browser asks, or use "Save as".',
      null,
    );
}

/** The file behind a handle; throws a LidwrightError when it has gone. */
export async function fileOf(handle: FileHandle): Promise<File> {
  try {
    return await handle.getFile();
  } catch (cause) {
    throw refused(
      `"${handle.name}" can't be read (${words(cause)}).`,
      'It may have been moved, renamed or deleted: open it again from where it lies now.',
      cause,
    );
  }
}

/**
 * Writes the whole file or none of it: by the File System standard a writable goes to a copy that takes the file's place
 * at close(). `look` is the last thing before that; what it throws leaves the file as it was.
 */
export async function writeWhole(handle: FileHandle, content: Blob, look?: () => Promise<void>): Promise<void> {
  let stream: Awaited<ReturnType<FileHandle['createWritable']>> | null = null;
  try {
    stream = await handle.createWritable();
    await stream.write(content);
    await look?.();
    await stream.close();
  } catch (cause) {
    await stream?.abort().catch(() => undefined); // closing may have failed half way; the old file stays either way
    if (cause instanceof LidwrightError) throw cause;
    throw refused(
      `"${handle.name}" was not saved (${words(cause)}); the file is as it was.`,
      'Use "Save as" with another name or place.',
      cause,
    );
  }
}

/** Asks for a file with a plain input; null when called off. */
export function pickWithInput(win: Window): Promise<File | null> {
  return new Promise((resolve) => {
    const input = win.document.createElement('input');
    input.type = 'file';
    input.accept = '.lidjob,.json';
    input.addEventListener('change', () => resolve(input.files?.[0] ?? null), { once: true });
    input.addEventListener('cancel', () => resolve(null), { once: true });
    input.click();
  });
}

const KEEP_URL_MS = 60_000;

/** Hands a copy to the browser's downloads. */
export function download(win: Window, name: string, content: Blob): void {
  const url = URL.createObjectURL(content);
  const link = win.document.createElement('a');
  link.href = url;
  link.download = name;
  link.rel = 'noopener';
  win.document.body.append(link);
  link.click();
  link.remove();
  win.setTimeout(() => URL.revokeObjectURL(url), KEEP_URL_MS); // some browsers read it only after the click
}
