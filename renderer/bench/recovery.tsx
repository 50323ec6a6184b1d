import { useEffect, useState } from 'react';
import type { Draft, Host } from '../host/host';
import { bringBack, openRecentFile, standingOf } from '../state/files';
import { notify } from '../state/store';

const whenWords = (whenMs: number): string =>
  new Date(whenMs).toLocaleString(undefined, { dateStyle: 'medium', timeStyle: 'medium' });

/** Work that was not saved when the program last ended: brought back or dropped, never without a word. */
export function Recovery({ host }: { host: Host }): React.JSX.Element | null {
  const [drafts, setDrafts] = useState<Draft[]>([]);
  const [whenMs, setWhenMs] = useState<number | null>(null);
  /** Why the draft can't simply take its file's place. */
  const [doubt, setDoubt] = useState<string | null>(null);
  useEffect(() => {
    host.listDrafts().then(
      (found) => setDrafts(found),
      () => notify('Drafts of unsaved work can’t be read here.', 'bad'),
    );
  }, [host]);
  const newest = drafts[0];
  if (!newest) return null;
  const states = drafts.filter((d) => d.id === newest.id);
  const draft = states.find((d) => d.whenMs === whenMs) ?? newest;
  const more = new Set(drafts.map((d) => d.id)).size - 1;
  const gone = (): void => {
    setDrafts((all) => all.filter((d) => d.id !== newest.id));
    setWhenMs(null);
    setDoubt(null);
  };
  const bring = async (copy: boolean): Promise<void> => {
    if (await bringBack(draft, copy)) gone();
  };
  const look = async (): Promise<void> => {
    const standing = await standingOf(draft);
    if (standing === 'same') return bring(false);
    setDoubt(
      standing === 'newer'
        ? `The file “${draft.name}” is newer than this work: it was changed after it.`
        : `Whether the file “${draft.name}” is newer than this work can’t be told.`,
    );
  };
  const drop = async (): Promise<void> => {
    try {
      await host.dropDraft(draft.id);
      gone();
    } catch (error) {
      notify(error instanceof Error ? error.message : String(error), 'bad');
    }
  };
  return (
    <div className="recovery" role="status">
      <span>
        {doubt ?? `Work on “${draft.name}” was not saved${more > 0 ? ` (and ${more} more)` : ''}. As it was:`}{' '}
        {doubt === null && states.length === 1 && whenWords(draft.whenMs)}
        {doubt === null && states.length > 1 && (
          <select
            aria-label="State of the work"
            value={draft.whenMs}
            onChange={(e) => setWhenMs(Number(e.target.value))}
          >
            {states.map((d) => (
              <option key={d.whenMs} value={d.whenMs}>
                {whenWords(d.whenMs)}
              </option>
            ))}
          </select>
        )}
      </span>
      {doubt === null ? (
        <button type="button" className="strong" onClick={() => void look()}>
          Bring it back
        </button>
      ) : (
        <>
          <button type="button" className="strong" onClick={() => void bring(true)} title="The file stays as it is">
            Bring the work back as a copy
          </button>
          <button
            type="button"
            onClick={() => void openRecentFile(draft.token!)}
            title="The work stays kept and is still offered here"
          >
            Open the file
          </button>
        </>
      )}
      <button type="button" onClick={gone} title="It stays kept and is offered again next time">
        Later
      </button>
      <button type="button" onClick={() => void drop()}>
        Remove it
      </button>
    </div>
  );
}
