import { useEffect, useRef } from 'react';
import { About } from './about';

const KEYS: readonly (readonly [where: string, keys: readonly (readonly [keys: string, what: string])[]])[] = [
  [
    'Everywhere',
    [
      ['Ctrl Z, Ctrl Y', 'undo, redo'],
      ['Ctrl S, Ctrl Shift S', 'save, save as'],
      ['Ctrl O', 'open a job file'],
      ['[ and ]', 'lid down, up by 1°'],
      ['Esc', 'close what is open, lay a tool down, give a drag up'],
      ['?', 'this list'],
    ],
  ],
  [
    'A point in a view',
    [
      ['Tab', 'to the next point'],
      ['arrows', 'move it 1 mm; with Shift 10, with Alt 0.1'],
    ],
  ],
  [
    'A mark on a photo',
    [
      ['Tab', 'to the cross-hair of the view'],
      ['arrows', 'move it 10 pixels; with Shift 50, with Alt 1'],
      ['Enter', 'set the mark there'],
    ],
  ],
  [
    'Travel and chart',
    [
      ['← →', '1°; with Shift 10°, with Alt 0.1°'],
      ['Home, End', 'closed, open'],
    ],
  ],
  [
    'Fields and tables',
    [
      ['Enter', 'take what is typed, go on to the next'],
      ['Esc', 'give back what was there'],
      ['arrows', 'from cell to cell; Enter changes one, Delete removes a reading'],
    ],
  ],
  [
    'Pointer and fingers',
    [
      ['wheel, two fingers', 'zoom and pan'],
      ['drag beside a point', 'pan; all views go along'],
      ['drag a point', 'move it'],
    ],
  ],
];

/** What each key does; opened by its button or by the key itself. */
export function KeysMenu(): React.JSX.Element {
  const menu = useRef<HTMLDetailsElement>(null);
  useEffect(() => {
    const key = (e: KeyboardEvent): void => {
      if (e.key !== '?' || (e.target as HTMLElement).matches('input, textarea, select')) return;
      e.preventDefault();
      menu.current!.open = !menu.current!.open;
    };
    window.addEventListener('keydown', key);
    return () => window.removeEventListener('keydown', key);
  }, []);
  return (
    <details className="menu right" ref={menu}>
      <summary>
        Keys <kbd>?</kbd>
      </summary>
      <div className="menu-list keys-list">
        {KEYS.map(([where, keys]) => (
          <section key={where} aria-label={where}>
            <h2 className="menu-head">{where}</h2>
            <dl>
              {keys.map(([name, what]) => (
                <div key={name}>
                  <dt>{name}</dt>
                  <dd>{what}</dd>
                </div>
              ))}
            </dl>
          </section>
        ))}
        <About />
      </div>
    </details>
  );
}
