// The guide over the right of the bench: it is read while one works, so nothing behind it is locked.
import { useEffect, useRef, useState } from 'react';
import type { GuidePage } from '../../scripts/lib/guide';
import { closeGuide, showGuide } from '../state/session';
import { useBench } from '../state/use-bench';
import './guide.css';

const files = import.meta.glob<GuidePage>(['../../docs/*.md', '../../DEVELOPERS.md'], {
  eager: true,
  import: 'default',
});
const PAGES = new Map(
  Object.entries(files).map(([file, page]) => [/([\w-]+)\.md$/.exec(file)![1]!.toLowerCase(), page]),
);

/** Pages in the order of reading. */
const GROUPS = [
  [
    'The job',
    [
      ...['start', 'safety', 'photograph', 'measure', 'weigh', 'place', 'strut', 'label'],
      ...['joints', 'bracket', 'papers', 'prove'],
    ],
  ],
  ['To look up', ['findings', 'engineers', 'file-format']],
  ['For contributors', ['developers', 'glossary']],
] as const;
const ORDER: readonly string[] = GROUPS.flatMap(([, names]) => names);

/** What a link to a place of the guide begins with. */
const LINK = '?guide=';

const splitPlace = (at: string): [name: string, anchor: string] => {
  const [name = '', anchor = ''] = at.split('/');
  return PAGES.has(name) ? [name, anchor] : ['start', ''];
};

/** The guide, open at a place. */
export function Guide({ at }: { at: { readonly at: string } }): React.JSX.Element {
  const [name, anchor] = splitPlace(at.at);
  const page = PAGES.get(name)!;
  const next = ORDER[ORDER.indexOf(name) + 1];
  const theme = useBench((s) => s.theme);
  const [past, setPast] = useState<readonly string[]>([]);
  const body = useRef<HTMLElement>(null);
  const opener = useRef(document.activeElement);
  useEffect(() => () => (opener.current as HTMLElement | null)?.focus(), []);
  useEffect(() => {
    const heading = body.current!.querySelector<HTMLElement>(anchor ? `[id="guide-${anchor}"]` : 'h1');
    heading?.focus({ preventScroll: true });
    if (anchor && heading) heading.scrollIntoView();
    else body.current!.scrollTop = 0;
  }, [at, anchor]);
  const go = (to: string): void => {
    setPast([...past, at.at]);
    showGuide(to);
  };
  return (
    <aside
      className="guide"
      aria-label="Guide"
      data-theme={theme}
      onKeyDown={(e) => {
        if (e.ctrlKey || e.metaKey) return;
        // typing a letter here is no command to the bench behind
        e.stopPropagation();
        if (e.key === 'Escape') closeGuide();
      }}
    >
      <div className="guide-head">
        <select aria-label="Page of the guide" value={name} onChange={(e) => go(e.target.value)}>
          {GROUPS.map(([words, names]) => (
            <optgroup key={words} label={words}>
              {names.map((each) => (
                <option key={each} value={each}>
                  {PAGES.get(each)!.title}
                </option>
              ))}
            </optgroup>
          ))}
        </select>
        <button
          type="button"
          disabled={past.length === 0}
          onClick={() => {
            showGuide(past.at(-1)!);
            setPast(past.slice(0, -1));
          }}
        >
          Back
        </button>
        <button type="button" onClick={closeGuide}>
          Close
        </button>
      </div>
      <article
        className="guide-body"
        ref={body}
        onClick={(e) => {
          const link = (e.target as HTMLElement).closest('a');
          if (!link) return;
          e.preventDefault();
          go(link.getAttribute('href')!.slice(LINK.length));
        }}
      >
        {page.parts.length > 4 && (
          <details className="guide-parts" key={name}>
            <summary>On this page</summary>
            <ul>
              {page.parts.map((part) => (
                <li key={part.anchor}>
                  <a href={`${LINK}${name}/${part.anchor}`}>{part.title}</a>
                </li>
              ))}
            </ul>
          </details>
        )}
        {/* made from our own files while the page was built */}
        <div dangerouslySetInnerHTML={{ __html: page.html }} />
        {next && (
          <p>
            <a href={`${LINK}${next}`}>Next: {PAGES.get(next)!.title}</a>
          </p>
        )}
      </article>
    </aside>
  );
}
