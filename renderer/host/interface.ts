// What the page asks of whatever it runs in. The preload, the browser host and the page all use this one interface.

/** A job as it was read; `text` is the file's content. */
export interface OpenedJob {
  /** Stands for the place the job came from; null: nowhere saved yet (an example, a dropped file). */
  token: string | null;
  name: string;
  text: string;
}

/** Where something went. */
export interface Saved {
  token: string | null;
  name: string;
  how: 'written' | 'downloaded';
}

/** A job opened or saved lately. */
export interface RecentJob {
  token: string;
  name: string;
  /** Where it lies, in words for a person. */
  where: string;
  whenMs: number;
}

/** Unsaved work, kept aside in case the program is killed. */
export interface Draft {
  /** The page's own name for the job at work: letters, digits and hyphens, at most 64. */
  id: string;
  name: string;
  text: string;
  whenMs: number;
  /** The place the job was saved last; null: none. */
  token: string | null;
}

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
  /** Token null: as saveJobAs. */
  saveJob(token: string | null, name: string, text: string): Promise<Saved | null>;
  saveJobAs(name: string, text: string): Promise<Saved | null>;
  exportFile(name: string, bytes: Uint8Array, mime: string): Promise<Saved | null>;
  /** Something shipped with the program: a relative name inside the assets folder, such as "examples/hatch.lidjob". */
  readAsset(name: string): Promise<Uint8Array>;
  /** A picture that lies beside the opened job; null when this host can't reach it or it is not there. */
  readBeside(token: string, name: string): Promise<Uint8Array | null>;
  putDraft(draft: Draft): Promise<void>;
  /** Drafts that no running page is working on. */
  listDrafts(): Promise<Draft[]>;
  dropDraft(id: string): Promise<void>;
  /** The host asks `isUnsaved` before it closes, and the person if need be. */
  onAskClose(isUnsaved: () => boolean): void;
  /** A job that was asked for from outside: named when the program was started, or started again. */
  onOpenAsked(take: (job: OpenedJob) => void): void;
  /** The window's own menu; a browser has none. */
  onCommand(run: (command: HostCommand) => void): void;
}

/** The largest job file that is read, in bytes: 64 MiB, photos inside included. */
export const LARGEST_JOB_BYTES = 64 * 1024 * 1024;
