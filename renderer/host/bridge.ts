// The desktop host across the bridge. Errors lose their fields there, so every answer travels as an outcome and becomes
// a value or a LidwrightError again on the page's side.
import { LidwrightError, type Issue } from '../../core/error';
import type { Host } from './interface';

export type Outcome<T> = { ok: true; value: T } | { ok: false; issue: Issue };

type Carried<Member> = Member extends (...args: infer Args) => Promise<infer Value>
  ? (...args: Args) => Promise<Outcome<Value>>
  : Member;

/** Host, with each promise carrying an outcome. */
export type Bridge = { readonly [Name in keyof Host]: Carried<Host[Name]> };

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
    saveJob: (token, name, text) => opened(bridge.saveJob(token, name, text)),
    saveJobAs: (name, text) => opened(bridge.saveJobAs(name, text)),
    exportFile: (name, bytes, mime) => opened(bridge.exportFile(name, bytes, mime)),
    readAsset: (name) => opened(bridge.readAsset(name)),
    readBeside: (token, name) => opened(bridge.readBeside(token, name)),
    putDraft: (draft) => opened(bridge.putDraft(draft)),
    listDrafts: () => opened(bridge.listDrafts()),
    dropDraft: (id) => opened(bridge.dropDraft(id)),
    onAskClose: (isUnsaved) => bridge.onAskClose(isUnsaved),
    onOpenAsked: (take) => bridge.onOpenAsked(take),
    onCommand: (run) => bridge.onCommand(run),
  };
}
