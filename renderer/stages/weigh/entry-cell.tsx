import { useEffect, useState } from 'react';
import { attempt, wordsOf } from '../../../core/error';

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
}

/** A number of a reading that is there already: taken on Enter or on leaving it, left as it was on Esc. */
export function EntryCell({ label, cell, name, shown, rows, take, say }: Props): React.JSX.Element {
  const [text, setText] = useState<string | null>(null);
  const [wrong, setWrong] = useState(false);
  useEffect(() => {
    setText(null);
    setWrong(false);
  }, [shown]);
  const commit = (): boolean => {
    if (text === null || text.trim() === shown) {
      setText(null);
      setWrong(false);
      say('');
      return true;
    }
    const { error } = attempt(() => take(text));
    if (!error) setText(null);
    setWrong(error !== null);
    say(error ? wordsOf(error) : '');
    return !error;
  };
  return (
    <input
      aria-label={label}
      aria-invalid={wrong}
      data-cell={cell}
      name={name}
      value={text ?? shown}
      autoComplete="off"
      spellCheck={false}
      onChange={(e) => setText(e.target.value)}
      onFocus={(e) => e.target.select()}
      onBlur={commit}
      onKeyDown={(e) => {
        if (e.key === 'Enter' || e.key === 'ArrowDown') {
          e.preventDefault();
          if (commit()) stepRow(e.currentTarget, rows, 1);
        } else if (e.key === 'ArrowUp') {
          e.preventDefault();
          if (commit()) stepRow(e.currentTarget, rows, -1);
        } else if (e.key === 'Escape') {
          setText(null);
          setWrong(false);
          say('');
          e.stopPropagation();
        }
      }}
    />
  );
}
