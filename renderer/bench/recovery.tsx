import { useEffect, useState } from 'react';
import type { Draft, Host } from '../host/host';
import { bringBack } from '../state/files';
import { notify } from '../state/store';

/** Work that was not saved when the program last ended: brought back or dropped, never without a word. */
export function Recovery({ host }: { host: Host }): React.JSX.Element | null {
  const [drafts, setDrafts] = useState<Draft[]>([]);
  useEffect(() => {
    host.listDrafts().then(
      (found) => setDrafts(found),
      () => notify('Drafts of unsaved work can’t be read here.', 'bad'),
    );
  }, [host]);
  const draft = drafts[0];
  if (!draft) return null;
  const gone = (): void => setDrafts((all) => all.filter((d) => d.id !== draft.id));
  const when = new Date(draft.whenMs).toLocaleString(undefined, { dateStyle: 'medium', timeStyle: 'short' });
  return (
    <div className="recovery" role="status">
      <span>
        Work on “{draft.name}” of {when} was not saved{drafts.length > 1 ? ` (and ${drafts.length - 1} more)` : ''}.
      </span>
      <button type="button" className="strong" onClick={() => void bringBack(draft).then(gone)}>
        Bring it back
      </button>
      <button type="button" onClick={gone} title="It stays kept and is offered again next time">
        Later
      </button>
      <button type="button" onClick={() => void host.dropDraft(draft.id).then(gone)}>
        Throw it away
      </button>
    </div>
  );
}
