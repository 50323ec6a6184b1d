import { useState } from 'react';
import { fetchedBytes } from '../host/fetched';

/** Which edition this is, and the notices of what it is made with. */
export function About(): React.JSX.Element {
  const [notices, setNotices] = useState<string | null>(null);
  const read = (): void =>
    void fetchedBytes(fetch, './notices.txt', 'the notices').then(
      (bytes) => setNotices(new TextDecoder().decode(bytes)),
      (error: unknown) => setNotices(error instanceof Error ? error.message : String(error)),
    );
  return (
    <section aria-label="About">
      <h2 className="menu-head">About</h2>
      <p>Lidwright {EDITION}. MIT licence. It asks nothing of any network.</p>
      <details onToggle={(e) => e.currentTarget.open && notices === null && read()}>
        <summary>Notices of what it is made with</summary>
        <pre tabIndex={0}>{notices ?? ''}</pre>
      </details>
    </section>
  );
}
