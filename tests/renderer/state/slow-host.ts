// A host whose disk and drafts are maps, and whose every answer can be held back or made to fail.
import { createHash } from 'node:crypto';
import type { Draft, Host, OpenedJob } from '../../../renderer/host/host';
import { checkUnchanged } from '../../../renderer/host/unchanged';
import { fileText } from '../../support/files';

export const utf8 = (text: string): Uint8Array<ArrayBuffer> => new TextEncoder().encode(text);
export const sum = (bytes: Uint8Array): string => createHash('sha256').update(bytes).digest('hex');

export interface SlowHost extends Host {
  /** What lies at each place; a token is its place's name. */
  readonly disk: Map<string, Uint8Array<ArrayBuffer>>;
  readonly drafts: Map<string, Draft>;
  readonly pictures: Map<string, Uint8Array<ArrayBuffer>>;
  /** Where the person saves next; null calls off. */
  where: string | null;
  /** What the person picks next. */
  picks: string;
  /** Before each write or draft: hold it back by a promise, or throw. */
  gate: (what: 'write' | 'draft', name: string) => Promise<void>;
  isUnsaved: () => boolean;
  puts: number;
}

export function slowHost(): SlowHost {
  const disk = new Map<string, Uint8Array<ArrayBuffer>>();
  const drafts = new Map<string, Draft>();
  const pictures = new Map<string, Uint8Array<ArrayBuffer>>();
  const read = (token: string): OpenedJob => {
    const bytes = disk.get(token)!;
    return { token, name: token, bytes, digest: sum(bytes) };
  };
  const write: Host['saveJobAs'] = async (name, bytes) => {
    await host.gate('write', name);
    disk.set(name, bytes);
    return { token: name, name, how: 'written', digest: sum(bytes) };
  };
  const presentDigest = async (token: string): Promise<string | null> =>
    disk.has(token) ? sum(disk.get(token)!) : null;
  const host: SlowHost = {
    ...{ kind: 'desktop', canWriteInPlace: true },
    ...{ disk, drafts, pictures, where: null, picks: '', puts: 0 },
    gate: async () => undefined,
    isUnsaved: () => false,
    openJob: async () => read(host.picks),
    recent: async () => [],
    openRecent: async (token) => read(token),
    async saveJob(token, _name, bytes, over) {
      if (token === null) return host.saveJobAs(_name, bytes);
      await checkUnchanged(token, over, () => presentDigest(token));
      return write(token, bytes);
    },
    saveJobAs: async (_name, bytes) => (host.where === null ? null : write(host.where, bytes)),
    presentDigest,
    exportFile: async () => null,
    readAsset: async (name) => utf8(fileText(`assets/${name}`)),
    readBeside: async () => null,
    async putDraft(draft, pictureOf) {
      host.puts++;
      await host.gate('draft', draft.name);
      for (const name of draft.pictures) if (!pictures.has(name)) pictures.set(name, pictureOf(name));
      drafts.set(draft.id, draft);
    },
    listDrafts: async () => [...drafts.values()],
    draftPicture: async (name) => pictures.get(name) ?? null,
    dropDraft: async (id) => void drafts.delete(id),
    onAskClose: (ask) => (host.isUnsaved = ask),
    onOpenAsked: () => undefined,
    onCommand: () => undefined,
  };
  return host;
}

/** A promise settled from outside. */
export function held(): { readonly promise: Promise<void>; open(): void; fail(error: Error): void } {
  let open = (): void => undefined;
  let fail: (error: Error) => void = () => undefined;
  const promise = new Promise<void>((resolve, reject) => {
    open = resolve;
    fail = reject;
  });
  return { promise, open: () => open(), fail: (error) => fail(error) };
}
