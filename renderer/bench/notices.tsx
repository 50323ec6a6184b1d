import { useEffect } from 'react';
import type { Notice } from '../state/notices';
import { dismissNotice } from '../state/store';
import { useBench } from '../state/use-bench';

/** A good word goes by itself after so long, ms. */
const WORD_MS = 7000;
/** Most bad ones shown at once; the others come as these are put away. */
const MOST_SHOWN = 3;

function One({ notice }: { notice: Notice }): React.JSX.Element {
  const { key, tone, text, times } = notice;
  useEffect(() => {
    if (tone === 'bad') return;
    const timer = window.setTimeout(() => dismissNotice(key), WORD_MS);
    return () => window.clearTimeout(timer);
  }, [key, tone]);
  return (
    <div className={`notice ${tone}`} role={tone === 'bad' ? 'alert' : 'status'}>
      <span>
        {tone === 'bad' ? `Not done: ${text}` : text}
        {times > 1 && ` (${times} times)`}
      </span>
      <button type="button" onClick={() => dismissNotice(key)} aria-label="Put this message away">
        Close
      </button>
    </div>
  );
}

/** What was said and not put away yet: bad ones stay, beside the newest good one. */
export function Notices(): React.JSX.Element {
  const notices = useBench((s) => s.notices);
  const bad = notices.filter((n) => n.tone === 'bad');
  const hidden = bad.slice(0, -MOST_SHOWN);
  return (
    <div className="notices">
      {hidden.length > 0 && (
        <span className="notices-more">
          {hidden.length} more {hidden.length > 1 ? 'messages' : 'message'} before these
        </span>
      )}
      {notices
        .filter((n) => !hidden.includes(n))
        .map((notice) => (
          <One key={notice.key} notice={notice} />
        ))}
    </div>
  );
}
