import { useId } from 'react';
import { attempt, wordsOf } from '../../../core/error';
import { ReadAs, useEntry } from '../../ui/entry';

/** Sets the keyboard on a cell of a table, "row:column"; says whether there is one. */
export function goToCell(from: Element, cell: string): boolean {
  const next = from.closest('table')?.querySelector<HTMLInputElement>(`[data-cell="${cell}"]`);
  next?.focus();
  next?.select();
  return next !== null && next !== undefined;
}

/** Steps through a table by keyboard: Enter and ↓ to the row below, ↑ to the one above; the last row is called "new". */
export function stepRow(from: HTMLElement, rows: number, by: 1 | -1): void {
  const [row, column] = from.dataset['cell']!.split(':') as [string, string];
  const next = (row === 'new' ? rows : Number(row)) + by;
  if (next >= 0) goToCell(from, `${next >= rows ? 'new' : next}:${column}`);
}

interface Props {
  readonly label: string;
  readonly cell: string;
  readonly name: string;
  readonly shown: string;
  readonly rows: number;
  /** Takes what was typed; a LidwrightError is said to the person. */
  readonly take: (text: string) => void;
  readonly say: (wrong: string) => void;
  /** What a text is read as, with its unit. */
  readonly words: (text: string) => string;
}

/** A number of a reading that is there already: taken on Enter or on leaving it, left as it was on Esc. */
export function EntryCell({ label, cell, name, shown, rows, take, say, words }: Props): React.JSX.Element {
  const id = useId();
  const entry = useEntry({
    label,
    shown,
    value: shown,
    at: name,
    take: (text) => {
      const { error } = attempt(() => take(text));
      say(error ? wordsOf(error) : '');
      if (error) throw error;
    },
  });
  const commit = (): boolean => {
    const done = entry.commit();
    if (done) say('');
    return done;
  };
  return (
    <span className="entry-cell">
      <input
        {...entry.field}
        aria-label={label}
        aria-describedby={`${id}-read`}
        data-cell={cell}
        name={name}
        onFocus={(e) => e.target.select()}
        onBlur={commit}
        onKeyDown={(e) => {
          if (e.key === 'Enter' || e.key === 'ArrowDown' || e.key === 'ArrowUp') {
            e.preventDefault();
            if (commit()) stepRow(e.currentTarget, rows, e.key === 'ArrowUp' ? -1 : 1);
          } else {
            if (e.key === 'Escape') say('');
            entry.field.onKeyDown!(e);
          }
        }}
      />
      <ReadAs id={`${id}-read`} text={entry.text} words={words} />
    </span>
  );
}
