// The desktop host across the bridge. Errors lose their fields there, so every answer travels as an outcome and becomes
// a value or a LidwrightError again on the page's side.
import { LidwrightError, type Issue } from '../../core/error';
import type { Draft, Host } from './interface';

export type Outcome<T> = { ok: true; value: T } | { ok: false; issue: Issue };

type Carried<Member> = Member extends (...args: infer Args) => Promise<infer Value>
  ? (...args: Args) => Promise<Outcome<Value>>
  : Member;

/** Host, with each promise carrying an outcome; pictures of a draft are asked for first and sent with it, as a function can't be. */
export type Bridge = { readonly [Name in keyof Omit<Host, 'putDraft'>]: Carried<Host[Name]> } & {
  missingPictures(names: readonly string[]): Promise<Outcome<string[]>>;
  putDraft(draft: Draft, pictures: readonly (readonly [name: string, bytes: Uint8Array])[]): Promise<Outcome<void>>;
};

async function opened<T>(outcome: Promise<Outcome<T>>): Promise<T> {
  const result = await outcome;
  if (result.ok) return result.value;
  throw new LidwrightError(result.issue);
}

/** The Host that the page uses, made from what the preload left. */
export function hostFromBridge(bridge: Bridge): Host {
  return {
    kind: bridge.kind,
    canWriteInPlace: bridge.canWriteInPlace,
    openJob: () => opened(bridge.openJob()),
    recent: () => opened(bridge.recent()),
    openRecent: (token) => opened(bridge.openRecent(token)),
    saveJob: (token, name, bytes, over) => opened(bridge.saveJob(token, name, bytes, over)),
    saveJobAs: (name, bytes) => opened(bridge.saveJobAs(name, bytes)),
    presentDigest: (token) => opened(bridge.presentDigest(token)),
    exportFile: (name, bytes, mime) => opened(bridge.exportFile(name, bytes, mime)),
    readAsset: (name) => opened(bridge.readAsset(name)),
    readBeside: (token, name) => opened(bridge.readBeside(token, name)),
    putDraft: async (draft, pictureOf) => {
      const missing = await opened(bridge.missingPictures(draft.pictures));
      await opened(
        bridge.putDraft(
          draft,
          missing.map((name) => [name, pictureOf(name)]),
        ),
      );
    },
    listDrafts: () => opened(bridge.listDrafts()),
    draftPicture: (name) => opened(bridge.draftPicture(name)),
    dropDraft: (id) => opened(bridge.dropDraft(id)),
    onAskClose: (isUnsaved) => bridge.onAskClose(isUnsaved),
    onOpenAsked: (take) => bridge.onOpenAsked(take),
    onCommand: (run) => bridge.onCommand(run),
  };
}
