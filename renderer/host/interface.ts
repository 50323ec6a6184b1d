// What the page asks of whatever it runs in. The preload, the browser host and the page all use this one interface.

/** A job's file as it was read. */
export interface OpenedJob {
  /** Stands for the place the job came from; null: nowhere saved yet (an example, a dropped file). */
  token: string | null;
  name: string;
  bytes: Uint8Array<ArrayBuffer>;
  /** SHA-256 of the bytes, hex. */
  digest: string;
}

/** Where something went. */
export interface Saved {
  token: string | null;
  name: string;
  how: 'written' | 'downloaded';
  /** SHA-256 of a job as written, hex; null for an export. */
  digest: string | null;
}

/** A job opened or saved lately. */
export interface RecentJob {
  token: string;
  name: string;
  /** Where it lies, in words for a person. */
  where: string;
  whenMs: number;
}

/** Unsaved work as it stood at one moment, kept aside in case the program is killed. */
export interface Draft {
  /** The page's own name for the job at work: letters, digits and hyphens, at most 64. */
  id: string;
  name: string;
  /** The job, its pictures beside it under the names in `pictures`; older ones hold them inside. */
  text: string;
  /** Names that say what is in them: SHA-256 and ending. Each is kept once, however many states have it. */
  pictures: string[];
  /** What else lay in the job's ZIP: by its name there the one it is kept under, among `pictures`. */
  others?: Record<string, string>;
  whenMs: number;
  /** The place the job was saved last; null: none. */
  token: string | null;
  /** SHA-256 of the file in that place, as this work knew it; null: not known. */
  digest: string | null;
}

/** States kept of one job at work; the oldest goes first. */
export const KEPT_STATES = 5;

/** What the window's own menu can ask of the page. */
export type HostCommand = 'new' | 'open' | 'save' | 'saveAs' | 'undo' | 'redo';

/**
 * The host. Every promise rejects with a LidwrightError (what, where, advice) when something goes wrong; null means that
 * the person called it off.
 */
export interface Host {
  readonly kind: 'desktop' | 'browser';
  /** False: saving downloads a copy, and the page says so. */
  readonly canWriteInPlace: boolean;
  openJob(): Promise<OpenedJob | null>;
  recent(): Promise<RecentJob[]>;
  openRecent(token: string): Promise<OpenedJob | null>;
  /** Token null: as saveJobAs. Rejects where the file is no longer what `over` is the digest of; null: not looked at. */
  saveJob(
    token: string | null,
    name: string,
    bytes: Uint8Array<ArrayBuffer>,
    over: string | null,
  ): Promise<Saved | null>;
  saveJobAs(name: string, bytes: Uint8Array<ArrayBuffer>): Promise<Saved | null>;
  /** SHA-256 of what lies in a job's place now; null: nothing. Rejects when it can't be read. */
  presentDigest(token: string): Promise<string | null>;
  exportFile(name: string, bytes: Uint8Array, mime: string): Promise<Saved | null>;
  /** Something shipped with the program: a relative name inside the assets folder, such as "examples/hatch.lidjob". */
  readAsset(name: string): Promise<Uint8Array<ArrayBuffer>>;
  /** A picture that lies beside the opened job; null when this host can't reach it or it is not there. */
  readBeside(token: string, name: string): Promise<Uint8Array<ArrayBuffer> | null>;
  /** Keeps one more state; `pictureOf` is asked for the pictures that are not kept yet. */
  putDraft(draft: Draft, pictureOf: (name: string) => Uint8Array<ArrayBuffer>): Promise<void>;
  /** Every kept state of drafts that no running page is working on, the newest first. */
  listDrafts(): Promise<Draft[]>;
  /** A picture of a listed draft; null when it is not there. */
  draftPicture(name: string): Promise<Uint8Array<ArrayBuffer> | null>;
  dropDraft(id: string): Promise<void>;
  /** The host asks `isUnsaved` before it closes, and the person if need be. */
  onAskClose(isUnsaved: () => boolean): void;
  /** A job that was asked for from outside: named when the program was started, or started again. */
  onOpenAsked(take: (job: OpenedJob) => void): void;
  /** The window's own menu; a browser has none. */
  onCommand(run: (command: HostCommand) => void): void;
}
